#include "runnel/verdict/dry_years.h"

#include <algorithm>

#include "runnel/network/corner.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/missed_then.h"
#include "runnel/verdict/on_record.h"
#include "runnel/verdict/period_words.h"

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

using dry::Judged;
using network::System;

void say_record(Sentence& s, const OnRecord& entry) {
  s.figure(Kind::flow, entry.yield.si()).say(" of " + entry.when);
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
    return missed_then({system, all_day}, all_day, of_, verdict_.asks);
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
  hold_openings_to_dry_time(in_such_a_year(of.all_day, record, share), verdict);
}

std::vector<Code> dry_years_codes() { return {yield_logged_lower_rule, need_fails_at_logged_yield_rule}; }

}  // namespace runnel::verdict
