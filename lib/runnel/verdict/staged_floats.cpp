#include "runnel/verdict/staged_floats.h"

#include <algorithm>
#include <optional>

#include "runnel/network/change.h"
#include "runnel/network/floats.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/shortfall.h"

namespace runnel::verdict {
namespace {

constexpr Code less_with_one_float_shut_rule{
    "less-with-one-float-shut",
    "a flow that comes only while all float valves of a tank are open",
    "The tank has several float valves. With all of them open the flow comes that is asked; once the first "
    "has "
    "shut, though the tank is not full yet, it does not.",
    "Between the levels of its float valves a tank gets only what the lines bring that are still open.",
    "Let the float valves shut and open at the same levels, or ask what the last of them brings.",
    "computed: the system with the tank above each of its float valves but the highest"};

constexpr Length hair = Length::millimetres(1.0);  // above the level at which a float valve shuts

/// The need with all float valves of its tank shut but the highest; none if it is met then, or all shut at
/// one level.
std::optional<AskResult> missed_in_between(const network::System& system, const network::Tank& tank,
                                           std::size_t ask) {
  const auto floats = network::floats_of(system.model(), tank);
  const auto lower = std::find_if(floats.rbegin(), floats.rend(), [&](const network::FloatValve& valve) {
    return valve.shuts_at + hair < floats.back().shuts_at;
  });
  if (lower == floats.rend()) return std::nullopt;
  const network::System there = network::with_level(system, tank.name, lower->shuts_at + hair);
  const steady::State state = steady::solve(there);
  if (!state.proved()) return std::nullopt;
  AskResult then = judge_asks(there, state)[ask];
  return then.judged && !then.met && then.got ? std::optional(std::move(then)) : std::nullopt;
}

}  // namespace

void judge_staged_floats(const network::System& system, FlowVerdict& verdict) {
  for (std::size_t i = 0; i < verdict.asks.size(); ++i) {
    const AskResult& r = verdict.asks[i];
    const network::Tank* tank = system.tank(r.ask.at);
    if (!tank || tank->held || r.ask.kind != network::AskKind::flow || !r.judged || !r.met) continue;
    const auto then = missed_in_between(system, *tank, i);
    if (!then) continue;
    Draft d(less_with_one_float_shut_rule, Severity::warning);
    d.at_place(tank->name).against(*then->got, then->asked);
    d.message.say("Once the first of its float valves has shut, ").append(shortfall(*then)).say(".");
    d.advice.say("Let all float valves of ").name(tank->name).say(" shut at one level.");
    verdict.findings.push_back(d.done());
    verdict.dry_conditions.push_back(
        Sentence().say("while all float valves of ").name(tank->name).say(" are open"));
  }
}

std::vector<Code> staged_float_codes() { return {less_with_one_float_shut_rule}; }

}  // namespace runnel::verdict
