#include "runnel/verdict/spring_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "runnel/network/change.h"
#include "runnel/network/corner.h"
#include "runnel/network/hours.h"
#include "runnel/springs/recession.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/first_days.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/on_record.h"
#include "runnel/verdict/period_words.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/splits.h"
#include "runnel/verdict/velocity_states.h"

namespace runnel::verdict {
namespace {

constexpr Code yield_logged_lower_rule{
    "yield-logged-lower",
    "the spring has given less than the model counts on",
    "An entry of the spring's `log`, or one of its `yearly_yields`, is lower than the yield that the model "
    "counts on.",
    "What a spring has given once it may give again.",
    "Count on the least that was seen, or say under `year` how it goes through the months.",
    "the model's own record of the spring"};

constexpr Code need_fails_at_logged_yield_rule{
    "need-fails-at-logged-yield",
    "a need that was not met at a time on record",
    "With the least yield of the `log` or of the `yearly_yields` the need is not met.",
    "What a spring has given once it may give again.",
    "Ask less, store more, or take it as water for the wetter time of the year.",
    "the model's own record of the spring"};

constexpr Code yield_falls_rule{
    "yield-falls",
    "a yield of one day that falls until rain comes",
    "The yield was measured on a day and falls by half in the time stated. The figures are those of that "
    "day; where needs are asked, the day is told on which they are missed first.",
    "A spring that is measured after rain promises more than it keeps.",
    "Measure it again in the dry season, or say under `year` how it goes through the months.",
    "exponential recession [maillet1905]"};

constexpr Code yield_of_a_day_rule{
    "yield-of-a-day",
    "a yield of one day that is enough for long",
    "The yield was measured on a day and falls by half in the time stated. The needs are met all the same.",
    "The flows shown are those of the day it was measured.",
    "Nothing, if that is what is meant.",
    "exponential recession [maillet1905]"};

using dry::Asks, dry::Judged, dry::missed, dry::short_of_draws, dry::slow_fillings, dry::yields_now;
using network::System;

std::string date_words(int year, int month, int day) {
  return fmt::format("{:04}-{:02}-{:02}", year, month, day);
}

void say_record(Sentence& s, const OnRecord& entry) {
  s.figure(Kind::flow, entry.yield.si()).say(" of " + entry.when);
}

/// Which of the needs that are met now are missed at another time, and with what the springs give while a
/// tank fills then: "tap gets 0.02 L/s of the 0.05 L/s asked". Empty if none is.
Sentence missed_at(const Judged& then, const System& while_filling, const Judged& of, const Asks& now) {
  const filling::TypicalDay day = dry::day_of(then.all_day);
  if (const auto asks = dry::needs_at(then.system, day))
    for (std::size_t i = 0; i < asks->size(); ++i) {
      if (missed(now[i], (*asks)[i])) return shortfall((*asks)[i]);
      if (dry::held(now[i]) && hangs_only_then(now[i], (*asks)[i])) return hangs_then((*asks)[i]);
    }
  if (Asks slow = slow_fillings(while_filling, now, day); !slow.empty()) {
    slow.front().got.reset();  // the condition names the time asked alone
    return shortfall(slow.front());
  }
  if (const auto velocity = velocity_missed(then.system, velocities_of(of.system)))
    return say_velocity(*velocity);
  // Where a need is missed as drawn, that is said, and not a second time for drier days.
  if (std::any_of(now.begin(), now.end(), [](const AskResult& r) { return r.missed(); })) return {};
  const std::string drawn = short_of_draws(day);
  if (drawn.empty() || !short_of_draws(dry::day_of(of.all_day)).empty()) return {};  // that is told already
  return Sentence().name(drawn).say(" gets less than is drawn there");
}

/// Whether anything is asked that another yield might leave unmet.
bool anything_wanted(const System& system, const FlowVerdict& verdict) {
  const bool needs = std::any_of(verdict.asks.begin(), verdict.asks.end(),
                                 [](const AskResult& r) { return r.judged && r.met && !r.cut_off; });
  return needs || !system.model().velocity_asks.empty() || network::has_draws(system.model());
}

/// What a system lasts in: its year, or else a month in which float valves open at any hour.
Sentence missed_for_long(const Judged& of, const JudgeYear& judge_year, const Asks& now) {
  if (of.system.year()) {
    const auto wrong = wrong_in_year(of, judge_year, now);
    return wrong ? Sentence().name(wrong->where.place).say(" has not enough through the year") : Sentence();
  }
  const System lasting = as_siphons_leave(of.all_day);
  if (!lasts_day_by_day(dry::day_of(lasting))) return {};
  const auto late = late_at_times(lasting, now);
  return late ? late->words : Sentence();
}

/// What is missed in years as dry as those on record.
class DryYears {
 public:
  DryYears(const Judged& of, const Record& record, const JudgeYear& judge_year, const FlowVerdict& verdict)
      : of_(of), record_(record), judge_year_(judge_year), verdict_(verdict) {}

