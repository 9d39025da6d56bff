#pragma once
// The rulings of several ways of running a model, as one list: of each the worst.
#include <string>
#include <vector>

#include "runnel/review/judge.h"

namespace runnel::review {

/// Of the same rule at the same place the worse of both; one of `under` that is, or that has no like in
/// `so_far`, is marked with its setting. In the order of the rules.
std::vector<Ruling> worse_of_each(const RuleSet& rules, std::vector<Ruling> so_far, std::vector<Ruling> under,
                                  const std::string& setting);

}  // namespace runnel::review
