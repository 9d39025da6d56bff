#include "runnel/sizing/design_needs.h"

#include <algorithm>
#include <limits>

#include "runnel/base/index.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/network/validate.h"
#include "runnel/sizing/bounds.h"
#include "runnel/sizing/codes.h"
#include "runnel/sizing/design_tree.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/start_levels.h"

namespace runnel::sizing {
namespace {

using network::Model;
using network::System;
using verdict::Code;
using verdict::Draft;

constexpr Code no_price_rule{
    "no-price",
    "a pipe without a price",
    "A pipe to choose from has no price, and its weight does not follow from its measures.",
    "It could not be compared with the others.",
    "Add it to `prices:`, or take it out of `choose`.",
    ""};

constexpr Code supply_rule{"spring-gives-too-little",
                           "more is asked than comes",
                           "The needs together are more than the spring or the tank above them gets.",
                           "No pipe brings water that is not there.",
                           "Ask for less, or find another spring.",
                           ""};

double outlet_floor_m(const network::Outlet& outlet, double flow_m3s) {
  return outlet.elevation.metres() + steady::opening_s2m5(outlet) * flow_m3s * flow_m3s;
}

}  // namespace

bool fits(const Model& model, std::size_t line, const pipes::Pipe& pipe) {
  const network::Outlet* outlet = model.outlet(model.pipelines[line].to);
  return !outlet || !network::wider_than_pipe(*outlet, pipe);
}

Sizes sizes_that_fit(const Model& model, std::size_t k) {
  Sizes sizes(model.pipelines.size(), 0);
  for (std::size_t l = 0; l < sizes.size(); ++l) {
    const auto& choice = model.pipelines[l].choice;
    if (!choice || choice->among.empty()) continue;
    const std::size_t count = choice->among.size(), wanted = std::min(k, count - 1);
    std::size_t tried = 0;
    while (tried < count && !fits(model, l, choice->among[(wanted + tried) % count])) ++tried;
    sizes[l] = static_cast<int>((wanted + tried) % count);  // none fits: the model has no answer
  }
  return sizes;
}

Checked<std::vector<Variant>> variants_of(const Model& model, steady::AssemblyOptions options) {
  Checked<std::vector<Variant>> out;
  std::vector<Variant> variants;
  std::size_t most = 1;
  for (const auto& line : model.pipelines)
    if (line.choice) most = std::max(most, line.choice->among.size());
  for (std::size_t k = 0; k < most; ++k) {
    auto system = network::resolve(laid(model, sizes_that_fit(model, k)));
    if (!system) {
      out.findings = std::move(system.findings);
      return out;
    }
    auto assembly = steady::assemble(*system.value, options);
    variants.push_back({std::move(*system.value), std::move(assembly)});
  }
  out.value = std::move(variants);
  return out;
}

std::vector<int> outlets_on(const System& system, int joint) {
  std::vector<int> places;
  for (std::size_t o = 0; o < system.outlets().size(); ++o)
    if (system.hangs_on(static_cast<int>(o)) == joint)
      places.push_back(system.outlet_place(static_cast<int>(o)));
  return places;
}

Needs::Needs(const System& system)
    : system_(system), asked_m3s_(at(system.places()), 0.0), pressure_m_(at(system.places()), nothing) {
  for (const auto& ask : system.asks()) {
    const std::size_t place = at(*system.find_place(ask.at));
    if (ask.kind == network::AskKind::flow) asked_m3s_[place] = std::max(asked_m3s_[place], ask.flow.si());
    if (ask.kind == network::AskKind::pressure)
      pressure_m_[place] =
          std::max(pressure_m_[place], ask.pressure.si() / system.site().specific_weight_nm3());
  }
  for (std::size_t j = 0; j < system.joints().size(); ++j) {
    double& flow = asked_m3s_[at(system.joint_place(static_cast<int>(j)))];
    flow = std::max(flow, system.joints()[j].draw.si());
  }
}

double Needs::daily_m3s(int place) const {
  const network::Outlet* outlet = system_.outlet(place);
  const network::Joint* joint = system_.joint(place);
  if (outlet && !outlet->draws.empty()) return network::daily_mean(outlet->draws).si();
  if (joint && !joint->draws.empty()) return network::daily_mean(joint->draws).si();
  return asked_m3s(place);
}

Needs Needs::least_of(const std::vector<Needs>& turns) const {
  Needs least = *this;
  for (std::size_t p = 0; p < asked_m3s_.size(); ++p)
    for (const Needs& turn : turns)
      if (turn.asked_m3s_[p] > 0.0) least.asked_m3s_[p] = std::min(least.asked_m3s_[p], turn.asked_m3s_[p]);
  return least;
}

double Needs::floor_m(int place, double end_m, bool runs) const {
  double floor = end_m + pressure_m_[at(place)];
  if (!runs) return floor;
  if (const network::Tank* tank = system_.tank(place))
    floor = std::max(floor, lowest_level_m(system_.model(), *tank));
  if (const network::Outlet* outlet = system_.outlet(place))
    floor = std::max(floor, outlet_floor_m(*outlet, asked_m3s(place)));
  const network::Joint* joint = system_.joint(place);
  if (!joint) return floor;
  if (joint->draw.si() > 0.0) floor = std::max(floor, joint->elevation.metres());
  for (const int hanging : outlets_on(system_, place)) {
    const network::Outlet& outlet = *system_.outlet(hanging);
    if (asked_m3s(hanging) > 0.0) floor = std::max(floor, outlet_floor_m(outlet, asked_m3s(hanging)));
    floor = std::max(floor, outlet.elevation.metres() + pressure_m_[at(hanging)]);
  }
  return floor;
}

double lowest_level_m(const Model& model, const network::Tank& tank) {
  double level = tank.level.metres();
  for (const network::FloatValve& valve : network::floats_of(model, tank))
    level = std::min({level, valve.opens_at.metres(), valve.shuts_at.metres()});
  return level;
}

double most_velocity_ms(const Model& model, const std::string& line) {
  double most = std::numeric_limits<double>::infinity();
  for (const network::VelocityAsk& ask : model.velocity_asks)
    if (ask.at_most && (ask.in.empty() || ask.in == line)) most = std::min(most, ask.at_most->si());
  return most;
}

Model with_levels_to_judge(Model model) {
  for (network::Tank& tank : model.tanks) {
    const bool asked = std::any_of(model.asks.begin(), model.asks.end(), [&](const network::Ask& ask) {
      return ask.at == tank.name && ask.kind == network::AskKind::flow;
    });
    if (verdict::gives_nothing_yet(model, tank)) tank.level = network::full_level(model, tank);
    if (!asked) continue;
    for (const network::FloatValve& valve : network::floats_of(model, tank))
      tank.level = std::min(tank.level, valve.opens_at);
  }
  return model;
}

LineSizes::LineSizes(const Model& model, const PriceList& prices, const std::vector<Variant>& variants)
    : model_(model),
      prices_(prices),
      variants_(variants),
      standing_(steady::static_heads(variants.front().system, variants.front().assembly)) {}

std::vector<LineSizes::Size> LineSizes::of(int line) {
  const auto& choice = model_.pipelines[at(line)].choice;
  if (!choice) return {{}};
  std::vector<Size> sizes;
  bool priced = false;
  for (std::size_t k = 0; k < choice->among.size(); ++k) {
    const pipes::Pipe& pipe = choice->among[k];
    if (!fits(model_, at(line), pipe)) continue;
    const auto price = prices_.per_metre(pipe);
    if (!price && std::find(unpriced_.begin(), unpriced_.end(), pipe.name) == unpriced_.end())
      unpriced_.push_back(pipe.name);
    if (!price) continue;
    priced = true;
    if (!bursts(line, pipe)) sizes.push_back({static_cast<int>(k), k, *price * length_m(line)});
  }
  if (sizes.empty()) none_left(line, priced);
  return sizes;
}

double LineSizes::length_m(int line) const {
  double length = 0.0;
  for (const auto& point : variants_.front().system.lines()[at(line)].course.points())
    length += point.length_m;
  return length;
}

/// The static pressure does not depend on the sizes, so the first variant will do.
bool LineSizes::bursts(int line, const pipes::Pipe& pipe) const {
  const System& system = variants_.front().system;
  const auto allowed_pa = verdict::allowed_pressure_pa(system, pipe);
  if (!allowed_pa) return false;
  const auto& plan = variants_.front().assembly.plans[at(line)];
  for (std::size_t v = 0; v < plan.vertices.size(); ++v) {
    const auto& head_m = standing_.line_m[at(line)][v];
    if (!head_m) continue;
    const double pressure_pa =
        (*head_m - plan.course.points()[v].elevation_m) * system.site().specific_weight_nm3();
    if (pressure_pa > *allowed_pa * (1.0 + 1e-9)) return true;
  }
  return false;
}

void LineSizes::none_left(int line, bool priced) {
  const std::string& name = model_.pipelines[at(line)].name;
  // The pressure is judged by a rule of another room, and by standing water alone here.
  Draft d = priced ? Draft("static-above-rating", Severity::error) : Draft(no_price_rule, Severity::error);
  d.on_line(name);
  d.message.say("no pipe that ").name(name).say(" may be laid in ");
  if (priced) {
    d.message.say("stands the pressure when everything is shut");
    d.advice.say("add pipes of a higher rating to its `choose`, or put a break-pressure box on the way");
  } else {
    d.message.say("has a price");
    if (prices_.by_weight()) d.message.say(", nor a wall from which its weight would follow");
    d.advice.say("add them to `prices:`: PE100 SDR11 25 mm: 0.90 per m");
  }
  findings_.push_back(d.done());
}

Finding more_asked_than_given(double asked_m3s, double given_m3s, const std::string& box) {
  Draft d(supply_rule, Severity::error);
  d.message.figure(Kind::flow, asked_m3s);
  if (box.empty())
    d.message.say(" is asked in all, and all springs together give ");
  else
    d.at_place(box).message.say(" is asked of ").name(box).say(", which gives ");
  d.message.figure(Kind::flow, given_m3s);
  d.advice.say("ask for ").figure(Kind::flow, asked_m3s - given_m3s).say(" less, or find another spring");
  return d.done();
}

std::vector<Code> design_needs_codes() { return {no_price_rule, supply_rule}; }

}  // namespace runnel::sizing
