#pragma once
// What a filling means to the person who asked: when it is full, whether it lasts, what is lost.
#include <string>
#include <vector>

#include "runnel/filling/fill.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/fill_watch.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/ruling.h"

namespace runnel::verdict {

struct FillVerdict {
  /// Holds: it ran to its end, every need was judged and is met, no finding is an error.
  Ruling ruling = Ruling::no_answer;
  Sentence sentence;
  std::vector<AskResult> asks;     ///< in the model's order; flow and pressure where least
  std::vector<double> least_at_s;  ///< when that was, for each ask
  std::vector<bool> never_more;    ///< for each ask: from empty never met, so that the figure is its best
  std::vector<Finding> findings;   ///< errors first, then warnings, then notes
  std::string only_if;             ///< the condition under which it holds: "if ..."; empty: none
  /// Those of the steady answer that bear on the ruling and stand among `findings`.
  std::vector<Finding> of_flow;
  /// The run itself shows nothing wrong, and the steady answer does: at another hour to begin, at low water,
  /// after the end of the run. Its findings and its sentence stand.
  bool as_flow_judges = false;

  bool good() const { return is_good(ruling); }
};

/// How the run was made, and what watched it.
struct FillSeen {
  const FillWatch* watch = nullptr;  ///< none: flow and pressure needs are not judged, nor how lines start
  bool lines_empty = false;          ///< it ran from empty: the lines have to fill too
  bool from_first_water = false;     ///< needs count from when water first meets them
  std::vector<std::string> cut_off = {};  ///< places that the setting itself shuts off: nothing is due there
  /// The unknown that the answer depends on, and where; empty if it holds at the bad corner too.
  std::string only_if = {}, only_if_at = {};
  /// What the steady answer comes to in the same setting, in the worst of its turns: what it finds that no
  /// filling looks at (ratings, overflows, dry times, the survey) is found here as well. None: not looked at.
  const FlowVerdict* flow = nullptr;
  /// The needs of that answer, each as judged in the turn that is hardest on it, in the model's order.
  std::vector<AskResult> flow_asks = {};
};

/// Never throws. A run that gave no answer, or whose proof failed, judges nothing.
FillVerdict judge_fill(const network::System& system, const filling::FillHistory& history,
                       const std::vector<Finding>& more = {}, const FillSeen& seen = {});

/// One tank in words: "full after {0}", "never full: it tends to {0}", ...
Sentence tank_sentence(const network::System& system, const filling::FillHistory& history,
                       const filling::StorageHistory& tank);

}  // namespace runnel::verdict
