// Branches that have to start while the rest of the system runs.
#include <algorithm>

#include "runnel/network/no_flow.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/air_rules.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {
namespace {

constexpr Code branch_start_rule{
    "branch-start",
    "a branch does not start while the rest runs",
    "The air in a branch needs more height at its tee than is left there when everything else runs. "
    "With the rest shut the source lifts it higher. If its own current then carries the air off, it may "
    "run on when the rest is opened: the order of opening decides. Both are worked out with the whole "
    "system.",
    "The branch ran when it was tried alone, and not a drop comes once the main is open.",
    "Open the branch first and let it run until no more air comes; or put air valves at its high points, "
    "so that no order matters.",
    "statics and Boyle's law [start-up-derivation]; laws of clearing [wisner1975], [walski1994]"};

/// What runs once the branch was opened first: by the laws within their range, or by all if none is.
void judge_opened_first(const network::System& system, const air::BranchStart& branch, BranchAnswer& answer) {
  const bool any_in_range = std::any_of(branch.opened_first.begin(), branch.opened_first.end(),
                                        [](const air::OpenedFirst& o) { return o.in_range; });
  std::size_t run = 0, judged = 0;
  for (const air::OpenedFirst& opened : branch.opened_first) {
    if (any_in_range && !opened.in_range) continue;
    const double comes_m3s = arriving_m3s(system, opened.state.state, answer.end);
    answer.opened_first_m3s = judged == 0 ? comes_m3s : std::min(answer.opened_first_m3s, comes_m3s);
    ++judged;
    if (comes_m3s > network::no_flow_m3s) ++run;
  }
  answer.order = run == 0        ? OpeningOrder::none
                 : run == judged ? OpeningOrder::branch_first
                                 : OpeningOrder::perhaps_branch_first;
}

void advise_order(const BranchAnswer& branch, Draft& d) {
  switch (branch.order) {
    case OpeningOrder::any:
      return;
    case OpeningOrder::branch_first:
      d.message.say(" The order of opening decides: opened first it keeps ")
          .figure(Kind::flow, branch.opened_first_m3s)
          .say(".");
      break;
    case OpeningOrder::perhaps_branch_first:
      d.message.say(
          " The order of opening may decide: by some of the published laws the branch, opened first, runs "
          "on, by others not.");
      break;
    case OpeningOrder::none:
      d.message.say(" Opened first, it does not run on either once the rest is opened.");
      d.advice.say("Put air valves at the high points of the branch, or dig them down.");
      return;
  }
  d.advice.say("Open ")
      .name(branch.pipeline)
      .say(
          " first with everything else shut, let it run until no more air comes, and then open the rest; or "
          "put air valves at its high points.");
}

}  // namespace

std::vector<BranchAnswer> judge_branches(const network::System& system, const AirAnswer& answer) {
  std::vector<BranchAnswer> found;
  if (!answer.at_first) return found;
  for (const air::BranchStart& branch : answer.at_first->branches) {
    BranchAnswer one{.path = branch.way,
                     .pipeline = system.lines()[branch.line].name,
                     .tee = system.place_name(branch.tee),
                     .end = answer.paths[branch.way].path.end,
                     .needed_m = branch.needed_m,
                     .running_m = branch.running_m};
    if (!branch.starts_running) judge_opened_first(system, branch, one);
    found.push_back(std::move(one));
  }
  return found;
}

void branch_finding(const BranchAnswer& branch, std::vector<Finding>& out) {
  if (branch.order == OpeningOrder::any) return;
  Draft d(branch_start_rule, Severity::warning);
  d.on_line(branch.pipeline);
  d.message.name(branch.pipeline)
      .say(" does not start while the rest runs: its air needs water at ")
      .figure(Kind::elevation, branch.needed_m)
      .say(" at ")
      .name(branch.tee);
  if (branch.running_m) {
    d.against({Kind::elevation, *branch.running_m}, {Kind::elevation, branch.needed_m});
    d.message.say(", and with everything else running it stands at ")
        .figure(Kind::elevation, *branch.running_m)
        .say(" there.");
  } else {
    d.message.say(", and with everything else running no water stands there.");
  }
  advise_order(branch, d);
  d.source(
      "the whole system solved with the branch shut, and again with its air as each law of clearing leaves "
      "it");
  out.push_back(d.done());
}

std::vector<Code> air_branch_codes() { return {branch_start_rule}; }

}  // namespace runnel::verdict
