#pragma once
// The parts into which fixed heads cut a kernel, none of which depends on another.
#include <vector>

#include "runnel/steady/kernel.h"

namespace runnel::filling {

struct Part {
  steady::Kernel kernel;
  std::vector<int> nodes, links;  ///< of the whole kernel
};

/// Every link and every free place is in one part; a fixed place is in each part that it borders on.
std::vector<Part> cut_apart(const steady::Kernel& whole);

}  // namespace runnel::filling
