#pragma once
// The answer to a whole model: every setting judged, and the one value that says what it comes to.
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/ruling.h"

namespace runnel::verdict {

/// One way of running the model.
struct Run {
  std::string setting;     ///< "normal": as drawn; with ", hours 17 to 20" or so in a later turn
  network::System system;  ///< as it runs under the setting
  steady::State state;
  FlowVerdict verdict;
  std::string hours = {};                  ///< of a turn of its setting (turns.h); empty where there are none
  std::string setting_of_model = setting;  ///< the setting whose turn it is: `setting` without its hours
};

struct Answer {
  std::vector<Run>
      runs;  ///< at least one: as drawn, then every setting in the model's order; or the one named
  std::size_t leads = 0;  ///< the worst of them; of equals the first
  Sentence sentence;      ///< of the whole

  const Run& leading() const { return runs[leads]; }
  Ruling ruling() const { return leading().verdict.ruling; }
  bool good() const { return is_good(ruling()); }
  /// Whether some of the runs are turns of the taps by the hour.
  bool by_turns() const {
    return std::any_of(runs.begin(), runs.end(), [](const Run& run) { return !run.hours.empty(); });
  }
};

struct AnswerOptions {
  std::optional<std::string> setting = {};  ///< judge this one alone; none: as drawn and every setting
  std::vector<Finding> remarks = {};        ///< what reading the model gave rise to, to be sorted in
  std::vector<std::string> not_due = {};    ///< with `setting`: places whose turn is another setting's
  bool try_cures = true;  ///< try on the whole answer what would make tanks last that run empty
};

/// Solves and judges a model under each of its settings. Needs of `full_within` are judged by following the
/// filling. A tank whose float valve is shut where it starts, and to which a flow is asked, is taken at the
/// level at which its float opens. A place that a setting itself cuts off (a tap or every way to it shut
/// there and not as drawn) is due nothing under that setting; named alone, the setting is judged on all
/// needs. Findings instead of an answer if the model cannot be computed on or has no setting of that name.
Checked<Answer> answer_model(const network::Model& model, const AnswerOptions& options = {});

}  // namespace runnel::verdict
