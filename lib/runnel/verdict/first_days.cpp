#include "runnel/verdict/first_days.h"

#include <fmt/format.h>

#include <algorithm>

#include "runnel/filling/draws.h"
#include "runnel/filling/fill.h"
#include "runnel/network/change.h"
#include "runnel/network/corner.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/verdict/beyond_reach.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/cures_tried.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/fill_watch.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/missing_draws.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/start_levels.h"

namespace runnel::verdict {
namespace {

using network::System;

constexpr Code draws_missed_at_first_rule{
    "draws-missed-at-first",
    "a tank that does not give all that is drawn or asked until it has filled",
    "From full tanks all that is drawn and asked comes, day after day. From the levels as drawn, "
    "and from midnight on, some of it is missing before the tanks have filled.",
    "The herd that comes on the first day finds the trough empty; and whatever empties the tank once brings "
    "that day back.",
    "Let the tank fill before anything is drawn from it.",
    "computed: the draws followed hour by hour from the levels as drawn"};

constexpr Code float_opens_late_rule{
    "float-opens-too-late",
    "a float valve that opens too late",
    "From a tank that is full at midnight all that is drawn comes. From one that is full at another hour it "
    "does not: on some day the water stands nearly as low as where the float valve opens when people come.",
    "The hour at which a float valve shuts changes from day to day, so sooner or later that day comes.",
    "Let the float valve open higher, store more, or draw less.",
    "computed: the draws followed for a month, from every other hour of the day on"};

constexpr double below_full_m = 1e-3;   // a millimetre is no water to speak of
constexpr std::size_t most_begins = 6;  // of draws at which the filling is begun
constexpr int hours_spread = 24;        // over the day, at which a tank may last have been full
constexpr double longest_first_s = 30.0 * filling::day_s;
// A month in which no day is like the day before has seen float valves open at many hours; then what matters
// of another start is its first days.
constexpr double longest_later_s = 5.0 * filling::day_s;
// Of a tank's volume in a step: what comes is followed to a thousandth only.
constexpr double exact_at_first = 1e-6;
// Newton steps: a second or two of a small system.
constexpr filling::WorkLimit patience_at_first{.at_once = 5e5, .a_day = 0.0};

/// Tanks that stand below where they are full.
std::vector<const network::Tank*> low_tanks(const System& system) {
  std::vector<const network::Tank*> low;
  for (const network::Tank& tank : system.tanks()) {
    const Length full = network::full_level(system.model(), tank);
    if (!tank.held && tank.level < full - Length::metres(below_full_m)) low.push_back(&tank);
  }
  return low;
}

/// Tanks whose float valve waits until they have sunk before it opens. How full such a tank is when people
/// come depends on the hour at which its float last shut.
std::vector<const network::Tank*> waiting_tanks(const System& system) {
  constexpr double band_m = 0.01;  // sinks by more before it opens
  std::vector<const network::Tank*> tanks;
  for (const network::Tank& tank : system.tanks()) {
    const auto floats = network::floats_of(system.model(), tank);
    const auto waits = [&](const network::FloatValve& valve) {
      return valve.opens_at < valve.shuts_at - Length::metres(band_m);
    };
    if (std::any_of(floats.begin(), floats.end(), waits)) tanks.push_back(&tank);
  }
  return tanks;
}

/// Of some tanks the one for which something is missed at a place: the place itself, one that gives to it, or
/// one beside it.
const network::Tank& to_blame(const System& system, const std::vector<const network::Tank*>& tanks,
                              const std::string& place) {
  for (const network::Tank* tank : tanks)
    if (tank->name == place) return *tank;
  for (const network::Tank* tank : tanks)
    if (gives_to(system.model(), tank->name, place)) return *tank;
  return *tanks.front();
}

/// The first days from some hour on.
struct FirstDays {
  bool followed = false;  ///< false: the run was given up
  double hour = 0.0;      ///< of the day, at which they begin
  double until_s = 0.0;   ///< when one day was like the day before
  std::optional<MissingDraw> missing;
  std::optional<AskResult> short_of;  ///< a need that is met otherwise, at the instant at which it gets least

