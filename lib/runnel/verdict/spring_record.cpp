#include "runnel/verdict/spring_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "runnel/network/change.h"
#include "runnel/network/hours.h"
#include "runnel/springs/dry_year.h"
#include "runnel/springs/recession.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/flow_verdict.h"
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

using dry::Asks, dry::Judged, dry::missed, dry::needs_with, dry::short_of_draws, dry::slow_fillings,
    dry::yields_now;
using network::System;

/// The least that it is known to have given, or that is to be expected by its spread between years.
struct OnRecord {
  Flow yield;
  std::string when;            ///< a day, a year, or how often
  bool by_its_spread = false;  ///< reckoned, not seen
};

// The dry year that a supply is held against where only the spread between years is known: one in ten; common
// practice, no source. The normal deviate below which a tenth of the years lie.
constexpr double dry_year_deviate = 1.2816;

std::string date_words(int year, int month, int day) {
  return fmt::format("{:04}-{:02}-{:02}", year, month, day);
}

/// The least that a box gives in the usual year: in its driest period, or all year.
Flow least_of_usual_year(const System& system, const network::Box& box) {
  Flow least = box.yield;
  if (system.year())
    for (const network::Year::Row& row : system.year()->yields)
      if (row.place == box.name && !row.flows.empty())
        least = std::min(least, *std::min_element(row.flows.begin(), row.flows.end()));
  return least;
}

/// One year in ten: by the spread that is stated, about the yields of the years on record or else about the
/// least of the usual year; or by the spread of the years themselves, if they are enough
/// to tell. None if neither is known.
std::optional<OnRecord> one_year_in_ten(const System& system, const network::Box& box) {
  std::vector<Flow> years;
  for (const network::SpringHistory::Year& year : box.history.years) years.push_back(year.least);
  if (box.history.yearly_spread) {
    const double log_spread = springs::log_spread_of_share(*box.history.yearly_spread);
    double mean_log = std::log(least_of_usual_year(system, box).si()), of_mean = 0.0;
    if (!years.empty()) {
      mean_log = 0.0;
      for (const Flow year : years) mean_log += std::log(year.si()) / static_cast<double>(years.size());
      of_mean = 1.0 / static_cast<double>(years.size());
    }
    const double share = dry_year_deviate * log_spread * std::sqrt(1.0 + of_mean);
    return OnRecord{Flow::cubic_metres_per_second(std::exp(mean_log - share)), "one year in ten", true};
  }
  // Two years give a spread that a third may well turn over; common practice, no source.
  constexpr std::size_t fewest_years = 3;
  if (years.size() < fewest_years) return std::nullopt;
  const auto next = springs::yield_of_next_year(years, 0.9);
  if (!next) return std::nullopt;
  return OnRecord{*next, "one year in ten", true};
}

/// From the log, from the yields of several years and by the spread between them; none if the model counts on
/// no more.
std::optional<OnRecord> least_on_record(const System& system, const network::Box& box) {
  std::optional<OnRecord> least;
  const auto take = [&](Flow yield, std::string when) {
    if (!least || yield < least->yield) least = OnRecord{yield, std::move(when)};
  };
  for (const network::SpringLog& log : system.model().logs)
    if (log.box == box.name)
      for (const network::LoggedYield& entry : log.entries)
        take(entry.yield, date_words(entry.year, entry.month, entry.day));
  for (const network::SpringHistory::Year& year : box.history.years)
    take(year.least, std::to_string(year.year));
  if (auto spread = one_year_in_ten(system, box); spread && (!least || spread->yield < least->yield))
    least = spread;
  if (least && !(least->yield.si() < box.yield.si() * (1.0 - 1e-6))) least.reset();
  return least;
}

void say_record(Sentence& s, const OnRecord& entry) {
  s.figure(Kind::flow, entry.yield.si()).say(" of " + entry.when);
}

/// Which of the needs that are met now are missed with other yields, and with those that a tank gets while it
/// fills: "tap gets 0.02 L/s of the 0.05 L/s
/// asked". Empty if none is.
Sentence missed_with(const Judged& of, const std::vector<Flow>& yields,
                     const std::vector<Flow>& while_filling, const Asks& now) {
  const System& system = of.system;
  const filling::TypicalDay day = dry::day_of(network::with_yields(of.all_day, yields));
  if (const auto then = needs_with(system, yields, day))
    for (std::size_t i = 0; i < then->size(); ++i) {
      if (missed(now[i], (*then)[i])) return shortfall((*then)[i]);
      if (dry::held(now[i]) && hangs_only_then(now[i], (*then)[i])) return hangs_then((*then)[i]);
    }
  if (Asks slow = slow_fillings(of.all_day, while_filling, now, day); !slow.empty()) {
    slow.front().got.reset();  // the condition names the time asked alone
    return shortfall(slow.front());
  }
  const System then = network::with_yields(system, yields);
  if (const auto velocity = velocity_missed(then, velocities_of(system))) return say_velocity(*velocity);
  // Where a need is missed as drawn, that is said, and not a second time for drier days.
  if (std::any_of(now.begin(), now.end(), [](const AskResult& r) { return r.missed(); })) return {};
  const std::string drawn = short_of_draws(day);
  if (drawn.empty() || !short_of_draws(dry::day_of(of.all_day)).empty()) return {};  // that is told already
  return Sentence().name(drawn).say(" gets less than is drawn there");
}

