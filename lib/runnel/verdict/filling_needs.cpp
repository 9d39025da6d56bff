#include "runnel/verdict/filling_needs.h"

#include <algorithm>

#include "runnel/filling/fill.h"
#include "runnel/network/change.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/start_levels.h"

namespace runnel::verdict {
namespace {

using filling::FillHistory;
using filling::FillOutcome;

constexpr double rounding = 1e-6;  // of an asked time: events are located to less

bool is_open(const AskResult& r) { return r.ask.kind == network::AskKind::full_within && !r.cut_off; }

double longest_s(const std::vector<AskResult>& asks) {
  double longest = 0.0;
  for (const AskResult& r : asks)
    if (is_open(r)) longest = std::max(longest, r.asked.si);
  return longest;
}

void judge_one(const FillHistory& history, AskResult& r) {
  const filling::StorageHistory* tank = history.storage(r.ask.at);
  if (history.outcome != FillOutcome::done || !tank) {
    r.why_not_judged = "the filling could not be followed to that time";
    return;
  }
  r.judged = true;
  r.why_not_judged.clear();
  if (tank->full_after_s) r.got = Figure{Kind::duration, *tank->full_after_s};
  r.met = tank->full_after_s && *tank->full_after_s <= r.asked.si * (1.0 + rounding);
}

}  // namespace

Finding filling_unproved() {
  Draft d("check-failed", Severity::error);
  d.message.say("The course of the filling did not pass the check that works it out again.");
  d.advice.say("Do not rely on it. Please send us the model: this should not happen.");
  d.source("the independent checker");
  return d.done();
}

void judge_filling(const network::System& system, const steady::State& state, const network::System& drawn,
                   FlowVerdict& verdict) {
  if (std::none_of(verdict.asks.begin(), verdict.asks.end(), is_open)) return;
  network::System lasting = with_asked_tanks_empty(drawn, verdict.findings);
  if (verdict.after_siphons)
    for (const BrokenSiphon& siphon : verdict.after_siphons->broken)
      lasting = network::with_open_line(lasting, siphon.line);
  filling::FillOptions options;
  // A little longer than asked, so that a tank that is full at the last moment is seen to be.
  options.duration_s = longest_s(verdict.asks) * (1.0 + 10.0 * rounding);
  const FillHistory history = filling::fill(lasting, options);
  if (history.outcome == FillOutcome::done && !history.record.empty() && !history.proof.consistent)
    verdict.findings.push_back(filling_unproved());
  for (AskResult& r : verdict.asks) {
    if (!is_open(r)) continue;
    if (all_ways_blocked(*verdict.air, r.ask.at))
      r.judged = true;  // and not met: nothing runs in
    else if (air_flow_at(system, state, *verdict.air, r.ask.at))
      r.why_not_judged = "air of the start slows the water, and the filling is followed without it";
    else
      judge_one(history, r);
  }
}

}  // namespace runnel::verdict
