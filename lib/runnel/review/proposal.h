#pragma once
// What a proposal leaves out, or writes so that it looks better than it is.
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/system.h"

namespace runnel::review {

/// Pipes written as if they were a standard one but wider, smoother or stronger; pipes without a rating;
/// lines that nobody surveyed; springs of which one season is known. Warnings, but for a standard pipe
/// redefined, which is an error.
std::vector<Finding> read_between_lines(const network::System& system);

}  // namespace runnel::review
