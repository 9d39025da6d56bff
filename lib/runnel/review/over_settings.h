#pragma once
// The rulings under several settings as one list: the worst of each.
#include <string>
#include <vector>

#include "runnel/review/judge.h"

namespace runnel::review {

/// Of two rulings of the same rule at the same place, the worse; in the order of the rules. A ruling of
/// `under` that is the worse, or has no counterpart in `so_far`, is marked with its setting.
std::vector<Ruling> worse_of_each(const RuleSet& rules, std::vector<Ruling> so_far, std::vector<Ruling> under,
                                  const std::string& setting);

}  // namespace runnel::review
