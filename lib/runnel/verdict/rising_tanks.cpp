#include "runnel/verdict/rising_tanks.h"

#include <algorithm>

#include "runnel/network/change.h"
#include "runnel/network/floats.h"
#include "runnel/verdict/air_answer.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/shortfall.h"

namespace runnel::verdict {
namespace {

using network::System;

constexpr Code air_shut_in_as_tank_rises_rule{
    "air-shut-in-as-tank-rises",
    "a tank that rises over its inlet shuts air in",
    "With the tank at the level drawn, the end of the line stands free and the air leaves ahead of the "
    "water. "
    "The tank is filled from below: once its water stands over the inlet, the air behind the last high point "
    "is shut in. With that air the need is not met, or the line does not start again.",
    "It runs well on the first day, with the tank empty.",
    "Bring the line in over the highest level of the tank, or put an air valve on the last high point.",
    "the start-up law of the model, with the tank as full as it gets [start-up-derivation]"};

/// How high a tank rises that is filled from below and does not stand over its inlet now; none for others.
std::optional<Length> rises_to(const System& system, const network::Tank& tank) {
  const Length highest = network::just_below_full(system.model(), tank);
  if (tank.level > tank.inlet || highest <= tank.inlet || highest <= tank.level) return std::nullopt;
  return highest;
}

/// The first need that is met now but, with the tank risen, is missed because of air alone.
std::optional<AskResult> missed_for_air(const System& risen, const AirAnswer& air,
                                        const std::vector<AskResult>& now) {
  const auto full = needs_on(risen, false);
  if (!full || full->size() != now.size()) return std::nullopt;
  std::vector<AskResult> with_air = *full;
  judge_with_air(risen, air, with_air);
  for (std::size_t i = 0; i < now.size(); ++i)
    if (now[i].judged && now[i].met && (*full)[i].met && with_air[i].judged && !with_air[i].met)
      return with_air[i];
  return std::nullopt;
}

/// Whether any way to the tank runs over a crest: without one there is no air to shut in.
bool over_a_crest(const AirAnswer& air, const std::string& tank) {
  return std::any_of(air.paths.begin(), air.paths.end(), [&](const PathAir& way) {
    if (way.path.end != tank) return false;
    const auto bends = air::turns(way.profile);
    return std::any_of(bends.begin(), bends.end(), [](const air::Turn& bend) { return bend.crest; });
  });
}

/// Whether air keeps a way to the tank from starting.
bool blocked_by_air(const AirAnswer& air, const std::string& tank) {
  return std::any_of(air.paths.begin(), air.paths.end(), [&](const PathAir& way) {
    return way.path.end == tank && way.start.reason == air::StartReason::air;
  });
}

/// What happens with the tank as full as it gets; empty if nothing does.
Sentence with_it_full(const System& risen, const std::string& tank, const std::vector<AskResult>& now) {
  const AirAnswer air = held_by_air(risen);
  if (blocked_by_air(air, tank)) return Sentence().say("the line does not start again once it has stood");
  const auto missed = missed_for_air(risen, air, now);
  return missed ? shortfall(*missed) : Sentence();
}

Finding shut_in(const network::Tank& tank, const Sentence& with_it_full) {
  Draft d(air_shut_in_as_tank_rises_rule, Severity::warning);
  d.at_place(tank.name);
  d.message.say("Once the water in ")
      .name(tank.name)
      .say(" stands over its inlet, it shuts in the air behind ");
  d.message.say("the last high point before it: with the tank full, ").append(with_it_full).say(".");
  d.advice.say("Bring the line into ")
      .name(tank.name)
      .say(" over its highest level, or put an air valve on ");
  d.advice.say("the last high point.");
  return d.done();
}

}  // namespace

void judge_rising_tanks(const System& system, FlowVerdict& verdict) {
  if (!verdict.air ||
      std::none_of(verdict.asks.begin(), verdict.asks.end(), [](const AskResult& r) { return r.met; }))
    return;
  for (const network::Tank& tank : system.tanks()) {
    const auto level = rises_to(system, tank);
    if (!level || !over_a_crest(*verdict.air, tank.name)) continue;
    if (blocked_by_air(*verdict.air, tank.name)) continue;  // reported already
    const Sentence full =
        with_it_full(network::with_level(system, tank.name, *level), tank.name, verdict.asks);
    if (full.empty()) continue;
    verdict.findings.push_back(shut_in(tank, full));
    verdict.dry_conditions.push_back(
        Sentence().say("as long as the water in ").name(tank.name).say(" stands below its inlet"));
  }
}

std::vector<Code> rising_tank_codes() { return {air_shut_in_as_tank_rises_rule}; }

}  // namespace runnel::verdict
