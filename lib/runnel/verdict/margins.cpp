#include "runnel/verdict/margins.h"

#include <algorithm>
#include <optional>

#include "runnel/air/at_first.h"
#include "runnel/network/corner.h"
#include "runnel/network/draws.h"
#include "runnel/network/hours.h"
#include "runnel/network/no_flow.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/low_water.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/splits.h"
#include "runnel/verdict/store_rules.h"

namespace runnel::verdict {
namespace {

constexpr Code need_met_only_if_rule{
    "need-met-only-if",
    "a need that depends on what nobody knows exactly",
    "With the values of the model the need is met. With the least bore that the standard allows, pipe "
    "that has aged, colder water, the survey off by its stated error and the least yield that the bucket "
    "tests allow it is not. The one of them that turns it alone is named.",
    "Pipe ages, springs vary and walls come out thick. What is met only on the good side may fail in a "
    "few years.",
    "Choose a pipe that leaves more, time the spring again, or take the condition as part of the promise.",
    "walls [iso-11922-1], [astm-d3035; from memory]; yields by Student's t; ageing common practice, no "
    "source",
    Filling::follows};

using network::Corner;
using network::System;
using network::Unknowns;

bool weighed(const AskResult& r) { return r.judged && !r.cut_off; }

bool of_filling(const AskResult& r) { return r.ask.kind == network::AskKind::full_within; }

/// Needs of filling in time: those that are met as written and missed there. The others stay unjudged.
void judge_fillings(const System& there, const std::vector<AskResult>& asks, const filling::TypicalDay& day,
                    std::vector<AskResult>& then) {
  for (const AskResult& slow : dry::slow_fillings(there, asks, day))
    for (std::size_t i = 0; i < asks.size(); ++i)
      if (of_filling(asks[i]) && asks[i].ask.at == slow.ask.at && asks[i].asked.si == slow.asked.si)
        then[i] = slow;
}

/// What hangs there on how the water divides, and does not as written, counts as what it gets at least.
void miss_what_hangs(const std::vector<AskResult>& asks, std::vector<AskResult>& then) {
  for (std::size_t i = 0; i < asks.size(); ++i) {
    AskResult& there = then[i];
    if (!there.judged || !there.met || !hangs_only_then(asks[i], there)) continue;
    there.met = false;
    const bool flow = there.ask.kind == network::AskKind::flow;
    there.got = flow ? std::optional(Figure{Kind::flow, there.least_m3s.value_or(0.0)}) : std::nullopt;
  }
}

/// The needs at a corner; none if it cannot be computed there.
std::optional<std::vector<AskResult>> needs_at(const System& system, Corner corner, const Unknowns& unknown,
                                               bool with_air, const std::vector<AskResult>& asks,
                                               const filling::TypicalDay& day) {
  const auto there = network::at_corner(system, corner, unknown);
  if (!there) return std::nullopt;
  // With anything against it tanks sink lower than on the day as the system is written.
  std::optional<filling::TypicalDay> worse;
  if (corner == Corner::bad && network::has_draws(there.value->model()))
    worse = filling::typical_day(*there.value);
  auto then = needs_on(*there.value, steady::solve(*there.value), with_air, worse ? &*worse : &day);
  if (then && corner == Corner::bad) {
    judge_fillings(*there.value, asks, worse ? *worse : day, *then);
    miss_what_hangs(asks, *then);
  }
  return then;
}

Figure figure_of(const AskResult& r) { return r.got.value_or(Figure{r.asked.kind, 0.0}); }

Finding only_if(const AskResult& r, const std::string& condition) {
  Draft d(need_met_only_if_rule, Severity::warning);
  d.at_place(r.ask.at);
  if (of_filling(r)) {
    d.message.name(r.ask.at)
        .say(" is full within the ")
        .figure(r.asked)
        .say(" asked only ")
        .say(condition)
        .say(".");
    d.advice.say(what_to_do(condition));
    return d.done();
  }
  d.against(r.range->bad, r.asked);
  d.message.name(r.ask.at).say(r.ask.kind == network::AskKind::flow ? " gets the " : " has the ");
  d.message.figure(r.asked)
      .say(" ")
      .say(asked_or_drawn(r.ask))
      .say(" only ")
      .say(condition)
      .say(": from the bad corner to the good one it is ");
  d.message.figure(r.range->bad).say(" to ").figure(r.range->good).say(".");
  d.advice.say(what_to_do(condition));
  d.source(
      "solved with the least bore, old pipe, colder water, the survey's stated error and the least yield of "
      "the "
      "bucket tests [iso-11922-1], [astm-d3035; from memory]; ageing common practice, no source");
  return d.done();
}

/// Whether something is drawn otherwise than as it stands in a steady state: in hours, or at a tap, which a
/// steady state has wide open.
bool some_draw_rests(const System& system) {
  const auto drawn = [](const auto& place) { return !place.draws.empty(); };
  return std::any_of(system.tanks().begin(), system.tanks().end(), drawn) ||
         std::any_of(system.outlets().begin(), system.outlets().end(), drawn) ||
         !network::hours_of_change(system.model()).empty();
}

/// A pressure may be higher at the bad corner, where less is taken on the way to it.
Range range_of(Figure one, Figure other) {
  return one.si <= other.si ? Range{one, other} : Range{other, one};
}

bool some_tank_falls(const System& system, const steady::State& state) {
  for (std::size_t t = 0; t < system.tanks().size(); ++t) {
    const network::Tank& tank = system.tanks()[t];
    const double drawn_m3s = network::daily_mean(tank.draws).si();
    if (!tank.held && state.tanks[t].inflow_m3s < drawn_m3s - network::no_flow_m3s) return true;
  }
  return false;
}

/// Tanks that fill again between the hours in which they are drawn run out for nobody. Whether a single tank
/// runs out is seen without following its level, and the day is followed only if it does; with several tanks
/// the day, which may speak for every need, takes less time than their levels.
void hold_needs_to_stores(const System& system, const steady::State& state, FlowVerdict& verdict) {
  const std::vector<AskResult> at_first = verdict.asks;
  const bool by_hours = some_draw_rests(system) && some_tank_falls(system, state);
  std::optional<filling::TypicalDay> day;
  if (by_hours && system.tanks().size() > 1) day = filling::typical_day(system);
  if (day && day_speaks_for(system, *day, verdict.asks)) return;
  hold_asks_to_stores(system, state, verdict, false);
  const bool run_out = std::any_of(verdict.asks.begin(), verdict.asks.end(),
                                   [](const AskResult& r) { return r.met_until_s.has_value(); });
  if (by_hours && run_out && !day) day = filling::typical_day(system);
  if (day && fills_day_by_day(*day)) spare_what_is_drawn(system, *day, at_first, verdict.asks);
}

}  // namespace

bool air_counts(const std::vector<AskResult>& asks) {
  return std::any_of(asks.begin(), asks.end(), [](const AskResult& r) { return r.air.has_value(); });
}

std::optional<std::vector<AskResult>> needs_on(const System& system, bool with_air) {
  return needs_on(system, steady::solve(system), with_air);
}

std::optional<std::vector<AskResult>> needs_on(const System& system, const steady::State& state,
                                               bool with_air, const filling::TypicalDay* day) {
  if (!state.proved()) return std::nullopt;
  FlowVerdict verdict;
  verdict.asks = judge_asks(system, state);
  const auto after = follow_siphons(system, state);
  if (after) hold_asks_to_siphons(*after, verdict);
  const System& lasting = after ? after->system : system;
  const steady::State& lasting_state = after ? after->state : state;
  hold_needs_to_stores(lasting, lasting_state, verdict);
  if (with_air) judge_with_air(system, held_by_air(system), verdict.asks);
  if (day) judge_low_water(lasting, lasting_state, *day, verdict);
  return std::move(verdict.asks);
}

const std::vector<CornerCause>& corner_causes() {
  static const std::vector<CornerCause> causes{
      {&Unknowns::yield, "if the spring gives no less than the mean of its bucket tests"},
      {&Unknowns::roughness, "if the pipe stays as smooth as new"},
      {&Unknowns::bore, "if the bore is not the least that its standard allows"},
      {&Unknowns::survey, "if the survey is right"},
      {&Unknowns::temperature, "if the water gets no colder than stated"},
      {&Unknowns::transition,
       "if the water loses no more between laminar and turbulent flow than worked out"},
  };
  return causes;
}

const char* what_to_do(const std::string& condition) {
  for (const CornerCause& cause : corner_causes()) {
    if (cause.condition != condition) continue;
    if (cause.which == &Unknowns::yield)
      return "Time the spring again, some more times and in the dry season, or catch more of it.";
    if (cause.which == &Unknowns::survey) return "Level the line again, or choose a pipe that leaves more.";
  }
  return "Choose a pipe that leaves more, or take the condition as part of the promise.";
}

const char* corner_together() {
  return "if no more than one of bore, age of the pipe, cold, survey and yield turns out badly";
}

std::string conditions_once(const std::vector<std::string>& conditions, const std::string& said) {
  const auto holds = [&](const std::string& text) {
    return std::any_of(conditions.begin(), conditions.end(),
                       [&](const std::string& one) { return one.find(text) != std::string::npos; });
  };
  std::string all;
  const auto add = [&](const char* condition) {
    if (holds(condition) && said.find(condition) == std::string::npos) also_only(condition, all);
  };
  for (const CornerCause& cause : corner_causes()) add(cause.condition);
  add(corner_together());
  return all;
}

Unknowns unknown_alone(bool Unknowns::*which) {
  Unknowns one;
  for (const CornerCause& cause : corner_causes()) one.*(cause.which) = cause.which == which;
  return one;
}

void weigh_corners(const System& system, const filling::TypicalDay& day, std::vector<AskResult>& asks,
                   std::vector<Finding>& out) {
  if (std::none_of(asks.begin(), asks.end(), weighed)) return;
  // Air that makes no difference now may make one in an old pipe. If it cannot be judged there, the corner is
  // weighed without it, as the system is now.
  const auto left_open = [&](const std::vector<AskResult>& there) {
    bool any = false;
    for (std::size_t i = 0; i < asks.size(); ++i)
      any = any || (weighed(asks[i]) && there[i].air && !there[i].judged);
    return any;
  };
  auto bad = needs_at(system, Corner::bad, {}, true, asks, day);
  if (bad && !air_counts(asks) && left_open(*bad)) bad = needs_at(system, Corner::bad, {}, false, asks, day);
  const bool with_air = air_counts(asks) || (bad && air_counts(*bad));
  const auto good = needs_at(system, Corner::good, {}, with_air, asks, day);
  if (!bad || !good) return;
  std::vector<std::size_t> turned;
  for (std::size_t i = 0; i < asks.size(); ++i) {
    if (!weighed(asks[i]) || !(*bad)[i].judged) continue;
    if (!of_filling(asks[i]) && !(*good)[i].judged) continue;
    if (!of_filling(asks[i])) asks[i].range = range_of(figure_of((*bad)[i]), figure_of((*good)[i]));
    if (asks[i].met && !(*bad)[i].met) turned.push_back(i);
  }
  if (turned.empty()) return;
  // Every one of the unknowns that turns a need alone; the rest together may turn it as well.
  std::vector<std::string> condition(asks.size());
  Unknowns others;
  for (const CornerCause& cause : corner_causes()) {
    if (!network::has_unknown(system.model(), cause.which)) continue;
    const auto alone = needs_at(system, Corner::bad, unknown_alone(cause.which), with_air, asks, day);
    if (!alone) continue;
    for (const std::size_t i : turned) {
      if (!(*alone)[i].judged || (*alone)[i].met) continue;
      also_only(cause.condition, condition[i]);
      others.*(cause.which) = false;
    }
  }
  const auto rest = needs_at(system, Corner::bad, others, with_air, asks, day);
  for (const std::size_t i : turned) {
    const bool rest_turns = rest && (*rest)[i].judged && !(*rest)[i].met;
    if (condition[i].empty() || rest_turns) also_only(corner_together(), condition[i]);
    asks[i].only_if = condition[i];
    out.push_back(only_if(asks[i], asks[i].only_if));
  }
}

namespace {

/// Taps and tanks that water comes to, but not at the bad corner.
std::vector<std::string> cut_off_at(const System& system, const steady::State& state,
                                    const Unknowns& unknown) {
  std::vector<std::string> places;
  const auto there = network::at_corner(system, Corner::bad, unknown);
  if (!there) return places;
  const steady::State then = steady::solve(*there.value);
  if (!then.proved()) return places;
  for (const auto* kind : {&state.outlets, &state.tanks})
    for (const steady::PlaceState& place : *kind)
      if (arriving_m3s(system, state, place.name) > network::no_flow_m3s &&
          !(arriving_m3s(*there.value, then, place.name) > network::no_flow_m3s))
        places.push_back(place.name);
  return places;
}

}  // namespace

void weigh_arrivals(const System& system, const steady::State& state, FlowVerdict& verdict) {
  if (!verdict.asks.empty()) return;
  const std::vector<std::string> places = cut_off_at(system, state, {});
  if (places.empty()) return;
  const std::string condition = turned_alone_by(
      system, [&](const Unknowns& unknown) { return !cut_off_at(system, state, unknown).empty(); });
  Draft d(need_met_only_if_rule, Severity::warning);
  d.at_place(places.front());
  d.message.say("Water comes to ").name(places.front()).say(" only ").say(condition).say(".");
  d.advice.say(what_to_do(condition));
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(Sentence().say(condition));
}

std::vector<Code> margins_codes() { return {need_met_only_if_rule}; }

}  // namespace runnel::verdict
