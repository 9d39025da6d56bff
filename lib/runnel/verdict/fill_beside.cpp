#include "runnel/verdict/fill_beside.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace runnel::verdict {
namespace {

// What a filling follows by itself, instant by instant, or with its lines empty; and what it is no matter of.
constexpr std::array<std::string_view, 28> followed_here = {
    "ask-not-met",        "ask-not-judged",        "draw-not-met",       "outlet-dry",
    "line-blocked",       "air-start-blocked",     "air-start-doubtful", "air-held-flow",
    "air-not-judged",     "tank-gives-out",        "tank-runs-empty",    "draw-missed-in-its-hours",
    "draws-not-judged",   "tank-sinks-day-by-day", "no-water-arrives",   "need-missed-at-low-water",
    "need-met-only-if",   "draws-met-only-if",     "faster-than-asked",  "slower-than-asked",
    "taps-never-open",    "taps-by-turns",         "runs-only-so-long",  "pressure-below-air",
    "siphon-loses-water", "check-failed",          "no-answer",          "draws-missed-at-first"};

}  // namespace

std::vector<Finding> of_flow(const FillSeen& seen) {
  std::vector<Finding> found;
  for (const Finding& f : seen.flow ? seen.flow->findings : std::vector<Finding>{})
    if (bearing(f) != Ruling::holds &&
        std::find(followed_here.begin(), followed_here.end(), f.code) == followed_here.end())
      found.push_back(f);
  return found;
}

void say_of_flow(const FillSeen& seen, const FillVerdict& verdict, Sentence& s) {
  if (!s.empty() || verdict.good()) return;
  for (const Finding& f : of_flow(seen)) {
    if (bearing(f) != verdict.ruling || is_of_velocity(f)) continue;  // velocities are said by themselves
    s.say(bearing(f) == Ruling::fails ? "It must not be relied on as it is. "
                                      : "It cannot be said whether it works. ");
    s.append(sentence_of(f)).say(" ");
    return;
  }
}

namespace {

/// The conditions of the steady answer that are not followed in a filling; empty if there are none.
Sentence conditions_of_flow(const FillSeen& seen) {
  const bool some = seen.flow && !of_flow(seen).empty();
  return some ? condition_of(*seen.flow) : Sentence();
}

/// When the last of the needs is first met; from then on all are.
double first_all_met_s(const FillSeen& seen, const FillVerdict& verdict) {
  double latest_s = 0.0;
  for (std::size_t i = 0; seen.watch && i < seen.watch->asks().size(); ++i)
    if (!verdict.asks[i].cut_off && verdict.asks[i].ask.kind != network::AskKind::full_within)
      latest_s = std::max(latest_s, seen.watch->asks()[i].first_met_s);
  return latest_s;
}

void say_from_when(const FillSeen& seen, const FillVerdict& verdict, Sentence& s) {
  if (!seen.from_first_water) {
    s.say(" All that is asked comes at every instant of the run");
    return;
  }
  const double from_s = first_all_met_s(seen, verdict);
  if (from_s > 0.0)
    s.say(" From ").figure(Kind::duration, from_s).say(" after the start on, all that is asked comes");
  else
    s.say(" Once water has reached it, all that is asked comes");
}

}  // namespace

void all_met(const FillSeen& seen, const FillVerdict& verdict, Sentence& s) {
  if (!verdict.good()) return;
  const bool asked =
      std::any_of(verdict.asks.begin(), verdict.asks.end(), [](const AskResult& r) { return !r.cut_off; });
  if (asked) say_from_when(seen, verdict, s);
  const Sentence flow = conditions_of_flow(seen);
  const bool conditional = !verdict.only_if.empty() || !flow.empty();
  if (!asked && conditional) s.say(" That holds");
  if (conditional) s.say(", but only ").append(flow);
  const bool said = flow.text().find(verdict.only_if) != std::string::npos;  // by both
  if (!verdict.only_if.empty() && !said) s.say(flow.empty() ? "" : " and ").say(verdict.only_if);
  if (asked || conditional) s.say(".");
}

}  // namespace runnel::verdict
