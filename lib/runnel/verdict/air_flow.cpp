#include "runnel/verdict/air_flow.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/no_flow.h"
#include "runnel/network/place_state.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/splits.h"

namespace runnel::verdict {
namespace {

constexpr Code air_held_flow_rule{
    "air-held-flow",
    "the air of the start holds the flow back",
    "A line that has started keeps the air of each stretch that falls behind a high point. At the end of "
    "the line a narrow tap, a float valve or a gentle stretch shuts it in as a low point does. Water runs "
    "down under it without filling the pipe, so that the height of the air is lost. The flow told is what "
    "comes when the current has carried off the air it can, by the published law that carries off least.",
    "The line runs, and gives less than it was laid for, for as long as the air stays.",
    "Put an air valve at the high points named, or dig them down. Without the air comes what the finding "
    "says.",
    "energy from the end back, with trapped air by Boyle's law [boyle-gas]; laws of clearing "
    "[wisner1975], [walski1994]",
    Filling::follows};

constexpr double difference = 1e-6;  // relative; far above the rounding of solvers, far below any gauge
constexpr double hardly_less = 0.99;
constexpr const char* physics =
    "energy from the end back, with trapped air by Boyle's law; each law of clearing followed to its end";

/// Whether a way to a place leads over a pipeline; true also where no way ends there.
bool on_the_way(const AirAnswer& air, const std::string& line, const std::string& place) {
  bool some = false;
  for (const PathAir& way : air.paths) {
    if (way.path.end != place) continue;
    some = true;
    for (const std::string& name : way.profile.pipelines)
      if (name == line) return true;
  }
  return !some;
}

/// The air on the ways to a place, in one state; all air that takes head if no way ends there.
std::vector<AirPlace> held_before(const network::System& system, const AirAnswer& air,
                                  const air::AirState& state, const std::string& place) {
  constexpr double takes_m = 1e-6;
  std::vector<AirPlace> held;
  for (const air::RunningAir& one : state.air) {
    const std::string& line = system.lines()[one.held.line].name;
    if (one.held.before_m3 > 0.0) continue;  // it begins at a high point on the line before
    const AirPlace here{line, one.held.crest_station_m};
    const bool told =
        std::any_of(held.begin(), held.end(), [&](const AirPlace& known) { return same_place(known, here); });
    if (!told && one.head_taken_m > takes_m && on_the_way(air, line, place)) held.push_back(here);
  }
  return held;
}

bool same(const std::optional<Figure>& a, const std::optional<Figure>& b) {
  if (!a || !b) return !a && !b;
  return std::abs(a->si - b->si) <= difference * std::max(std::abs(a->si), std::abs(b->si)) + 1e-12;
}

double worth(const AskResult& result) { return result.got ? result.got->si : -1e300; }

void advise_vents(const std::vector<AirPlace>& held, Draft& d) {
  if (held.empty()) {
    d.advice.say("Let the air out through air valves at the high points before it.");
    return;
  }
  d.advice.say(held.size() == 1 ? "Put an air valve at " : "Put air valves at ");
  for (std::size_t i = 0; i < held.size() && i < 4; ++i) {
    if (i > 0) d.advice.say(i + 1 == held.size() ? " and " : ", ");
    d.advice.figure(Kind::length, held[i].station_m).say(" of ").name(held[i].pipeline);
  }
  if (held.size() > 4) d.advice.say(" and " + std::to_string(held.size() - 4) + " more places");
  d.advice.say(", or dig the high point down.");
}

void say_doubt(bool some_law, Sentence& s) {
  s.say(some_law ? " By some of the published laws the current carries it off, by others not."
                 : " By none of the published laws the current carries enough of it off.");
}

void held_ask(const AskResult& r, std::vector<Finding>& out) {
  Draft d = ask_not_met(r, "air-held-flow");
  d.message.say(", ");
  say_held(r.air->held, d.message);
  d.message.say("; without it ").figure(r.air->let_out()).say(".");
  say_doubt(r.air->most && r.air->most->si >= r.asked.si * (1.0 - difference), d.message);
  if (r.got) d.against(*r.got, r.asked);
  advise_vents(r.air->held, d);
  d.source(physics);
  out.push_back(d.done());
}

void held_place(const std::string& place, const AirFlow& flow, std::vector<Finding>& out) {
  Draft d(air_held_flow_rule, Severity::warning);
  d.at_place(place);
  d.against({Kind::flow, flow.least_m3s}, {Kind::flow, flow.without_m3s});
  d.message.name(place);
  if (flow.least_m3s > network::flow_grain_m3s)
    d.message.say(" gets only ").figure(Kind::flow, flow.least_m3s).say(" ");
  else
    d.message.say(" gets no water ");
  say_held(flow.held, d.message);
  d.message.say("; without it ").figure(Kind::flow, flow.without_m3s).say(".");
  say_doubt(flow.most_m3s > flow.least_m3s * (1.0 + difference), d.message);
  advise_vents(flow.held, d);
  d.source(physics);
  out.push_back(d.done());
}

}  // namespace

bool all_ways_blocked(const AirAnswer& air, const std::string& place) {
  bool some = false;
  for (const PathAir& way : air.paths) {
    if (way.path.end != place) continue;
    if (way.start.verdict != air::StartVerdict::blocked) return false;
    some = true;
  }
  return some;
}

double arriving_m3s(const network::System& system, const steady::State& state, const std::string& place) {
  const steady::PlaceState* here = state.place(place);
  if (!here || here->kind == network::PlaceKind::box) return 0.0;
  return here->kind == network::PlaceKind::tank ? brought_m3s(system, state, place)
                                                : network::comes_to_m3s(*here);
}

std::optional<AirFlow> air_flow_at(const network::System& system, const steady::State& without_air,
                                   const AirAnswer& air, const std::string& place) {
  if (!air.at_first || all_ways_blocked(air, place)) return std::nullopt;
  AirFlow flow;
  flow.without_m3s = arriving_m3s(system, without_air, place);
  flow.at_first_m3s = arriving_m3s(system, air.at_first->first().state, place);
  bool any = false;
  for (const std::size_t end : air.at_first->ends()) {
    const air::AirState& state = air.at_first->states[end];
    const double comes_m3s = arriving_m3s(system, state.state, place);
    if (!any || comes_m3s < flow.least_m3s) {
      flow.least_m3s = comes_m3s;
      flow.held = held_before(system, air, state, place);
    }
    flow.most_m3s = any ? std::max(flow.most_m3s, comes_m3s) : comes_m3s;
    any = true;
  }
  const double nothing_m3s = difference * std::abs(flow.without_m3s) + network::flow_grain_m3s;
  if (std::abs(flow.at_first_m3s - flow.without_m3s) <= nothing_m3s) return std::nullopt;
  return flow;
}

void judge_with_air(const network::System& system, const AirAnswer& air, std::vector<AskResult>& asks) {
  if (!air.at_first) return;
  const std::vector<AskResult> first = judge_asks(system, air.at_first->first().state);
  std::vector<std::pair<std::size_t, std::vector<AskResult>>> ends;
  for (const std::size_t end : air.at_first->ends())
    ends.emplace_back(end, judge_asks(system, air.at_first->states[end].state));
  for (std::size_t i = 0; i < asks.size(); ++i) {
    AskResult& ask = asks[i];
    if (!ask.judged || ask.met_until_s || all_ways_blocked(air, ask.ask.at)) continue;
    const auto less = [i](const auto& a, const auto& b) { return worth(a.second[i]) < worth(b.second[i]); };
    const auto [least, most] = std::minmax_element(ends.begin(), ends.end(), less);
    if (same(first[i].got, ask.got) && same(least->second[i].got, ask.got)) continue;
    AirAsk with{first[i].got, most->second[i].got, ask.got, ask.met, {}};
    with.held = held_before(system, air, air.at_first->states[least->first], ask.ask.at);
    ask.air = std::move(with);
    for (const auto& [end, there] : ends) also_hang_on(there[i], "with air in the lines,", ask);
    if (worth(least->second[i]) >= worth(ask)) continue;  // no worse than what it is held to already
    ask.got = least->second[i].got;
    ask.met = least->second[i].met;
  }
}

void say_held(const std::vector<AirPlace>& held, Sentence& s) {
  if (held.empty()) {
    s.say("as long as there is air in the lines");
    return;
  }
  s.say("as long as the air behind the high ").say(held.size() == 1 ? "point at " : "points at ");
  for (std::size_t i = 0; i < held.size() && i < 2; ++i) {
    if (i > 0) s.say(held.size() == 2 ? " and " : ", ");
    s.figure(Kind::length, held[i].station_m).say(" of ").name(held[i].pipeline);
  }
  if (held.size() > 2) s.say(" and " + std::to_string(held.size() - 2) + " more");
  s.say(" stays");
}

void air_held_flow(const network::System& system, const steady::State& state, const AirAnswer& air,
                   const std::vector<AskResult>& asks, std::vector<Finding>& out) {
  if (!air.at_first) return;
  std::vector<std::string> said;
  for (const AskResult& ask : asks) {
    if (!ask.held_by_air()) continue;
    held_ask(ask, out);
    said.push_back(ask.ask.at);
  }
  for (const auto* places : {&state.outlets, &state.tanks})
    for (const steady::PlaceState& place : *places) {
      if (std::find(said.begin(), said.end(), place.name) != said.end()) continue;
      const auto flow = air_flow_at(system, state, air, place.name);
      if (flow && flow->without_m3s > 0.0 && flow->least_m3s < hardly_less * flow->without_m3s)
        held_place(place.name, *flow, out);
    }
}

std::vector<Code> air_flow_codes() { return {air_held_flow_rule}; }

}  // namespace runnel::verdict
