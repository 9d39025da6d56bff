#pragma once
// The filling of a whole model: every setting followed and judged, as `answer_model` does for one state.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/fill.h"
#include "runnel/network/model.h"
#include "runnel/network/system.h"
#include "runnel/verdict/fill_verdict.h"

namespace runnel::verdict {

/// One way of running the model, over time.
struct FillRun {
  std::string setting;     ///< "normal": as drawn
  network::System system;  ///< as it runs under the setting
  filling::FillOptions options;
  filling::FillHistory history;
  FillVerdict verdict;
};

struct FillAnswered {
  std::vector<FillRun> runs;  ///< at least one: as drawn, then every setting in the model's order; or one
  std::size_t leads = 0;      ///< the worst of them; of equals the first
  Sentence sentence;          ///< of the whole

  const FillRun& leading() const { return runs[leads]; }
  Ruling ruling() const { return leading().verdict.ruling; }
};

struct FillAsked {
  std::optional<std::string> setting = {};  ///< run this one alone; none: as drawn and every setting
  filling::FillOptions options = {};
  bool springs_stop = false;              ///< no spring gives anything
  std::optional<double> start_hour = {};  ///< none: midnight, or the first draws if springs stop
  std::vector<Finding> remarks = {};      ///< what reading the model gave rise to, to be sorted in
};

/// Follows the tanks of a model under each of its settings and judges every instant. What holds as written is
/// run once more at the bad corner of what nobody knows exactly, and holds only under a condition if it fails
/// there. A run that `options.progress` stops is the last. Findings instead of an answer if the model cannot
/// be computed on or has no setting of that name.
Checked<FillAnswered> fill_model(const network::Model& model, const FillAsked& asked);

}  // namespace runnel::verdict