Sentence missed_with(const Judged& of, const std::vector<Flow>& yields, const Asks& now) {
  return missed_with(of, yields, yields, now);
}

/// Whether anything is asked that another yield might leave unmet.
bool anything_wanted(const System& system, const FlowVerdict& verdict) {
  const bool needs = std::any_of(verdict.asks.begin(), verdict.asks.end(),
                                 [](const AskResult& r) { return r.judged && r.met && !r.cut_off; });
  return needs || !system.model().velocity_asks.empty() || network::has_draws(system.model());
}

/// Yields between the ones on record and the ones counted on with which every need is just met, all springs
/// raised by the same share of the way.
std::vector<Flow> just_enough(const Judged& of, const std::vector<Flow>& on_record, const Asks& now) {
  constexpr int halvings = 20;  // to a millionth of the way
  const std::vector<Flow> counted = yields_now(of.system);
  const auto at_share = [&](double share) {
    std::vector<Flow> yields = on_record;
    for (std::size_t b = 0; b < yields.size(); ++b)
      yields[b] = on_record[b] + (counted[b] - on_record[b]) * share;
    return yields;
  };
  double low = 0.0, high = 1.0;
  for (int i = 0; i < halvings; ++i) {
    const double half = 0.5 * (low + high);
    (missed_with(of, at_share(half), now).empty() ? high : low) = half;
  }
  return at_share(high);
}

/// Whether no year on record gave enough, which is no matter of a dry one. One year alone may have been dry.
bool never_enough(const network::Box& box, Flow enough) {
  const auto& years = box.history.years;
  return years.size() > 1 &&
         std::all_of(years.begin(), years.end(), [&](const auto& year) { return year.least < enough; });
}

void judge_record(const network::Box& box, const OnRecord& entry, const Sentence& fails, Flow enough,
                  FlowVerdict& verdict) {
  const bool never = !fails.empty() && never_enough(box, enough);
  Draft d(fails.empty() ? yield_logged_lower_rule : need_fails_at_logged_yield_rule,
          never ? Severity::error : Severity::warning);
  d.at_place(box.name);
  d.against({Kind::flow, fails.empty() ? box.yield.si() : enough.si()}, {Kind::flow, entry.yield.si()});
  d.message.name(box.name).say(" is counted on for ").figure(Kind::flow, box.yield.si());
  d.message.say(entry.by_its_spread ? ", and by its spread between years come the "
                                    : ", and on record are the ");
  say_record(d.message, entry);
  if (!fails.empty()) d.message.say(": with that ").append(fails);
  d.message.say(never ? ". No year on record gave enough." : ".");
  d.advice.say("Count on the least that ").name(box.name).say(" has given, or say under `year` how it goes.");
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
  return missed_with(of, yields_on(of.system, date), mean_yields_from(of.system, date, longest_filling(now)),
                     now);
}

/// The first day on which a need is missed, looked for over the halvings that leave a thousandth.
std::optional<std::chrono::sys_days> first_missed(const Judged& of, const Asks& now,
                                                  std::chrono::sys_days measured, Duration halves_in) {
  constexpr double halvings = 10.0, most_days = 36500.0;
  const auto met_on = [&](int days) {
    return missed_from(of, measured + std::chrono::days{days}, now).empty();
  };
  int low = 0, high = static_cast<int>(std::ceil(std::min(most_days, halvings * halves_in.days())));
  if (met_on(high)) return std::nullopt;
  while (high - low > 1) (met_on((low + high) / 2) ? low : high) = (low + high) / 2;
  return measured + std::chrono::days{high};
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

void judge_records(const Judged& of, FlowVerdict& verdict) {
  const System& system = of.system;
  std::vector<Flow> yields = yields_now(system);
  bool lower = false;
  for (std::size_t b = 0; b < yields.size(); ++b)
    if (const auto entry = least_on_record(system, system.boxes()[b])) yields[b] = entry->yield, lower = true;
  if (!lower) return;
  const Sentence fails = missed_with(of, yields, verdict.asks);
  const std::vector<Flow> enough = fails.empty() ? yields : just_enough(of, yields, verdict.asks);
  for (std::size_t b = 0; b < yields.size(); ++b)
    if (const auto entry = least_on_record(system, system.boxes()[b]))
      judge_record(system.boxes()[b], *entry, fails, enough[b], verdict);
}

void judge_falling(const Judged& of, FlowVerdict& verdict) {
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
  const auto day =
      any ? first_missed(of, verdict.asks, measured_on(last), *last.history.halves_in) : std::nullopt;
  const bool condition = day || !any;
  for (const network::Box* box : boxes)
    verdict.findings.push_back(falls_by_half(
        *box, condition, day ? how_long(last, *day) : "",
        day ? Duration::days(static_cast<double>((*day - measured_on(last)).count())) : Duration{}));
  if (condition) verdict.dry_conditions.push_back(while_they_give(boxes, day));
}

std::vector<Code> spring_record_codes() {
  return {yield_logged_lower_rule, need_fails_at_logged_yield_rule, yield_falls_rule, yield_of_a_day_rule};
}

}  // namespace runnel::verdict
