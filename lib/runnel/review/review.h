#pragma once
// A proposal held against rules, against its own claims, and against what it leaves out.
#include <string>
#include <vector>

#include "runnel/review/claims.h"
#include "runnel/review/judge.h"
#include "runnel/review/maintenance.h"
#include "runnel/review/rule.h"
#include "runnel/review/service_plan.h"
#include "runnel/review/works_review.h"

namespace runnel::review {

/// How another way of running the model fares against the rules. Claims are of the system as drawn.
struct SettingOutcome {
  std::string setting;
  bool settled = false;
  std::vector<std::string> failing;  ///< rules that must hold, and what else is wrong by its code; each once
  bool good() const { return settled && failing.empty(); }
};

struct Review {
  bool settled = false;  ///< false: no state was found, and nothing below is judged
  bool good = false;     ///< settled, and nothing that must hold fails
  RuleSet rules;
  std::vector<Ruling> rulings;  ///< in the order of the rules
  std::vector<JudgedClaim> claims;
  std::vector<WorksReview> works;  ///< one for each spring whose works the model draws
  std::vector<Fact> logs;          ///< what the yield logs show
  ServicePlan service;
  std::vector<Task> maintenance;
  std::vector<SettingOutcome> settings;  ///< empty if one setting alone was reviewed
  std::vector<Finding> told;             ///< what the proposal leaves out or writes otherwise than it is
};

/// The system as it runs under its setting. Never throws.
Review review(const network::System& system, const RuleSet& rules);

/// Every setting that a model names, held against the rules; what a setting itself shuts off is due nothing.
std::vector<SettingOutcome> review_settings(const network::Model& drawn, const RuleSet& rules);

/// "stock" or "village": the set for a model that names none, by whether three taps or more hang on it.
const RuleSet& usual_rules(const network::System& system);

/// Every ruling, of the rules and of the works.
std::vector<Ruling> all_rulings(const Review& review);

/// Of the rulings of one rule the one to show: what fails before what is undecided or cannot be judged, and
/// the least margin first.
const Ruling* worst_of_rule(const std::vector<Ruling>& rulings, const std::string& rule);

}  // namespace runnel::review