  /// By a share of the way from what is counted on to the record. Empty if nothing is.
  Sentence missed(double share) const {
    const Sentence soon = missed_soon(share);
    return soon.empty() ? missed_later(share) : soon;
  }

  /// The share of the way at which all that is wanted just comes. What has to last is looked at last: it
  /// costs most.
  double just_enough() const {
    double share = 1.0;
    if (!missed_soon(share).empty()) share = last_met(share, &DryYears::missed_soon);
    if (!missed_later(share).empty()) share = last_met(share, &DryYears::missed_later);
    return share;
  }

 private:
  Sentence missed_soon(double share) const {
    const System system = in_such_a_year(of_.system, record_, share);
    const System all_day = in_such_a_year(of_.all_day, record_, share);
    return missed_at({system, all_day}, all_day, of_, verdict_.asks);
  }

  Sentence missed_later(double share) const {
    if (!misses_nothing(verdict_)) return {};
    const System system = in_such_a_year(of_.system, record_, share);
    const System all_day = in_such_a_year(of_.all_day, record_, share);
    return missed_for_long({system, all_day}, judge_year_, verdict_.asks);
  }

  /// Between what is counted on and a share at which something is missed.
  double last_met(double too_dry, Sentence (DryYears::*looks)(double) const) const {
    constexpr int halvings = 20;  // to a millionth of the way
    double met = 0.0;
    for (int i = 0; i < halvings; ++i) {
      const double half = 0.5 * (met + too_dry);
      ((this->*looks)(half).empty() ? met : too_dry) = half;
    }
    return met;
  }

