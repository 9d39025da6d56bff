#include "runnel/verdict/air_draws.h"

#include <algorithm>
#include <string>
#include <vector>

#include "runnel/network/corner.h"
#include "runnel/network/draws.h"
#include "runnel/steady/solver.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/rounding.h"

namespace runnel::verdict {
namespace {

using network::System;

/// A place that gets less than is drawn there, and would get it without the air.
struct Short {
  std::string place;
  double gets_m3s, drawn_m3s;
  const char* drawn_when;
};

std::vector<Short> short_by_air(const System& system, const steady::State& state, const AirAnswer& air) {
  std::vector<Short> found;
  const auto look = [&](const std::string& place, double drawn_m3s, const char* drawn_when) {
    if (!(drawn_m3s > 0.0)) return;
    const auto flow = air_flow_at(system, state, air, place);
    if (!flow || flow->least_m3s >= drawn_m3s * (1.0 - rounding)) return;
    if (flow->without_m3s >= drawn_m3s * (1.0 - rounding))
      found.push_back({place, flow->least_m3s, drawn_m3s, drawn_when});
  };
  for (const network::Joint& joint : system.joints()) look(joint.name, joint.draw.si(), "");
  for (const network::Tank& tank : system.tanks())
    if (!tank.held) look(tank.name, network::daily_mean(tank.draws).si(), " over the day");
  return found;
}

/// The first place that is short with what is not known for sure turned out badly; empty if none is.
std::string short_at_corner(const System& system, const network::Unknowns& unknown) {
  const auto there = network::at_corner(system, network::Corner::bad, unknown);
  if (!there) return {};
  const steady::State state = steady::solve(*there.value);
  if (!state.proved()) return {};
  const auto found = short_by_air(*there.value, state, held_by_air(*there.value));
  return found.empty() ? std::string() : found.front().place;
}

}  // namespace

void hold_draws_to_air(const System& system, const steady::State& state, FlowVerdict& verdict) {
  if (!verdict.air) return;
  for (const Short& one : short_by_air(system, state, *verdict.air)) {
    if (verdict.misses_at(one.place)) continue;
    Draft d("draw-missed-in-its-hours", Severity::error);
    d.at_place(one.place).against({Kind::flow, one.gets_m3s}, {Kind::flow, one.drawn_m3s});
    d.message.name(one.place).say(" gets ").figure(Kind::flow, one.gets_m3s);
    d.message.say(" where ").figure(Kind::flow, one.drawn_m3s);
    d.message.say(" is drawn")
        .say(one.drawn_when)
        .say(", as long as the air of the start stays in its line.");
    d.advice.say("Put an air valve at the high point that holds the air, or draw less.");
    d.source("computed: the flows with the air that the start leaves in the lines");
    verdict.findings.push_back(d.done());
  }
}

void weigh_draws_with_air(const System& system, FlowVerdict& verdict) {
  if (!verdict.air || !verdict.air->at_first) return;
  const std::string place = short_at_corner(system, {});
  if (place.empty() || verdict.misses_at(place)) return;
  const std::string condition = turned_alone_by(
      system, [&](const network::Unknowns& unknown) { return !short_at_corner(system, unknown).empty(); });
  Draft d("draws-met-only-if", Severity::warning);
  d.at_place(place);
  d.message.name(place).say(" gets what is drawn there, with air in its line, only " + condition + ".");
  d.advice.say(
      "Put an air valve at the high point that holds the air, or take the condition as part of the promise.");
  d.source("computed: the flows with the air that the start leaves in the lines");
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(Sentence().say(condition));
}

}  // namespace runnel::verdict
