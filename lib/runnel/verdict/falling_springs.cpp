#include "runnel/verdict/falling_springs.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <optional>

#include "runnel/network/change.h"
#include "runnel/network/hours.h"
#include "runnel/springs/recession.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/missed_then.h"

namespace runnel::verdict {
namespace {

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

using dry::Asks, dry::Judged, dry::yields_now;
using network::System;

/// Whether anything is asked that another yield might leave unmet.
bool anything_wanted(const System& system, const FlowVerdict& verdict) {
  const bool needs = std::any_of(verdict.asks.begin(), verdict.asks.end(),
                                 [](const AskResult& r) { return r.judged && r.met && !r.cut_off; });
  return needs || !system.model().velocity_asks.empty() || network::has_draws(system.model());
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
  return missed_then({system, all_day}, network::with_yields(of.all_day, mean), of, now);
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
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(ymd.year()), static_cast<unsigned>(ymd.month()),
                     static_cast<unsigned>(ymd.day()));
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
  hold_openings_to_dry_time(network::with_yields(of.all_day, last_yields), verdict);
}

std::vector<Code> falling_springs_codes() { return {yield_falls_rule, yield_of_a_day_rule}; }

}  // namespace runnel::verdict
