#include "runnel/review/claim_reasons.h"

#include <algorithm>
#include <cmath>

#include "runnel/filling/fill.h"
#include "runnel/filling/tank_curve.h"
#include "runnel/network/floats.h"
#include "runnel/review/yields.h"
#include "runnel/steady/state.h"
#include "runnel/units/parse.h"
#include "runnel/verdict/filling_needs.h"

namespace runnel::review {

namespace {

using network::Model;
using network::System;

// What counts as endless: no pipe of such a system carries a thousand times its spring.
constexpr double endless = 1000.0;

/// What comes out at an outlet, and what arrives at any other place by its lines.
std::optional<double> flow_at(const System& system, const steady::State& state, const std::string& at) {
  const auto place = system.find_place(at);
  if (!place) return std::nullopt;
  if (system.outlet(*place)) return state.place(at)->flow_m3s;
  double arrives = 0.0;
  for (const int number : system.lines_at(*place)) {
    const auto line = static_cast<std::size_t>(number);
    const double flow = state.lines[line].flow_m3s;
    arrives += std::max(0.0, system.lines()[line].to == *place ? flow : -flow);
  }
  return arrives;
}

std::optional<double> pressure_at(const System& system, const steady::State& state,
                                  const ClaimedFigure& what) {
  const steady::PlaceState* place = state.place(what.at);
  if (!place) return std::nullopt;
  const auto& head = what.kind == ClaimKind::pressure ? place->pressure_head_m : place->static_head_m;
  return head ? std::optional<double>(*head * system.site().specific_weight_nm3()) : std::nullopt;
}

filling::FillOptions until_full() {
  filling::FillOptions options;
  options.duration_s = longest_fill_s;
  options.until_full = true;
  options.keep_steps = false;
  options.every_s = 0.0;
  return options;
}

std::optional<double> full_after_s(const filling::FillHistory& run, const std::string& tank) {
  const filling::StorageHistory* storage = run.storage(tank);
  return storage ? storage->full_after_s : std::nullopt;
}

std::optional<double> filling_time(const System& system, const std::string& tank) {
  return full_after_s(filling::fill(system, until_full()), tank);
}

// --- the ways ---

/// Every line straight from end to end: only the head between its ends counts.
Model without_high_points(Model model) {
  for (network::Pipeline& line : model.pipelines) {
    const network::SurveyPoint first = line.survey.front(), last = line.survey.back();
    const double run = (last.station - first.station).metres();
    for (network::SurveyPoint& p : line.survey)
      if (run > 0.0)
        p.elevation = first.elevation +
                      (last.elevation - first.elevation) * ((p.station - first.station).metres() / run);
  }
  return model;
}

Model with_nominal_bores(Model model) {
  for (network::Pipeline& line : model.pipelines)
    for (network::LaidPipe& laid : line.pipes) {
      const auto nominal = units::parse(laid.pipe.nominal, units::Dimension::length);
      if (!laid.pipe.nominal.empty() && nominal.ok() && nominal.si > 0.0)
        laid.pipe.bore = Length::from_si(nominal.si);
    }
  return model;
}

/// C = 150, as tables of plastic pipe print it for any size and any water [hazen-williams-limits].
Model with_smooth_hazen(Model model) {
  model.friction = losses::FrictionLaw{};
  model.friction.law = losses::Law::hazen_williams;
  for (network::Pipeline& line : model.pipelines)
    for (network::LaidPipe& laid : line.pipes) laid.pipe.hazen_c = 150.0;
  return model;
}

Model with_endless_springs(Model model) {
  for (network::Box& box : model.boxes) box.yield = box.yield * endless, box.bucket_tests.reset();
  return model;
}

std::optional<Model> in_the_wet_season(const System& system) {
  Model model = system.model();
  bool any = false;
  for (network::Box& box : model.boxes)
    if (const auto seasons = seasons_of(system, box)) {
      any = any || seasons->high_m3s > box.yield.si();
      box.yield = Flow::from_si(seasons->high_m3s);
      box.bucket_tests.reset();
    }
  if (!any) return std::nullopt;
  return model;
}

/// Every other tap shut, nothing drawn.
Model drawing_alone(Model model, const std::string& at) {
  for (network::Outlet& outlet : model.outlets) outlet.shut = outlet.shut || outlet.name != at;
  for (network::Joint& joint : model.joints)
    if (joint.name != at) joint.draw = {}, joint.draws.clear();
  for (network::Tank& tank : model.tanks) tank.draws.clear();
  if (model.year) model.year->demands.clear();
  return model;
}

/// The volume still to fill, over the inflow of the first moment.
std::optional<double> held_first_flow(const System& system, const std::string& name) {
  const network::Tank* tank = system.tank(name);
  const steady::State state = steady::solve(system);
  const auto inflow = flow_at(system, state, name);
  if (!tank || !inflow || !(*inflow > 0.0)) return std::nullopt;
  const filling::TankCurve curve(tank->shape);
  const Length top = network::full_level(system.model(), *tank);
  return (curve.volume_m3((top - tank->floor).metres()) -
          curve.volume_m3((tank->level - tank->floor).metres())) /
         *inflow;
}

// The first of several that give one figure is named: what leaves the works as they are stands before what
// changes them.
constexpr ClaimReason all_reasons[] = {
    ClaimReason::good_hour,          ClaimReason::crest_passed_over,  ClaimReason::nominal_for_bore,
    ClaimReason::smooth_hazen,       ClaimReason::air_forgotten,      ClaimReason::first_flow_held,
    ClaimReason::running_for_static, ClaimReason::static_for_running, ClaimReason::endless_spring,
    ClaimReason::wet_season,         ClaimReason::peak_left_out};

bool near(double a, double b, double share) {
  return std::fabs(a - b) <= share * std::max(std::fabs(a), std::fabs(b));
}

}  // namespace

std::string_view reason_words(ClaimReason reason) {
  switch (reason) {
    case ClaimReason::crest_passed_over:
      return "counted the head from end to end, as if no high point lay between";
    case ClaimReason::nominal_for_bore:
      return "took the nominal size of the pipe for its bore";
    case ClaimReason::smooth_hazen:
      return "worked out by Hazen-Williams with C = 150, which promises too much for cold water in small "
             "pipe";
    case ClaimReason::air_forgotten:
      return "left out the air that stays in the line";
    case ClaimReason::first_flow_held:
      return "took the flow of the first moment for the whole time of filling";
    case ClaimReason::running_for_static:
      return "gave the pressure while the water runs for that with everything shut";
    case ClaimReason::static_for_running:
      return "gave the pressure with everything shut for that while the water runs";
    case ClaimReason::endless_spring:
      return "worked out what the pipe could carry, not what the spring gives";
    case ClaimReason::wet_season:
      return "used the yield of the wet season";
    case ClaimReason::peak_left_out:
      return "let this place draw alone";
    case ClaimReason::good_hour:
      return "let the filling begin at midnight, not at the hour from which it takes longest";
  }
  return "";
}

std::optional<double> reckoned(const Model& model, const ClaimedFigure& what) {
  const auto system = network::resolve(model);
  if (!system) return std::nullopt;
  if (what.kind == ClaimKind::full_after) return filling_time(*system.value, what.at);
  const steady::State state = steady::solve(*system.value);
  if (state.outcome != steady::Outcome::settled) return std::nullopt;
  return what.kind == ClaimKind::flow ? flow_at(*system.value, state, what.at)
                                      : pressure_at(*system.value, state, what);
}

std::optional<double> slowest_filling(const Model& model, const std::string& tank) {
  Model begun = model;
  for (network::Tank& one : begun.tanks)
    if (one.name == tank && one.level >= network::full_level(model, one)) one.level = one.floor;
  const auto system = network::resolve(std::move(begun));
  if (!system) return std::nullopt;
  double slowest_s = 0.0;
  for (const auto& run : verdict::fillings_begun_at_any_time(*system.value, until_full(), {})) {
    const auto time_s = full_after_s(run, tank);
    if (!time_s) return std::nullopt;
    slowest_s = std::max(slowest_s, *time_s);
  }
  return slowest_s;
}

std::optional<double> reckoned_so(ClaimReason reason, const System& system, const ClaimedFigure& what) {
  const Model& model = system.model();
  const auto other = [&](ClaimKind from, ClaimKind to) {
    return what.kind == from ? reckoned(model, {to, what.at}) : std::nullopt;
  };
  switch (reason) {
    case ClaimReason::crest_passed_over:
      return reckoned(without_high_points(model), what);
    case ClaimReason::nominal_for_bore:
      return reckoned(with_nominal_bores(model), what);
    case ClaimReason::smooth_hazen:
      return reckoned(with_smooth_hazen(model), what);
    case ClaimReason::air_forgotten:
      return what.kind == ClaimKind::flow || what.kind == ClaimKind::pressure ? reckoned(model, what)
                                                                              : std::nullopt;
    case ClaimReason::first_flow_held:
      return what.kind == ClaimKind::full_after ? held_first_flow(system, what.at) : std::nullopt;
    case ClaimReason::running_for_static:
      return other(ClaimKind::static_pressure, ClaimKind::pressure);
    case ClaimReason::static_for_running:
      return other(ClaimKind::pressure, ClaimKind::static_pressure);
    case ClaimReason::endless_spring:
      return reckoned(with_endless_springs(model), what);
    case ClaimReason::wet_season: {
      const auto wet = in_the_wet_season(system);
      return wet ? reckoned(*wet, what) : std::nullopt;
    }
    case ClaimReason::peak_left_out:
      return reckoned(drawing_alone(model, what.at), what);
    case ClaimReason::good_hour:
      return what.kind == ClaimKind::full_after ? reckoned(model, what) : std::nullopt;
  }
  return std::nullopt;
}

std::optional<FoundReason> find_reason(const System& system, const ClaimedFigure& what, double claimed,
                                       std::optional<double> ours) {
  std::optional<FoundReason> best;
  for (const ClaimReason reason : all_reasons) {
    const auto si = reckoned_so(reason, system, what);
    if (!si || !near(*si, claimed, reason_tolerance) || (ours && near(*si, *ours, reason_tolerance)))
      continue;
    if (!best || std::fabs(*si - claimed) < std::fabs(best->si - claimed)) best = FoundReason{reason, *si};
  }
  return best;
}

}  // namespace runnel::review