  bool all_comes() const { return !missing && !short_of; }
  const std::string& place() const { return missing ? missing->place : short_of->ask.at; }
};

/// What has to come from the first day on.
struct Due {
  const std::vector<std::string>& cut_off;
  std::vector<AskResult> asks;  ///< as judged in the other states
};

std::string at_oclock(double hour) { return fmt::format("{:g} o'clock", hour); }

/// A run that shows what is missing, if it begins with full tanks.
std::string shown_by_fill(const System& drawn, double hour) {
  return !low_tanks(drawn).empty() ? "" : fmt::format(" `runnel fill --start-hour {:g}` shows it.", hour);
}

/// "1 m3 of what is drawn at tap is missing", "tap gets 0.1 L/s of the 0.2 L/s asked".
Sentence what_is_short(const FirstDays& days) {
  if (!days.missing) return shortfall(*days.short_of);
  return Sentence()
      .figure(Kind::volume, days.missing->missing_m3)
      .say(" of what is drawn at ")
      .name(days.missing->place)
      .say(" is missing");
}

/// Of one beside the place, which takes its head while it fills, no sooner opening helps.
Finding opens_too_late(const FirstDays& days, const LateFloat& late) {
  Draft d(float_opens_late_rule, Severity::error);
  d.at_place(late.place);
  if (const auto& missing = days.missing)
    d.against({Kind::volume, missing->missing_m3}, {Kind::volume, missing->asked_m3});
  d.message.append(what_is_short(days)).say(late.beside ? " while " : " when ").name(late.tank);
  d.message.say(late.beside ? " fills, when that was last full at " : " was last full at ")
      .say(at_oclock(days.hour))
      .say(late.beside ? "." : ": its float valve opens too late.");
  d.advice.say(late.beside ? "Throttle the way into " : "Let the float valve of ").name(late.tank);
  d.advice
      .say(late.beside ? " before its float valve, or lay larger pipe up to where their ways part."
                       : " open higher, store more, or draw less.")
      .say(late.shown_by);
  return d.done();
}

FirstDays first_days_from(const System& system, double start_hour, double most_s, const Due& due) {
  const auto is_due = [&](const std::string& place) {
    return std::find(due.cut_off.begin(), due.cut_off.end(), place) == due.cut_off.end();
  };
  FillWatch watch(system, start_hour, begins_empty(system.model()));
  filling::FillOptions options{.start_hour = start_hour,
                               .tolerance = exact_at_first,
                               .every_s = 0.0,
                               .keep_steps = false,
                               .most_s = most_s,
                               .work = patience_at_first};
  options.look = [&](double time_s, const auto& state) { watch.look(time_s, state); };
  const filling::FillHistory history = filling::fill(system, options);
  if (history.outcome != filling::FillOutcome::done) return {.hour = start_hour};
  return {true, start_hour, history.duration_s, missing_draw(system, history, is_due),
          short_in(watch, due.asks)};
}

/// Midnight, the hours at which some draw begins, and `more` hours spread over the day. Nobody knows when the
/// water is let in, or a tank was last full.
std::vector<double> hours_to_begin(const System& system, int more) {
  std::vector<double> hours{0.0};
  for (int h = 1; h < more; ++h) hours.push_back(24.0 * h / more);
  const std::size_t most_hours = hours.size() + most_begins;
  const auto begin_at = [&](double hour) {
    if (std::find(hours.begin(), hours.end(), hour) == hours.end() && hours.size() < most_hours)
      hours.push_back(hour);
  };
  const auto add = [&](const auto& places) {
    for (const auto& place : places)
      for (const network::Draw& draw : place.draws) begin_at(draw.from_hour);
  };
  add(system.tanks());
  add(system.outlets());
  add(system.joints());
  return hours;
}

/// The first start with which something is missing, or that cannot be followed. What cannot be followed once
/// costs as much at every other hour.
FirstDays first_days_to_miss(const System& system, int hours, const Due& due) {
  FirstDays days{.followed = true};
  double most_s = longest_first_s;
  for (const double hour : hours_to_begin(system, hours)) {
    days = first_days_from(system, hour, most_s, due);
    if (!days.all_comes() || !days.followed) break;
    if (days.until_s >= longest_first_s) most_s = longest_later_s;
  }
  return days;
}

/// The condition under which all comes that is missing before a tank has filled. `where`: " if ..." it does
/// not turn out as written.
void fill_first(const System& drawn, const std::vector<const network::Tank*>& low, const FirstDays& days,
                const char* where, FlowVerdict& verdict) {
  const std::string& place = days.place();
  const std::string& filled = to_blame(drawn, low, place).name;
  Draft d(draws_missed_at_first_rule, Severity::warning);
  d.at_place(place);
  // One whose lip lies above the water that feeds it is never full.
  const char* how_far = full_beyond_reach(drawn, filled) ? " as far as it can" : "";
  d.message.say("Before ").name(filled).say(" has filled").say(how_far).say(", ");
  d.message.append(what_is_short(days)).say(where).say(".");
  // Of one that begins empty it is said already (start_levels.h).
  if (!gives_nothing_yet(drawn.model(), *drawn.tank(filled)))
    d.advice.say("Let ").name(filled).say(" fill").say(how_far).say(" before anything is drawn from it.");
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(Sentence().say("once ").name(filled).say(" has filled").say(how_far));
}

/// From the levels as drawn, before the tanks have filled.
FirstDays before_filled(const System& lasting, const std::vector<const network::Tank*>& low, const Due& due) {
  return low.empty() ? FirstDays{.followed = true} : first_days_to_miss(lasting, 1, due);
}

/// From full tanks at any hour, on which it depends when float valves open.
FirstDays after_full(const System& lasting, const std::vector<const network::Tank*>& waiting,
                     const Due& due) {
  return waiting.empty() ? FirstDays{.followed = true}
                         : first_days_to_miss(network::with_full_tanks(lasting), hours_spread, due);
}

void fails_after_full(const System& drawn, const std::vector<const network::Tank*>& waiting,
                      const FirstDays& days, FlowVerdict& verdict) {
  const std::string& place = days.place();
  if (verdict.fails_at(place)) return;
  const std::string& tank = to_blame(drawn, waiting, place).name;
  verdict.late_float = LateFloat{place, tank, tank != place && !gives_to(drawn.model(), tank, place),
                                 shown_by_fill(drawn, days.hour)};
  verdict.findings.push_back(opens_too_late(days, *verdict.late_float));
}

/// A system where what nobody knows exactly turns out badly, as its siphons leave it; none where something is
/// missed there on every day, which has its own condition.
std::optional<System> lasting_at(const System& drawn, const network::Unknowns& unknown) {
  const auto there = network::at_corner(drawn, network::Corner::bad, unknown);
  if (!there) return std::nullopt;
  System lasting = as_siphons_leave(*there.value);
  if (!dry::short_of_draws(dry::day_of(lasting)).empty()) return std::nullopt;
  return lasting;
}

/// Whether something is known to be missing.
bool misses(const FirstDays& days) { return days.followed && !days.all_comes(); }

/// The same where what nobody knows exactly turns out badly.
void weigh_first_days(const System& drawn, const Due& due, bool filled_first, FlowVerdict& verdict) {
  Due rest{due.cut_off, {}};
  for (AskResult r : due.asks) {
    r.met = r.met && r.only_if.empty();
    rest.asks.push_back(std::move(r));
  }
  const auto low = low_tanks(drawn), waiting = waiting_tanks(drawn);
  const auto later = [&](const System& there) { return after_full(there, waiting_tanks(there), rest); };
  const auto worst = lasting_at(drawn, {});
  if (!worst) return;
  if (!filled_first)
    if (const FirstDays days = before_filled(*worst, low_tanks(*worst), rest); misses(days))
      fill_first(drawn, low, days, " if bore, age of the pipe, cold, survey and yield all turn out badly",
                 verdict);
  const FirstDays days = later(*worst);
  if (!misses(days)) return;
  const std::string condition = turned_alone_by(drawn, [&](const network::Unknowns& unknown) {
    const auto there = lasting_at(drawn, unknown);
    return there && misses(later(*there));
  });
  Draft d("draws-met-only-if", Severity::warning);
  d.at_place(days.place());
  d.message.name(days.place()).say(" gets what is wanted there at every hour only " + condition + ".");
  d.advice.say("Let the float valve of ").name(to_blame(drawn, waiting, days.place()).name);
  d.advice.say(" open higher, or take the condition as part of the promise.");
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(Sentence().say(condition));
}

}  // namespace

void judge_first_days(const System& drawn, const filling::TypicalDay& day,
                      const std::vector<std::string>& cut_off, FlowVerdict& verdict) {
  const auto low = low_tanks(drawn), waiting = waiting_tanks(drawn);
  if ((low.empty() && waiting.empty()) || !day.known || day.draws.empty() || !short_on(day).empty()) return;
  const System lasting = as_it_lasts(drawn, verdict);
  const Due due{cut_off, verdict.asks};
  const FirstDays first = before_filled(lasting, low, due), later = after_full(lasting, waiting, due);
  if (!first.all_comes()) fill_first(drawn, low, first, "", verdict);
  if (!later.all_comes()) fails_after_full(drawn, waiting, later, verdict);
  const bool followed = first.followed && later.followed;
  if (!followed) verdict.findings.push_back(hours_not_followed(filling::HoursLost::levels));
  if (followed && later.all_comes()) weigh_first_days(drawn, due, !first.all_comes(), verdict);
}

std::optional<LateAtTimes> late_at_times(const System& lasting, const std::vector<AskResult>& asks) {
  const auto waiting = waiting_tanks(lasting);
  std::vector<std::string> cut_off;
  for (const AskResult& r : asks)
    if (r.cut_off) cut_off.push_back(r.ask.at);
  const FirstDays days = after_full(lasting, waiting, {cut_off, asks});
  if (!misses(days)) return std::nullopt;
  LateAtTimes late{days.place(), to_blame(lasting, waiting, days.place()).name, what_is_short(days)};
  late.words.say(" when ").name(late.tank).say(" was last full at ").say(at_oclock(days.hour));
  return late;
}

std::vector<Code> first_days_codes() { return {draws_missed_at_first_rule, float_opens_late_rule}; }

}  // namespace runnel::verdict
