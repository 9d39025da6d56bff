#include "runnel/verdict/siphon_rules.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/base/index.h"
#include "runnel/network/change.h"
#include "runnel/network/no_flow.h"
#include "runnel/network/place_state.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/splits.h"
#include "runnel/water/siphon_limit.h"

namespace runnel::verdict {
namespace {

constexpr Code siphon_loses_water_rule{
    "siphon-loses-water",
    "a siphon that does not keep its water",
    "A sealed line runs under suction, and air gets in: by a mouth that is not drowned, by a branch, tap "
    "or air valve where it sucks, or out of the water itself where less than 2.7 m of absolute head is "
    "left.",
    "Once air is in, it runs as an open line: over no point above its source, and with less water. Nobody"
    " sees it in a calculation that takes it as full.",
    "Keep the mouth well under water, take branches off where the line is under pressure, put no air "
    "valve on the high point, and lower a high point that lies too high for the altitude.",
    "2.7 m of absolute head [siphon-practice]; the rest common practice, no source"};

constexpr Code sealed_without_crest_rule{"sealed-without-crest",
                                         "a sealed line that is no siphon",
                                         "The line is written with `air: sealed`, no point of it stands "
                                         "above its mouth, and the spring gives less "
                                         "than it could take. Its mouth then stands open in the box: air "
                                         "goes in with the water, and the line runs "
                                         "part-full.",
                                         "Only over a point above its source does a line have to be sealed.",
                                         "Leave `air: sealed` out.",
                                         "physics: a mouth that is not drowned takes in air"};

using network::System;
using steady::LineState;
using steady::State;

// The solver closes heads to 1e-9 m; a millimetre of suction moves no air.
constexpr double noise_m = 1e-3;

/// The suction at which air comes out of the water there.
double most_suction_m(const System& system) {
  return water::most_suction(system.site().air_pressure_pa, system.site().water.density_kgm3).metres();
}

const steady::LinePoint* deepest_suction(const LineState& run) {
  const steady::LinePoint* deepest = nullptr;
  for (const steady::LinePoint& p : run.points)
    if (p.pressure_head_m && (!deepest || *p.pressure_head_m < *deepest->pressure_head_m)) deepest = &p;
  return deepest && *deepest->pressure_head_m < -neglected_m(run) ? deepest : nullptr;
}

/// Whether the end by which open water enters is drowned; if it runs part-full, air goes in with the water.
bool mouth_drowned(const System& system, const LineState& run, int line) {
  const bool forward = run.flow_m3s >= 0.0;
  const int place = forward ? system.lines()[at(line)].from : system.lines()[at(line)].to;
  if (!network::open_water(system.kind(place))) return true;
  if (run.reaches.empty()) return true;
  const steady::Reach& first = forward ? run.reaches.front() : run.reaches.back();
  return first.state == steady::ReachState::full;
}

/// What stands open at a joint under suction; empty if nothing does.
std::string open_at(const System& system, const State& state, int joint, int but_line) {
  for (std::size_t o = 0; o < system.outlets().size(); ++o)
    if (system.hangs_on(static_cast<int>(o)) == joint && !system.outlets()[o].shut)
      return system.outlets()[o].name;
  for (const int l : system.lines_at(joint)) {
    if (l == but_line) continue;
    const LineState& run = state.lines[at(l)];
    // A shut valve somewhere on the branch keeps the air out.
    if (run.condition == steady::LineCondition::shut) continue;
    const bool full =
        run.condition == steady::LineCondition::full || run.condition == steady::LineCondition::still;
    if (system.lines()[at(l)].air == network::Air::open || !full) return run.name;
  }
  return system.joint(joint)->draw.si() > 0.0 ? system.joint(joint)->name : std::string();
}

std::optional<BrokenSiphon> by_branch(const System& system, const State& state, int line) {
  const network::Line& l = system.lines()[at(line)];
  for (const bool start : {true, false}) {
    const int place = start ? l.from : l.to;
    if (system.kind(place) != network::PlaceKind::joint) continue;
    const steady::PlaceState& seen = network::place_state(system, state, place);
    if (!seen.pressure_head_m || *seen.pressure_head_m > noise_m) continue;
    const std::string by = open_at(system, state, place, line);
    if (by.empty()) continue;
    const double station_m = start ? l.course.first_m() : l.course.last_m();
    return BrokenSiphon{line, PrimeLoss::open_branch, station_m, by};
  }
  return std::nullopt;
}

/// An air valve holds the grade line at its own height: there it lets in what the line sucks.
std::optional<BrokenSiphon> by_air_valve(const System& system, const LineState& run, int line) {
  const network::Line& l = system.lines()[at(line)];
  for (const network::FittedPart& part : l.parts) {
    if (part.kind != network::PartKind::air_valve) continue;
    for (const steady::LinePoint& p : run.points)
      if (std::abs(p.station_m - part.at.metres()) < network::same_station_m && p.pressure_head_m &&
          *p.pressure_head_m < neglected_m(run))
        return BrokenSiphon{line, PrimeLoss::air_valve, p.station_m, part.name};
  }
  return std::nullopt;
}

Sentence why(const System& system, const BrokenSiphon& siphon) {
  Sentence s;
  switch (siphon.why) {
    case PrimeLoss::mouth:
      return s.say("the water stands no higher than the mouth of the pipe, as the line takes all that comes");
    case PrimeLoss::open_branch:
      return s.name(siphon.by).say(" stands open where the line sucks");
    case PrimeLoss::air_valve:
      return s.say("the air valve at ")
          .figure(Kind::length, siphon.station_m)
          .say(" opens where the line sucks");
    case PrimeLoss::low_mouth:
      return s.name(siphon.by)
          .say(" sinks to ")
          .figure(Kind::elevation, siphon.low_m)
          .say(" on a usual day, and the mouth of the pipe comes out of the water");
    case PrimeLoss::low_column:
      s.name(siphon.by).say(" sinks to ").figure(Kind::elevation, siphon.low_m).say(" on a usual day; then ");
      [[fallthrough]];
    case PrimeLoss::column_breaks:
      return s.say("at ")
          .figure(Kind::length, siphon.station_m)
          .say(" the suction is more than the ")
          .figure(Kind::head, most_suction_m(system))
          .say(" at which air comes out of the water at this altitude");
  }
  return s;
}

const char* remedy(PrimeLoss why, bool throttled) {
  switch (why) {
    case PrimeLoss::mouth:
      return "Throttle the line below until the box stands well over the mouth, or lower the mouth.";
    case PrimeLoss::open_branch:
      return "Move the branch or tap to where the line is under pressure.";
    case PrimeLoss::air_valve:
      return "Put a plug in its place: a siphon's high point has no air valve.";
    case PrimeLoss::low_mouth:
      return "Lower the mouth, or let the tank not sink so far.";
    case PrimeLoss::low_column:
      return "Lower the high point, or let the tank not sink so far.";
    case PrimeLoss::column_breaks:
      return throttled
                 ? "Throttle its lower end until the suction is less: it comes from what runs below that "
                   "point, not from its height."
                 : "Lower the high point: no filling makes the water hold so far up.";
  }
  return "";
}

Finding ask_missed(const AskResult& r) {
  Draft d = ask_not_met(r);
  d.message.say(", once the siphon has lost its water.");
  if (r.got) d.against(*r.got, r.asked);
  d.advice.say("See why the siphon does not keep its water.");
  d.source("the model's own needs");
  return d.done();
}

}  // namespace

double neglected_m(const LineState& run) {
  double fastest_ms = 0.0;
  for (const steady::Reach& r : run.reaches) fastest_ms = std::max(fastest_ms, std::abs(r.velocity_ms));
  return noise_m + fastest_ms * fastest_ms / (2.0 * gravity_ms2);
}

std::optional<BrokenSiphon> loses_prime(const System& system, const State& state, int line) {
  const LineState& run = state.lines[at(line)];
  if (system.lines()[at(line)].air != network::Air::sealed || std::abs(run.flow_m3s) <= network::no_flow_m3s)
    return std::nullopt;
  const steady::LinePoint* deepest = deepest_suction(run);
  if (!deepest) return std::nullopt;
  const bool forward = run.flow_m3s >= 0.0;
  if (!mouth_drowned(system, run, line)) {
    const steady::LinePoint& mouth = forward ? run.points.front() : run.points.back();
    return BrokenSiphon{line, PrimeLoss::mouth, mouth.station_m, {}};
  }
  if (auto broken = by_branch(system, state, line)) return broken;
  if (auto broken = by_air_valve(system, run, line)) return broken;
  if (-*deepest->pressure_head_m > most_suction_m(system))
    return BrokenSiphon{line, PrimeLoss::column_breaks, deepest->station_m, {}};
  return std::nullopt;
}

bool throttling_helps(const System& system, const State& state, int line, double station_m) {
  const LineState& run = state.lines[at(line)];
  const steady::LinePoint* here = nullptr;
  std::optional<double> highest_m;
  for (const steady::LinePoint& p : run.points) {
    if (p.grade_m) highest_m = std::max(highest_m.value_or(*p.grade_m), *p.grade_m);
    if (std::abs(p.station_m - station_m) < network::same_station_m) here = &p;
  }
  return here && highest_m && here->elevation_m - *highest_m < most_suction_m(system);
}

bool falls_all_the_way(const System& system, const State& state, int line) {
  const auto broken = loses_prime(system, state, line);
  if (!broken || broken->why != PrimeLoss::mouth) return false;
  const LineState& run = state.lines[at(line)];
  const double mouth_m = (run.flow_m3s >= 0.0 ? run.points.front() : run.points.back()).elevation_m;
  return std::all_of(run.points.begin(), run.points.end(),
                     [&](const steady::LinePoint& p) { return p.elevation_m <= mouth_m + noise_m; });
}

std::optional<System> with_falling_lines_open(const System& system, const State& state,
                                              std::vector<Finding>& remarks) {
  if (state.outcome != steady::Outcome::settled || state.lines.size() != system.lines().size())
    return std::nullopt;
  std::optional<System> opened;
  for (std::size_t l = 0; l < system.lines().size(); ++l) {
    if (!falls_all_the_way(system, state, static_cast<int>(l))) continue;
    opened = network::with_open_line(opened ? *opened : system, static_cast<int>(l));
    Draft d(sealed_without_crest_rule, Severity::note);
    d.on_line(system.lines()[l].name);
    d.message.name(system.lines()[l].name)
        .say(
            " is written as sealed, but nothing on it stands above its mouth, and it takes all that comes to "
            "it: air goes in with the water. It is worked out as an open line, part-full where it is steep.");
    remarks.push_back(d.done());
  }
  return opened;
}

std::optional<AfterSiphons> follow_siphons(const System& system, const State& state) {
  if (state.lines.size() != system.lines().size()) return std::nullopt;
  AfterSiphons after{{}, system, state};
  while (after.state.outcome == steady::Outcome::settled) {
    const std::size_t known = after.broken.size();
    for (std::size_t l = 0; l < system.lines().size(); ++l)
      if (auto broken = loses_prime(after.system, after.state, static_cast<int>(l))) {
        after.system = network::with_open_line(after.system, static_cast<int>(l));
        after.broken.push_back(*broken);
      }
    if (after.broken.size() == known) break;
    after.state = steady::solve(after.system);
  }
  if (after.broken.empty()) return std::nullopt;
  return after;
}

namespace {

/// How low a tank stands on a usual day.
std::optional<double> lowest_m(const filling::TypicalDay& day, const std::string& tank) {
  for (const filling::LowestOfDay& low : day.lowest)
    if (low.tank == tank) return low.level_m;
  return std::nullopt;
}

/// The siphon that a line is, with the water in the tank at its upper end at the lowest of a day.
std::optional<BrokenSiphon> lost_when_low(const System& system, const State& state,
                                          const filling::TypicalDay& day, int line) {
  const network::Line& l = system.lines()[at(line)];
  const LineState& run = state.lines[at(line)];
  const bool forward = run.flow_m3s >= 0.0;
  const int source = forward ? l.from : l.to;
  if (l.air != network::Air::sealed || run.points.empty() || system.kind(source) != network::PlaceKind::tank)
    return std::nullopt;
  const std::string& tank = system.place_name(source);
  const auto low_m = lowest_m(day, tank);
  if (!low_m) return std::nullopt;
  const auto highest =
      std::max_element(run.points.begin(), run.points.end(),
                       [](const auto& a, const auto& b) { return a.elevation_m < b.elevation_m; });
  const steady::LinePoint& mouth = forward ? run.points.front() : run.points.back();
  // What stands under the water needs no siphon, and starts again by itself.
  if (highest->elevation_m <= std::max(*low_m, mouth.elevation_m) + noise_m) return std::nullopt;
  if (*low_m <= mouth.elevation_m)
    return BrokenSiphon{line, PrimeLoss::low_mouth, mouth.station_m, tank, *low_m};
  if (highest->elevation_m - *low_m > most_suction_m(system))
    return BrokenSiphon{line, PrimeLoss::low_column, highest->station_m, tank, *low_m};
  return std::nullopt;
}

}  // namespace

std::optional<AfterSiphons> siphons_lost_when_low(const System& system, const State& state,
                                                  const filling::TypicalDay& day) {
  if (state.lines.size() != system.lines().size()) return std::nullopt;
  AfterSiphons after{{}, system, state};
  for (std::size_t l = 0; l < system.lines().size(); ++l)
    if (auto broken = lost_when_low(system, state, day, static_cast<int>(l))) {
      after.system = network::with_open_line(after.system, static_cast<int>(l));
      after.broken.push_back(*broken);
    }
  if (after.broken.empty()) return std::nullopt;
  after.state = steady::solve(after.system);
  return after;
}

void hold_asks_to_siphons(const AfterSiphons& after, FlowVerdict& verdict) {
  const std::vector<AskResult> then = judge_asks(after.system, after.state);
  also_hang_on(then, "once siphons have lost their water,", verdict.asks);
  for (std::size_t i = 0; i < verdict.asks.size(); ++i) {
    AskResult& now = verdict.asks[i];
    if (!now.judged || !now.met) continue;
    now.got = then[i].got;  // what lasts
    if (then[i].judged && then[i].met) continue;
    now.met = false;
    now.met_only_primed = true;
  }
}

void siphon_findings(const System& system, const State& state, const AfterSiphons& after,
                     const FlowVerdict& verdict, std::vector<Finding>& out) {
  const bool needs_it = std::any_of(verdict.asks.begin(), verdict.asks.end(),
                                    [](const AskResult& r) { return r.met_only_primed; });
  for (const AskResult& r : verdict.asks)
    if (r.met_only_primed) out.push_back(ask_missed(r));
  for (const BrokenSiphon& siphon : after.broken) {
    const std::string& name = system.lines()[at(siphon.line)].name;
    // Where needs are met all the same it is only worth knowing; without needs nobody says that less will do.
    const bool matters = verdict.asks.empty() || needs_it;
    Draft d(siphon_loses_water_rule, matters ? Severity::error : Severity::warning);
    d.on_line(name, siphon.station_m);
    const double primed_m3s = std::abs(state.lines[at(siphon.line)].flow_m3s);
    const double open_m3s = std::abs(after.state.lines[at(siphon.line)].flow_m3s);
    d.against({Kind::flow, open_m3s}, {Kind::flow, primed_m3s});
    d.message.name(name).say(" does not stay a siphon: ").append(why(system, siphon));
    d.message.say(". As a siphon it would carry ").figure(Kind::flow, primed_m3s);
    if (open_m3s > network::no_flow_m3s)
      d.message.say("; with air in it it carries ").figure(Kind::flow, open_m3s).say(".");
    else
      d.message.say("; with air in it it carries nothing.");
    d.advice.say(remedy(siphon.why, throttling_helps(system, state, siphon.line, siphon.station_m)));
    d.source(
        "2.7 m of absolute head at the high point [siphon-practice]; the rest common practice, no source");
    out.push_back(d.done());
  }
}

std::vector<Code> siphon_codes() { return {siphon_loses_water_rule, sealed_without_crest_rule}; }

}  // namespace runnel::verdict
