#pragma once
// Rule sets as text: those that come with the library, and a reader's own.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/review/rule.h"

namespace runnel::review {

/// A whole set, in the form of models/rules.
Checked<RuleSet> read_rules(std::string_view text, const std::string& file);

/// A set as a reader's own file changes it. A rule of the same name replaces the limit: freely by a tighter
/// one, by a looser one only with a `reason`; `leave_out: why` drops the rule; a new name adds one.
Checked<RuleSet> with_own_rules(const RuleSet& base, std::string_view text, const std::string& file);

/// The sets that come with the library, "stock" and "village".
const std::vector<RuleSet>& standard_rule_sets();
const RuleSet* find_rule_set(std::string_view name);

}  // namespace runnel::review