  const Judged& of_;
  const Record& record_;
  const JudgeYear& judge_year_;
  const FlowVerdict& verdict_;
};

/// Whether no year on record gave enough, which is no matter of a dry one. One year alone may have been dry.
bool never_enough(const network::Box& box, Flow enough) {
  const auto& years = box.history.years;
  return years.size() > 1 &&
         std::all_of(years.begin(), years.end(), [&](const auto& year) { return year.least < enough; });
}

/// What is missed in such years with what nobody knows exactly against it; nothing where that alone is enough
/// to miss something, which has its own condition, or where it cannot be computed. What a spring gives then
/// is on record.
Sentence missed_at_corner(const Judged& of, const Record& record, network::Unknowns unknown,
                          const JudgeYear& judge_year, const FlowVerdict& verdict) {
  unknown.yield = false;
  const auto system = network::at_corner(of.system, network::Corner::bad, unknown);
  const auto all_day = network::at_corner(of.all_day, network::Corner::bad, unknown);
  if (!system || !all_day) return {};
  const Judged there{*system.value, *all_day.value};
  const DryYears years(there, record, judge_year, verdict);
  return years.missed(0.0).empty() ? years.missed(1.0) : Sentence();
}

/// Where a year as dry as on record is enough as all is written: the same at the bad corner.
void weigh_dry_year(const Judged& of, const Record& record, const JudgeYear& judge_year,
                    FlowVerdict& verdict) {
  if (!misses_nothing(verdict)) return;
  FlowVerdict firm;
  firm.asks = verdict.asks;
  for (AskResult& r : firm.asks)
    if (!r.only_if.empty()) r.judged = false;
  const auto missed = [&](const network::Unknowns& unknown) {
    return !missed_at_corner(of, record, unknown, judge_year, firm).empty();
  };
  if (!missed({})) return;
  const std::string condition = turned_alone_by(of.system, missed);
  Draft d("year-met-only-if", Severity::warning);
  const auto entry =
      std::find_if(record.begin(), record.end(), [](const auto& one) { return one.has_value(); });
  d.at_place(of.system.boxes()[static_cast<std::size_t>(entry - record.begin())].name);
  d.message.say("With the ");
  say_record(d.message, **entry);
  d.message.say(" all comes only ").say(condition).say(".");
  d.advice.say(what_to_do(condition));
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(Sentence().say(condition));
}

void judge_record(const System& system, const network::Box& box, const OnRecord& entry, const Sentence& fails,
                  Flow enough, FlowVerdict& verdict) {
  const bool never = !fails.empty() && never_enough(box, enough);
  Draft d(fails.empty() ? yield_logged_lower_rule : need_fails_at_logged_yield_rule,
          never ? Severity::error : Severity::warning);
  d.at_place(box.name);
  d.against({Kind::flow, fails.empty() ? entry.counted.si() : enough.si()}, {Kind::flow, entry.yield.si()});
  d.message.name(box.name).say(" is counted on for ").figure(Kind::flow, entry.counted.si());
  if (entry.period) d.message.say(" in " + period_words(*entry.period, system.year()->periods()));
  d.message.say(entry.by_its_spread ? ", and by its spread between years come the "
                                    : ", and on record are the ");
  say_record(d.message, entry);
  if (!fails.empty()) d.message.say(": with that ").append(fails);
  d.message.say(never ? ". No year on record gave enough." : ".");
  d.advice.say("Count on the least that ").name(box.name).say(" has given");
  d.advice.say(entry.period ? "." : ", or say under `year` how it goes.");
  verdict.findings.push_back(d.done());
  if (fails.empty() || never) return;
  Sentence condition;
  condition.say("if ").name(box.name).say(" never gives less than ").least(Kind::flow, enough.si());
  condition.say(", unlike the ");
  say_record(condition, entry);
  verdict.dry_conditions.push_back(std::move(condition));
}

bool falls(const network::Box& box) { return box.history.halves_in && box.yield.si() > 0.0; }

/// The day on which the yield was measured; where nobody says which, days count from it.
std::chrono::sys_days measured_on(const network::Box& box) {
  return box.history.measured.value_or(std::chrono::sys_days{});
}

std::vector<Flow> yields_on(const System& system, std::chrono::sys_days date) {
  std::vector<Flow> yields = yields_now(system);
  for (std::size_t b = 0; b < yields.size(); ++b) {
    const network::Box& box = system.boxes()[b];
    if (!falls(box)) continue;
    const auto days = static_cast<double>((date - measured_on(box)).count());
    const auto recession = springs::recession_from_half_life(box.yield, *box.history.halves_in);
    yields[b] = recession.after(Duration::days(std::max(0.0, days)));
  }
  return yields;
}

/// The longest time that a tank may take to fill; nothing if none is asked.
Duration longest_filling(const Asks& asks) {
  Duration longest;
  for (const AskResult& r : asks)
    if (r.ask.kind == network::AskKind::full_within) longest = std::max(longest, r.ask.within);
  return longest;
}

/// The mean of what springs give from a day on: they go on falling while a tank fills.
std::vector<Flow> mean_yields_from(const System& system, std::chrono::sys_days date, Duration time) {
  std::vector<Flow> yields = yields_on(system, date);
  for (std::size_t b = 0; b < yields.size(); ++b) {
    const network::Box& box = system.boxes()[b];
    if (!falls(box) || !(time.si() > 0.0)) continue;
    const double share = std::log(2.0) * time.si() / box.history.halves_in->si();
    yields[b] = yields[b] * (-std::expm1(-share) / share);
  }
  return yields;
}

/// What is missed if it is counted from a day on. Empty if nothing is.
Sentence missed_from(const Judged& of, std::chrono::sys_days date, const Asks& now) {
  const std::vector<Flow> yields = yields_on(of.system, date);
  const System system = network::with_yields(of.system, yields);
  const System all_day = network::with_yields(of.all_day, yields);
  const auto mean = mean_yields_from(of.system, date, longest_filling(now));
  return missed_at({system, all_day}, network::with_yields(of.all_day, mean), of, now);
}

/// The first of some days on which something is missed; none if nothing is on the last. It is met on day 0.
template <class Missed>
std::optional<int> first_day(int last, const Missed& missed_on) {
  if (!missed_on(last)) return std::nullopt;
  int met = 0, missed = last;
  while (missed - met > 1) {
    const int half = (met + missed) / 2;
    (missed_on(half) ? missed : met) = half;
  }
  return missed;
}

/// The first day on which something is missed, looked for over the halvings that leave a thousandth: on the
/// day itself, or in the time that the system has to last in.
std::optional<std::chrono::sys_days> first_missed(const Judged& of, const network::Box& last_measured,
                                                  const JudgeYear& judge_year, const FlowVerdict& verdict) {
  constexpr double halvings = 10.0, most_days = 36500.0;
  const Asks& now = verdict.asks;
  const auto date = [&](int days) { return measured_on(last_measured) + std::chrono::days{days}; };
  int last =
      static_cast<int>(std::ceil(std::min(most_days, halvings * last_measured.history.halves_in->days())));
  std::optional<int> first =
      first_day(last, [&](int days) { return !missed_from(of, date(days), now).empty(); });
  if (first) last = *first - 1;
  const auto long_missed = [&](int days) {
    const std::vector<Flow> yields = yields_on(of.system, date(days));
    const System system = network::with_yields(of.system, yields);
    const System all_day = network::with_yields(of.all_day, yields);
    return !missed_for_long({system, all_day}, judge_year, now).empty();
  };
  if (last > 0 && misses_nothing(verdict))
    if (const auto sooner = first_day(last, long_missed)) first = sooner;
  return first ? std::optional(date(*first)) : std::nullopt;
}

std::string date_words(std::chrono::sys_days date) {
  const std::chrono::year_month_day ymd{date};
  return date_words(static_cast<int>(ymd.year()), static_cast<int>(static_cast<unsigned>(ymd.month())),
                    static_cast<int>(static_cast<unsigned>(ymd.day())));
}

std::string days_words(long days) { return std::to_string(days) + (days == 1 ? " day" : " days"); }

/// Springs that fall, the one measured last first: from its day on all is counted.
std::vector<const network::Box*> falling(const System& system) {
  std::vector<const network::Box*> boxes;
  for (const network::Box& box : system.boxes())
    if (falls(box)) boxes.push_back(&box);
  std::stable_sort(boxes.begin(), boxes.end(), [](const network::Box* a, const network::Box* b) {
    return measured_on(*a) > measured_on(*b);
  });
  return boxes;
}

/// "until 2026-06-11", "for 39 days from then": as long as the needs are met.
std::string how_long(const network::Box& last, std::chrono::sys_days missed_on) {
  if (last.history.measured) return "until " + date_words(missed_on - std::chrono::days{1});
  return "for " + days_words((missed_on - measured_on(last)).count() - 1) + " from then";
}

/// `met`: how long the needs are met, in words and from the day on which the springs were measured.
Finding falls_by_half(const network::Box& box, bool condition, const std::string& met, Duration met_for) {
  Draft d(condition ? yield_falls_rule : yield_of_a_day_rule, Severity::warning);
  d.at_place(box.name);
  if (!met.empty()) d.against({Kind::duration, met_for.si()}, {Kind::duration, box.history.halves_in->si()});
  d.message.name(box.name).say(" gave ").figure(Kind::flow, box.yield.si());
  d.message.say(
      (box.history.measured ? " on " + date_words(*box.history.measured) : " when it was measured") +
      " and gives half as much every ");
  d.message.figure(Kind::duration, box.history.halves_in->si()).say(" until rain comes");
  if (!met.empty())
    d.message.say(": without rain the needs are met " + met + ".");
  else
    d.message.say(": the flows shown are those of that day.");
  d.advice.say("Measure ").name(box.name).say(" again in the dry season, or say under `year` how it goes.");
  return d.done();
}

/// A tank that would be full in time if the spring did not fall while it fills.
Finding falls_too_fast(const network::Box& box, const Sentence& fails) {
  Draft d(yield_falls_rule, Severity::error);
  d.at_place(box.name);
  d.message.name(box.name).say(" gives half as much every ");
  d.message.figure(Kind::duration, box.history.halves_in->si())
      .say(" until rain comes: counted from the day ");
  d.message.say("it was measured, ").append(fails).say(".");
  d.advice.say("Find more water, or a spring that falls more slowly.");
  return d.done();
}

/// "while A and B give no less than they do by their halving, ...".
Sentence while_they_give(const std::vector<const network::Box*>& boxes,
                         std::optional<std::chrono::sys_days> missed_on) {
  const network::Box& last = *boxes.front();
  const bool one = boxes.size() == 1;
  Sentence s;
  s.say("while ").name(last.name);
  if (boxes.size() == 2) s.say(" and ").name(boxes.back()->name);
  if (boxes.size() > 2) s.say(" and " + std::to_string(boxes.size() - 1) + " more springs");
  if (missed_on)
    return s
        .say(one ? " gives no less than it does by its halving, without rain, "
                 : " give no less than they do by their halving, without rain, ")
        .say(how_long(last, *missed_on));
  s.say(one ? " gives what it gave " : " give what they gave ");
  if (!last.history.measured) return s.say(one ? "when it was measured" : "when they were measured");
  return s.say("on " + date_words(*last.history.measured));
}

}  // namespace

void judge_records(const Judged& of, const JudgeYear& judge_year, FlowVerdict& verdict) {
  const Record record = least_on_record(of.system);
  if (std::none_of(record.begin(), record.end(), [](const auto& entry) { return entry.has_value(); })) return;
  const DryYears years(of, record, judge_year, verdict);
  const Sentence fails = years.missed(1.0);
  const double share = fails.empty() ? 1.0 : years.just_enough();
  for (std::size_t b = 0; b < record.size(); ++b)
    if (const auto& entry = record[b])
      judge_record(of.system, of.system.boxes()[b], *entry, fails,
                   entry->counted + (entry->yield - entry->counted) * share, verdict);
  if (fails.empty()) weigh_dry_year(of, record, judge_year, verdict);
  hold_to_now_and_then_in(as_siphons_leave(in_such_a_year(of.all_day, record, share)), verdict);
}

void judge_falling(const Judged& of, const JudgeYear& judge_year, FlowVerdict& verdict) {
  const System& system = of.system;
  const std::vector<const network::Box*> boxes = falling(system);
  if (boxes.empty()) return;
  const network::Box& last = *boxes.front();
  const bool any = anything_wanted(system, verdict);
  const Sentence at_once = any ? missed_from(of, measured_on(last), verdict.asks) : Sentence();
  if (!at_once.empty()) {
    verdict.findings.push_back(falls_too_fast(last, at_once));
    return;
  }
  const auto day = any ? first_missed(of, last, judge_year, verdict) : std::nullopt;
  const bool condition = day || !any;
  for (const network::Box* box : boxes)
    verdict.findings.push_back(falls_by_half(
        *box, condition, day ? how_long(last, *day) : "",
        day ? Duration::days(static_cast<double>((*day - measured_on(last)).count())) : Duration{}));
  if (condition) verdict.dry_conditions.push_back(while_they_give(boxes, day));
  if (!day) return;
  const auto last_yields = yields_on(system, *day - std::chrono::days{1});
  hold_to_now_and_then_in(as_siphons_leave(network::with_yields(of.all_day, last_yields)), verdict);
}

std::vector<Code> spring_record_codes() {
  return {yield_logged_lower_rule, need_fails_at_logged_yield_rule, yield_falls_rule, yield_of_a_day_rule};
}

}  // namespace runnel::verdict
