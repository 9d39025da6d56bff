#include "runnel/verdict/dry_times.h"

#include <algorithm>

#include "runnel/filling/tank_curve.h"
#include "runnel/filling/typical_day.h"
#include "runnel/filling/year.h"
#include "runnel/network/change.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/network/place_state.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/dry_followed.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/dry_years.h"
#include "runnel/verdict/falling_springs.h"
#include "runnel/verdict/first_days.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/low_water.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/period_words.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/splits.h"
#include "runnel/verdict/year_corner.h"
#include "runnel/verdict/year_parts.h"
#include "runnel/verdict/year_states.h"

namespace runnel::verdict {
namespace {

constexpr Code need_fails_in_dry_season_rule{
    "need-fails-in-dry-season",
    "a need that is not met all year",
    "With the yield and the draws of the model the need is met; with those of some period of its `year` it "
    "is not, and no tank carries that period.",
    "A spring is looked at when the grass is green. What counts is the month in which it gives least.",
    "Ask less in that time, store more, or find more water. `runnel fill --year` shows every period.",
    "the model's own year and needs; storage by the sequent peak [sequent-peak]"};

using dry::Asks, dry::Judged, dry::held, dry::missed, dry::slow_fillings;
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
  const auto place = system.find_place(name);
  const auto part =
      std::find_if(parts.begin(), parts.end(), [&](const YearPart& one) { return one.holds(place); });
  return part == parts.end() ? nullptr : &*part;
}

/// The needs, with the air of the start, and the day as they are in a period of the year, with what is then
/// drawn from tanks.
struct Then {
  std::size_t period = 0;
  Asks asks;
  std::vector<double> runs_m3s;  ///< at the place of each need, out of tanks as full as drawn
  filling::TypicalDay day;
};

std::optional<Then> judged_in(const Judged& of, std::size_t period) {
  const System there = network::in_period(of.system, period);
  const steady::State state = steady::solve(there);
  auto asks = needs_on(there, state, true);
  if (!asks) return std::nullopt;
  FlowVerdict verdict;
  verdict.asks = std::move(*asks);
  verdict.after_siphons = follow_siphons(there, state);
  const auto& after = verdict.after_siphons;
  const System& lasting = after ? after->system : there;
  filling::TypicalDay day = followed_day(network::in_period(of.all_day, period), verdict);
  judge_low_water(lasting, after ? after->state : state, day, verdict);
  std::vector<double> runs_m3s;
  for (const AskResult& r : verdict.asks) {
    const steady::PlaceState* place = state.place(r.ask.at);
    runs_m3s.push_back(place ? network::gets_m3s(*place) : 0.0);
  }
  return Then{period, std::move(verdict.asks), std::move(runs_m3s), std::move(day)};
}

/// The periods that are harder than the model as drawn.
std::vector<Then> harder_periods(const Judged& of) {
  std::vector<Then> all;
  for (const std::size_t p : unlike_periods(of.system))
    if (dry::is_harder(of.system, p))
      if (auto then = judged_in(of, p)) all.push_back(std::move(*then));
  return all;
}

/// The period in which an ask gets least of those in which it is missed.
struct WorstPeriod {
  std::optional<std::size_t> period;
  AskResult then;
};

bool lives_on_stores(const AskResult& r) { return r.met_until_s || r.low_water; }

/// Whether a need is missed at the low water of every day of a period, though the tanks fill again each day:
/// then no store carries it.
bool missed_each_day(const Then& then, const AskResult& r) {
  return r.low_water && fills_day_by_day(then.day);
}

/// What a need takes out of the tanks of its part for as long as it is met: the flow that is asked, or with
/// which the pressure comes. Nothing at a tap with draws, which are in the season already.
double taken_m3s(const System& system, const std::vector<Then>& periods, std::size_t ask) {
  double most_m3s = 0.0;
  for (const Then& then : periods) {
    const AskResult& r = then.asks[ask];
    const network::Outlet* tap = system.outlet(r.ask.at);
    if (!lives_on_stores(r) || (tap && !tap->draws.empty())) continue;
    most_m3s = std::max(
        most_m3s, tap && r.ask.kind == network::AskKind::pressure ? then.runs_m3s[ask] : r.ask.flow.si());
  }
  return most_m3s;
}

/// The year of a part in which all that is asked below its tanks, and lives on them in some period, is taken
/// all the time. What runs into a tank serves what is drawn from it.
filling::Season with_asked(const System& system, const YearPart& part, const std::vector<Then>& periods,
                           const Asks& now) {
  filling::Season season = part.season;
  for (std::size_t i = 0; i < now.size(); ++i) {
    const std::string& at = now[i].ask.at;
    if (!held(now[i]) || !part.holds(system.find_place(at)) || system.joint(at)) continue;
    const double asked_m3s = taken_m3s(system, periods, i);
    const auto own = std::find_if(part.drawn.begin(), part.drawn.end(), [&](const auto& drawn) {
      return system.tank(at) && drawn.place == *system.find_place(at);
    });
    for (std::size_t p = 0; p < season.demand_m3s.size(); ++p)
      season.demand_m3s[p] += std::max(0.0, asked_m3s - (own == part.drawn.end() ? 0.0 : own->demand_m3s[p]));
  }
  return season;
}

/// Whether the stores of a part carry the needs that fail only once they are empty, or stand low: what is
/// asked has to come as long as the dry time lasts.
bool carries(const System& system, const YearPart& part, const std::vector<Then>& periods, const Asks& now) {
  return part.lasts() &&
         filling::coverage(with_asked(system, part, periods, now), part.capacity_m3).dry_days() == 0.0;
}

void hold_to_period(const System& system, const std::vector<YearPart>& parts,
                    const std::vector<Then>& periods, const Then& then, const Asks& now,
                    std::vector<WorstPeriod>& worst) {
  for (std::size_t i = 0; i < now.size(); ++i) {
    const AskResult& there = then.asks[i];
    if (!missed(now[i], there)) continue;
    // A need that fails only once tanks are empty depends on how long the dry time lasts.
    const YearPart* part = part_of(system, parts, now[i].ask.at);
    const bool stored = lives_on_stores(there) && !missed_each_day(then, there);
    if (stored && part && carries(system, *part, periods, now)) continue;
    const auto figure = [](const AskResult& r) { return r.got ? r.got->si : 0.0; };
    if (!worst[i].period || figure(there) < figure(worst[i].then)) worst[i] = {then.period, there};
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
  d.advice.say("Ask less at ").name(r.ask.at).say(" in that time, store more, or find more water.");
  if (!system.tanks().empty()) d.advice.say(" `runnel fill --year` shows every period.");
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

/// A filling that is late in some period of the year.
struct LateFilling {
  std::size_t period = 0;
  AskResult then;
};

/// Whether one is full later than another, or not at all in the time that was followed.
bool is_later(const AskResult& one, const AskResult& other) {
  return other.got && (!one.got || one.got->si > other.got->si);
}

/// Judges times to fill in the periods that are hardest, and tells of each tank the one in which it is
/// slowest.
void hold_filling_to_year(const Judged& of, FlowVerdict& verdict) {
  std::vector<LateFilling> late;
  for (const std::size_t p : dry::hardest_of(of.system, unlike_periods(of.system))) {
    const System there = network::in_period(of.all_day, p);
    for (const AskResult& then : slow_fillings(there, verdict.asks, dry::day_of(there))) {
      const auto known = std::find_if(late.begin(), late.end(), [&](const LateFilling& one) {
        return one.then.ask.at == then.ask.at && one.then.asked.si == then.asked.si;
      });
      if (known == late.end())
        late.push_back({p, then});
      else if (is_later(then, known->then))
        *known = {p, then};
    }
  }
  for (const LateFilling& one : late)
    verdict.findings.push_back(fills_too_slowly(of.system, one.then, one.period));
}

Finding short_in_its_hours(const System& system, std::size_t period, const filling::DrawnDay& draw) {
  Draft d(need_fails_in_dry_season_rule, Severity::error);
  d.at_place(draw.place).against({Kind::volume, draw.given_m3}, {Kind::volume, draw.asked_m3});
  d.message.say(in_period(period, system.year()->periods()) + ", ");
  d.message.append(when_giving(system, yields_in(system, period))).say(", ").name(draw.place).say(" gets ");
  const bool always = always_drawn(system, draw.place);
  d.message.figure(Kind::volume, draw.given_m3)
      .say(always ? " a day of the " : " a day in the hours in which ");
  d.message.figure(Kind::volume, draw.asked_m3).say(always ? " drawn there." : " is drawn there.");
  d.advice.say("Store more above ").name(draw.place).say(", spread the hours, or draw less in that time.");
  return d.done();
}

/// Holds the draws to their hours in each period that is harder than the model as drawn, and tells the worst.
/// Where a period brings less than is drawn in it, what is joined with tanks lives on what is stored, which
/// the year itself judges.
void hold_hours_to_year(const System& system, const std::vector<YearPart>& parts,
                        const std::vector<Then>& periods, FlowVerdict& verdict) {
  const Then* worst = nullptr;
  const filling::DrawnDay* shortest = nullptr;
  for (const Then& then : periods) {
    if (!then.day.known) continue;
    const bool enough =
        sum_m3s(yields_in(system, then.period)) >=
            network::daily_mean_in_all(network::in_period(system, then.period).model()).si() &&
        then.day.sinking.empty();
    for (const filling::DrawnDay& draw : then.day.draws) {
      if (!draw.is_short() || verdict.fails_at(draw.place)) continue;
      if (!enough && part_of(system, parts, draw.place)) continue;
      if (shortest && draw.share_short() <= shortest->share_short()) continue;
      worst = &then;
      shortest = &draw;
    }
  }
  if (worst) verdict.findings.push_back(short_in_its_hours(system, worst->period, *shortest));
}

Finding late_in_period(const System& system, std::size_t period, const LateAtTimes& late) {
  Draft d(need_fails_in_dry_season_rule, Severity::error);
  d.at_place(late.place);
  d.message.say(in_period(period, system.year()->periods()) + ", ");
  d.message.append(when_giving(system, yields_in(system, period))).say(", ").append(late.words).say(".");
  d.advice.say("Let the float valve of ").name(late.tank);
  d.advice.say(" open higher, store more, or draw less in that time.");
  return d.done();
}

/// Float valves that wait before they open, in the hardest of the periods in which the tanks fill day by day.
void hold_floats_to_year(const Judged& of, const std::vector<Then>& periods, FlowVerdict& verdict) {
  std::vector<std::size_t> lasting;
  for (const Then& then : periods)
    if (lasts_day_by_day(then.day)) lasting.push_back(then.period);
  for (const std::size_t p : dry::hardest_of(of.system, lasting)) {
    const System there = as_it_lasts(network::in_period(of.all_day, p), verdict);
    const auto late = late_at_times(there, verdict.asks);
    if (late && !verdict.misses_at(late->place))
      verdict.findings.push_back(late_in_period(of.system, p, *late));
  }
}

/// A tank at the end of the period in which it holds least.
struct LowStore {
  std::size_t period = 0;
  Length level;
};

/// None for tanks that are pooled, and where the store runs dry, which is told.
std::optional<LowStore> lowest_in_year(const System& system, const YearPart& part,
                                       const filling::Season& season) {
  const network::Tank* tank = part.tanks.size() == 1 ? system.tank(part.tanks.front()) : nullptr;
  if (!tank || tank->held || !part.lasts()) return std::nullopt;
  const filling::Coverage asked = filling::coverage(season, part.capacity_m3);
  const auto& end_m3 = (asked.dry_days() > 0.0 ? part.coverage : asked).end_m3;
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
void hold_to_low_stores(const System& system, const std::vector<YearPart>& parts,
                        const std::vector<Then>& periods, FlowVerdict& verdict) {
  constexpr double seen_m = 1e-3;  // a millimetre is no other level
  for (const YearPart& part : parts) {
    const auto low = lowest_in_year(system, part, with_asked(system, part, periods, verdict.asks));
    const std::string& tank = part.tanks.front();
    if (!low || low->level.metres() >= system.tank(tank)->level.metres() - seen_m) continue;
    const auto then =
        needs_on(network::with_level(network::in_period(system, low->period), tank, low->level), true);
    for (std::size_t i = 0; then && i < then->size(); ++i) {
      const AskResult& there = (*then)[i];
      if (!missed(verdict.asks[i], there) || there.met_until_s || verdict.fails_at(there.ask.at)) continue;
      verdict.findings.push_back(missed_when_low(system, *low, tank, there));
    }
  }
}

Finding missed_day_by_day(const System& system, const MissedInDryTime& missed) {
  Draft d(need_fails_in_dry_season_rule, Severity::error);
  const std::string& place = missed.place();
  d.at_place(place);
  d.message.say(in_period(missed.period, system.year()->periods()) + ", ");
  d.message.append(when_giving(system, yields_in(system, missed.period))).say(", ");
  if (const auto& need = missed.need) {
    d.message.append(shortfall(*need)).say(" as the tanks sink.");
    d.advice.say("Store more above ").name(place).say(", or lay larger pipe from there to it.");
    return d.done();
  }
  d.message.figure(Kind::volume, missed.draw->missing_m3).say(" of what ").name(place);
  if (system.tanks().size() == 1) {
    d.message.say(" needs is missing: it holds enough for the days, but not for the hours of each.");
    d.advice.say("Store more in ").name(place).say(", or spread the hours.");
    return d.done();
  }
  d.message.say(" needs is missing: the tanks hold enough in all, but not where it is drawn.");
  d.advice.say("Store more above ").name(place);
  d.advice.say(", or let the tanks beside and below it take less in that time.");
  return d.done();
}

/// Whether the stores of the parts that last stand where they are needed.
void follow_stores(const Judged& of, const std::vector<YearPart>& parts, FlowVerdict& verdict) {
  for (const YearPart& part : parts) {
    if (!part.lasts() || !part.lasts_spilling()) continue;
    const auto missed = follow_dry_time(of.all_day, part, verdict.asks);
    if (missed && !verdict.misses_at(missed->place()))
      verdict.findings.push_back(missed_day_by_day(of.system, *missed));
  }
}

void judge_year(const Judged& of, FlowVerdict& verdict) {
  const System& system = of.system;
  if (!system.year()) return;
  const std::vector<YearPart> parts =
      system.tanks().empty() ? std::vector<YearPart>{} : look_at_year(of.all_day);
  std::vector<WorstPeriod> worst(verdict.asks.size());
  const std::vector<Then> harder = harder_periods(of);
  for (const Then& then : harder) {
    hold_to_period(system, parts, harder, then, verdict.asks, worst);
    also_hang_on(then.asks, "in drier times,", verdict.asks);
  }
  for (const WorstPeriod& one : worst)
    if (one.period) verdict.findings.push_back(fails_in_season(system, one));
  hold_filling_to_year(of, verdict);
  hold_hours_to_year(system, parts, harder, verdict);
  hold_to_low_stores(system, parts, harder, verdict);
  hold_floats_to_year(of, harder, verdict);
  judge_year_parts(system, parts, verdict);
  follow_stores(of, parts, verdict);
}

}  // namespace

void judge_dry_times(const System& system, const System& all_day, FlowVerdict& verdict) {
  const Judged of{system, all_day};
  judge_year(of, verdict);
  if (system.year()) hold_openings_to_dry_time(all_day, verdict);
  weigh_year(of, judge_year, verdict);
  judge_records(of, judge_year, verdict);
  judge_falling(of, judge_year, verdict);
}

std::vector<Code> dry_times_codes() { return {need_fails_in_dry_season_rule}; }

}  // namespace runnel::verdict
