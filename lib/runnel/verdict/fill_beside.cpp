#include "runnel/verdict/fill_beside.h"

#include <algorithm>
#include <set>
#include <string_view>

#include "runnel/verdict/codes.h"
#include "runnel/verdict/margins.h"

namespace runnel::verdict {
namespace {

/// The codes of all rules that a filling follows by itself.
const std::set<std::string_view>& followed_here() {
  static const std::set<std::string_view> followed = [] {
    std::set<std::string_view> some;
    for (const Code& code : codes())
      if (code.filling == Filling::follows) some.insert(code.code);
    return some;
  }();
  return followed;
}

}  // namespace

std::vector<Finding> of_flow(const FillSeen& seen, bool followed) {
  std::vector<Finding> found;
  for (const Finding& f : seen.flow ? seen.flow->findings : std::vector<Finding>{})
    if (bearing(f) != Ruling::holds && (followed || !followed_here().contains(f.code))) found.push_back(f);
  return found;
}

void say_of_flow(const FillSeen& seen, const FillVerdict& verdict, Sentence& s) {
  if (!s.empty() || verdict.good()) return;
  if (verdict.as_flow_judges) {
    s.append(seen.flow->sentence).say(" In this run: ");
    return;
  }
  for (const Finding& f : verdict.of_flow) {
    if (bearing(f) != verdict.ruling || is_of_velocity(f)) continue;  // velocities are said by themselves
    s.say(bearing(f) == Ruling::fails ? "It must not be relied on as it is. "
                                      : "It cannot be said whether it works. ");
    s.append(sentence_of(f)).say(" ");
    return;
  }
}

namespace {

/// The conditions of the steady answer that are not followed in a filling; empty if there are none.
Sentence conditions_of_flow(const FillSeen& seen, const FillVerdict& verdict) {
  return verdict.of_flow.empty() ? Sentence() : condition_of(*seen.flow);
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
    s.say(" Once water arrives, all that is asked comes");
}

}  // namespace

void all_met(const FillSeen& seen, const FillVerdict& verdict, Sentence& s) {
  if (!verdict.good()) return;
  const bool asked =
      std::any_of(verdict.asks.begin(), verdict.asks.end(), [](const AskResult& r) { return !r.cut_off; });
  if (asked) say_from_when(seen, verdict, s);
  const Sentence flow = conditions_of_flow(seen, verdict);
  const bool conditional = !verdict.only_if.empty() || !flow.empty();
  if (!asked && conditional) s.say(" That holds");
  if (conditional) s.say(", but only ").append(flow);
  const std::string more = conditions_once({verdict.only_if}, flow.text());
  if (!more.empty()) s.say(flow.empty() ? "" : " and ").say(more);
  if (asked || conditional) s.say(".");
}

}  // namespace runnel::verdict
