#pragma once
// What a proposal leaves out, or writes so that it looks better than it is.
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/system.h"

namespace runnel::review {

/// Pipes described as better than the standard pipe, their own wall or any pipe allows: these are errors.
/// Pipes without a rating, lines that nobody surveyed, springs of which one season is known, and what else
/// leaves an answer in doubt: these are warnings.
std::vector<Finding> read_between_lines(const network::System& system);

}  // namespace runnel::review
