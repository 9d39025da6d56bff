#pragma once
// A proposal held against rules, against its own claims, and against what it leaves out, under every setting.
#include <optional>
#include <string>
#include <vector>

#include "runnel/review/claims.h"
#include "runnel/review/judge.h"
#include "runnel/review/maintenance.h"
#include "runnel/review/rule.h"
#include "runnel/review/service_plan.h"
#include "runnel/review/works_review.h"

namespace runnel::review {

/// How the model fares under one setting.
struct SettingOutcome {
  std::string setting;  ///< "normal": as drawn
  bool settled = false;
  std::vector<std::string> failing;  ///< rules that must hold and do not, and codes of other faults, each
                                     ///< once
  bool good() const { return settled && failing.empty(); }
};

struct Review {
  bool settled = false;  ///< false: no state was found for the first setting, and nothing below is judged
  bool good = false;     ///< every setting settled, nothing that must hold fails, and nothing is left open
  bool fails = false;    ///< something that must hold does not
  /// Codes of what the answer cannot judge and an owner must know before building: a rating that nobody
  /// gives, air that may stay. `told` says more of each, unless a rule does.
  std::vector<std::string> open;
  RuleSet rules;
  /// In the order of the rules. Where a setting is worse than the system as drawn, the ruling is that of the
  /// setting, and names it.
  std::vector<Ruling> rulings;
  std::vector<JudgedClaim> claims;
  std::vector<WorksReview> works;  ///< one for each spring whose works the model draws
  std::vector<Fact> logs;          ///< what the yield logs show
  ServicePlan service;
  std::vector<Task> maintenance;
  std::vector<SettingOutcome> settings;  ///< in the order in which they were run: as drawn first
  std::vector<Finding> told;             ///< what the proposal leaves out or puts otherwise than it is
};

struct ReviewOptions {
  std::optional<std::string> setting = {};  ///< review this one alone; none: as drawn and every setting
};

/// A place that a setting itself shuts off is due nothing under it. Works, upkeep and the service plan are
/// those of the first setting run. Findings instead of a review if the model cannot be computed on.
Checked<Review> review(const network::Model& drawn, const RuleSet& rules, const ReviewOptions& options = {});

/// The set for a model that names none: "village" if three taps or more hang on it, else "stock".
const RuleSet& usual_rules(const network::Model& model);

/// Every ruling, of the rules and of the works.
std::vector<Ruling> all_rulings(const Review& review);

/// The ruling of one rule to show: what fails before what is undecided or cannot be judged, and the least
/// margin first.
const Ruling* worst_of_rule(const std::vector<Ruling>& rulings, const std::string& rule);

/// True if the first speaks more against the proposal than the second.
bool worse(const Ruling& a, const Ruling& b);

}  // namespace runnel::review
