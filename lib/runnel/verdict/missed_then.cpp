#include "runnel/verdict/missed_then.h"

#include <algorithm>

#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/first_days.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/splits.h"
#include "runnel/verdict/velocity_states.h"

namespace runnel::verdict {
namespace {

using dry::Asks, dry::Judged, dry::missed, dry::short_of_draws, dry::slow_fillings;
using network::System;

}  // namespace

Sentence missed_then(const Judged& then, const System& while_filling, const Judged& of, const Asks& now) {
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

Sentence missed_for_long(const Judged& then, const JudgeYear& judge_year, const Asks& now) {
  if (then.system.year()) {
    const auto wrong = wrong_in_year(then, judge_year, now);
    return wrong ? Sentence().name(wrong->where.place).say(" has not enough through the year") : Sentence();
  }
  const System lasting = as_siphons_leave(then.all_day);
  if (!lasts_day_by_day(dry::day_of(lasting))) return {};
  const auto late = late_at_times(lasting, now);
  return late ? late->words : Sentence();
}

}  // namespace runnel::verdict
