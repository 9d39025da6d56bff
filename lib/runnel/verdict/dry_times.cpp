#include "runnel/verdict/dry_times.h"

#include <algorithm>

#include "runnel/filling/tank_curve.h"
#include "runnel/filling/typical_day.h"
#include "runnel/filling/year.h"
#include "runnel/network/change.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/period_words.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/spring_record.h"
#include "runnel/verdict/year_states.h"

namespace runnel::verdict {
namespace {

constexpr Code need_fails_in_dry_season_rule{
    "need-fails-in-dry-season",
    "a need that is not met all year",
    "With the yield the model counts on the need is met; with that of some period of its `year` it is not, "
    "and no tank carries that period.",
    "A spring is looked at when the grass is green. What counts is the month in which it gives least.",
    "Ask less in that time, store more, or find more water. `runnel fill --year` shows every period.",
    "the model's own year and needs; storage by the sequent peak [sequent-peak]"};

constexpr Code tank_dry_in_year_rule{
    "tank-dry-in-year",
    "a tank that runs dry in its year",
    "Over the model's `year` less reaches the tank than is drawn from it, for longer than it lasts.",
    "A tank that is full today promises nothing for the dry months.",
    "Draw less, store more, or find more water. `runnel fill --year` shows every period.",
    "the model's own year; storage by the sequent peak [sequent-peak]"};

constexpr Code taps_left_running_rule{
    "taps-left-running",
    "a year that lasts only with the taps shut",
    "With the taps below the tank shut when nobody uses them the year brings enough. Left running as drawn "
    "they take more, and the tank runs dry.",
    "An open trough takes water day and night.",
    "Put a float valve on it, or say under `demands` what the tank gives in each period.",
    "the model's own year; storage by the sequent peak [sequent-peak]"};

using dry::Asks, dry::held, dry::missed, dry::needs_with, dry::slow_fillings;
using dry::unlike_periods, dry::yields_in;
using filling::YearPart;
using network::System;

/// "when spring gives 0.02 L/s".
Sentence when_giving(const System& system, const std::vector<Flow>& yields) {
  Sentence s;
  double sum_m3s = 0.0;
  const network::Box* only = nullptr;
  std::size_t springs = 0;
  for (std::size_t b = 0; b < yields.size(); ++b) {
    const network::Box& box = system.boxes()[b];
    if (!(box.yield.si() > 0.0) && !(yields[b].si() > 0.0)) continue;
    sum_m3s += yields[b].si();
    only = &box;
    ++springs;
  }
  if (springs == 1)
    s.say("when ").name(only->name).say(" gives ");
  else
    s.say("when the springs together give ");
  return s.figure(Kind::flow, sum_m3s);
}

std::string in_period(std::size_t period, std::size_t periods) {
  return "In " + period_words(period, periods);
}

// ---- the year

const YearPart* part_of(const System& system, const std::vector<YearPart>& parts, const std::string& name) {
  const int place = system.find_place(name).value_or(-1);
  for (const YearPart& part : parts)
    if (std::find(part.places.begin(), part.places.end(), place) != part.places.end()) return &part;
  return nullptr;
}

/// The period in which an ask gets least of those in which it is missed.
struct WorstPeriod {
  std::optional<std::size_t> period;
  AskResult then;
};

void hold_to_period(const System& system, const std::vector<YearPart>& parts, std::size_t period,
                    const Asks& now, std::vector<WorstPeriod>& worst) {
  const auto then = needs_with(system, yields_in(system, period), now);
  if (!then) return;
  for (std::size_t i = 0; i < now.size(); ++i) {
    if (!missed(now[i], (*then)[i])) continue;
    // A need that fails only once tanks are empty depends on how long the dry time lasts.
    const YearPart* part = part_of(system, parts, now[i].ask.at);
    if ((*then)[i].met_until_s && part && part->lasts()) continue;
    const auto figure = [](const AskResult& r) { return r.got ? r.got->si : 0.0; };
    if (!worst[i].period || figure((*then)[i]) < figure(worst[i].then)) worst[i] = {period, (*then)[i]};
  }
}

Finding fails_in_season(const System& system, const WorstPeriod& worst) {
  Draft d(need_fails_in_dry_season_rule, Severity::error);
  const AskResult& r = worst.then;
  d.at_place(r.ask.at);
  d.message.say(in_period(*worst.period, system.year()->periods()) + ", ");
  d.message.append(when_giving(system, yields_in(system, *worst.period))).say(", ").append(shortfall(r));
  if (r.met_until_s) d.message.say(" once what feeds it is empty");
  d.message.say(".");
  if (r.got) d.against(*r.got, r.asked);
  d.advice.say("Ask less at ").name(r.ask.at).say(" in that time, store more, or find more water. ");
  d.advice.say("`runnel fill --year` shows every period.");
  return d.done();
}

double sum_m3s(const std::vector<Flow>& yields) {
  double sum = 0.0;
  for (const Flow yield : yields) sum += yield.si();
  return sum;
}

Finding fills_too_slowly(const System& system, const AskResult& then, std::size_t driest) {
  Draft d(need_fails_in_dry_season_rule, Severity::error);
  d.at_place(then.ask.at);
  d.message.say(in_period(driest, system.year()->periods()) + ", ");
  d.message.append(when_giving(system, yields_in(system, driest))).say(", ").append(shortfall(then)).say(".");
  d.advice.say("Give ").name(then.ask.at).say(" more time in that period, or find more water.");
  return d.done();
}

/// Judges times to fill in the period in which the springs together give least.
void hold_filling_to_year(const System& system, FlowVerdict& verdict) {
  std::size_t driest = 0;
  for (std::size_t p = 1; p < system.year()->periods(); ++p)
    if (sum_m3s(yields_in(system, p)) < sum_m3s(yields_in(system, driest))) driest = p;
  for (const AskResult& then : slow_fillings(system, yields_in(system, driest), verdict.asks))
    verdict.findings.push_back(fills_too_slowly(system, then, driest));
}

/// What is drawn in a day, on average.
double drawn_m3s(const System& system) {
  double sum = 0.0;
  const auto add = [&](const auto& places) {
    for (const auto& place : places) sum += network::daily_mean(place.draws).si();
  };
  add(system.tanks());
  add(system.joints());
  add(system.outlets());
  return sum;
}

Finding short_in_its_hours(const System& system, std::size_t period, const filling::DrawnDay& draw) {
  Draft d(need_fails_in_dry_season_rule, Severity::error);
  d.at_place(draw.place).against({Kind::volume, draw.given_m3}, {Kind::volume, draw.asked_m3});
  d.message.say(in_period(period, system.year()->periods()) + ", ");
  d.message.append(when_giving(system, yields_in(system, period))).say(", ").name(draw.place).say(" gets ");
  d.message.figure(Kind::volume, draw.given_m3).say(" a day in the hours in which ");
  d.message.figure(Kind::volume, draw.asked_m3).say(" is drawn there.");
  d.advice.say("Store more above ").name(draw.place).say(", spread the hours, or draw less in that time.");
  return d.done();
}

/// Follows the hours of a day in each period that brings enough for all draws of the day, but less than now.
/// A period that brings less lives on what is stored, which the year itself judges.
void hold_hours_to_year(const System& system, FlowVerdict& verdict) {
  const double drawn = drawn_m3s(system), now = sum_m3s(dry::yields_now(system));
  if (!(drawn > 0.0)) return;
  for (const std::size_t p : unlike_periods(system)) {
    const std::vector<Flow> yields = yields_in(system, p);
    if (sum_m3s(yields) < drawn || sum_m3s(yields) >= now) continue;
    const filling::TypicalDay day = filling::typical_day(network::with_yields(system, yields));
    if (!day.known || !day.sinking.empty()) continue;
    for (const filling::DrawnDay& draw : day.draws) {
      if (!is_short(draw) || verdict.fails_at(draw.place)) continue;
      verdict.findings.push_back(short_in_its_hours(system, p, draw));
      return;
    }
  }
}

/// A tank at the end of the period in which it holds least.
struct LowStore {
  std::size_t period = 0;
  Length level;
};

/// None for tanks that are pooled, and where the store runs dry, which is told.
std::optional<LowStore> lowest_in_year(const System& system, const YearPart& part) {
  const network::Tank* tank = part.tanks.size() == 1 ? system.tank(part.tanks.front()) : nullptr;
  if (!tank || tank->held || !part.lasts()) return std::nullopt;
  const auto& end_m3 = part.coverage.end_m3;
  const auto least = std::min_element(end_m3.begin(), end_m3.end());
  const filling::TankCurve curve(tank->shape);
  const double full_m = (network::full_level(system.model(), *tank) - tank->floor).metres();
  const double left_m3 = curve.volume_m3(full_m) - (part.capacity_m3 - *least);
  return LowStore{static_cast<std::size_t>(least - end_m3.begin()),
                  tank->floor + Length::metres(curve.depth_m(std::max(0.0, left_m3)))};
}

Finding missed_when_low(const System& system, const LowStore& low, const std::string& tank,
                        const AskResult& then) {
  Draft d(need_fails_in_dry_season_rule, Severity::error);
  d.at_place(then.ask.at);
  if (then.got) d.against(*then.got, then.asked);
  d.message.say(in_period(low.period, system.year()->periods()) + ", with the water in ").name(tank);
  d.message.say(" down to ").figure(Kind::elevation, low.level.metres()).say(", ");
  d.message.append(shortfall(then)).say(".");
  d.advice.say("Store more in ").name(tank).say(", or lay larger pipe from there to ");
  d.advice.name(then.ask.at).say(".");
  return d.done();
}

/// Holds needs to where the year itself lets a tank sink, though the store lasts.
void hold_to_low_stores(const System& system, const std::vector<YearPart>& parts, FlowVerdict& verdict) {
  constexpr double seen_m = 1e-3;  // a millimetre is no other level
  for (const YearPart& part : parts) {
    const auto low = lowest_in_year(system, part);
    const std::string& tank = part.tanks.front();
    if (!low || low->level.metres() >= system.tank(tank)->level.metres() - seen_m) continue;
    const auto then = needs_with(network::with_level(system, tank, low->level),
                                 yields_in(system, low->period), verdict.asks);
    for (std::size_t i = 0; then && i < then->size(); ++i) {
      const AskResult& there = (*then)[i];
      if (!missed(verdict.asks[i], there) || there.met_until_s || verdict.fails_at(there.ask.at)) continue;
      verdict.findings.push_back(missed_when_low(system, *low, tank, there));
    }
  }
}

Finding dry_in_year(const YearPart& part, std::size_t periods) {
  Draft d(tank_dry_in_year_rule, Severity::error);
  d.at_place(part.tanks.front());
  const auto& dry = part.coverage.dry_s;
  const auto first = static_cast<std::size_t>(
      std::find_if(dry.begin(), dry.end(), [](double s) { return s > 0.0; }) - dry.begin());
  d.message.name(part.tanks.front())
      .say(part.tanks.size() == 1 ? " runs dry in " : " and the tanks joined with it run dry in ")
      .say(period_words(first, periods))
      .say(": ")
      .figure(Kind::volume, part.coverage.missing_total_m3())
      .say(" a year are missing of what is drawn, over ")
      .figure(Kind::duration, part.coverage.dry_days() * 86400.0)
      .say(".");
  d.advice.say("Draw less from ").name(part.tanks.front()).say(", store more, or find more water. ");
  d.advice.say("`runnel fill --year` shows every period.");
  return d.done();
}

Finding left_running(const YearPart& part, std::size_t periods) {
  Draft d(taps_left_running_rule, Severity::warning);
  const filling::LeftRunning& running = *part.running;
  d.at_place(part.tanks.front());
  d.message.say("Left running as drawn, the taps below ")
      .name(part.tanks.front())
      .say(" take up to ")
      .figure(Kind::flow, *std::max_element(running.taken_m3s.begin(), running.taken_m3s.end()))
      .say(": then the first water is missing in ")
      .say(period_words(*running.first_dry, periods))
      .say(". Shut when nobody uses them, the year brings enough.");
  d.advice.say("Put a float valve or a tap that shuts by itself on what runs below ")
      .name(part.tanks.front())
      .say(". `runnel fill --year` shows every period.");
  return d.done();
}

Finding unreached(const YearPart& part) {
  Draft d("no-answer", Severity::error);
  d.at_place(part.tanks.front());
  d.message.say("No answer was reached for the year of ").name(part.tanks.front()).say(".");
  d.advice.say("Please send us the model: this should not happen.");
  d.source("both balances must close before an answer is given");
  return d.done();
}

/// Whether some period brings less than what is counted on now, or takes more.
bool some_time_is_drier(const System& system) {
  if (!system.year()->demands.empty()) return true;
  const std::vector<Flow> now = dry::yields_now(system);
  for (const std::size_t p : unlike_periods(system)) {
    const std::vector<Flow> then = yields_in(system, p);
    for (std::size_t b = 0; b < now.size(); ++b)
      if (then[b].si() < now[b].si() * (1.0 - rounding)) return true;
  }
  return false;
}

/// Taps left running are a matter of the dry time; in one that brings no less the steady answer is judged.
void judge_parts(const System& system, const std::vector<YearPart>& parts, FlowVerdict& verdict) {
  const std::size_t periods = system.year()->periods();
  const bool some_drier = some_time_is_drier(system);
  for (const YearPart& part : parts) {
    if (part.unsettled)
      verdict.findings.push_back(unreached(part));
    else if (!part.lasts())
      verdict.findings.push_back(dry_in_year(part, periods));
    if (part.unsettled || !part.lasts() || part.lasts_running() || !some_drier) continue;
    verdict.findings.push_back(left_running(part, periods));
    Sentence condition;
    condition.say("if the taps below ").name(part.tanks.front()).say(" are not left running in the dry time");
    verdict.dry_conditions.push_back(std::move(condition));
  }
}

void judge_year(const System& system, FlowVerdict& verdict) {
  if (!system.year()) return;
  const std::vector<YearPart> parts = system.tanks().empty() ? std::vector<YearPart>{} : look_at_year(system);
  std::vector<WorstPeriod> worst(verdict.asks.size());
  if (std::any_of(verdict.asks.begin(), verdict.asks.end(), held))
    for (const std::size_t p : unlike_periods(system)) hold_to_period(system, parts, p, verdict.asks, worst);
  for (const WorstPeriod& one : worst)
    if (one.period) verdict.findings.push_back(fails_in_season(system, one));
  hold_filling_to_year(system, verdict);
  hold_hours_to_year(system, verdict);
  hold_to_low_stores(system, parts, verdict);
  judge_parts(system, parts, verdict);
}

}  // namespace

void judge_dry_times(const System& system, FlowVerdict& verdict) {
  judge_year(system, verdict);
  judge_records(system, verdict);
  judge_falling(system, verdict);
}

std::vector<Code> dry_times_codes() {
  return {need_fails_in_dry_season_rule, tank_dry_in_year_rule, taps_left_running_rule};
}

}  // namespace runnel::verdict
