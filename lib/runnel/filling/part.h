#pragma once
// The pieces into which fixed heads cut a kernel: none of them knows of another.
#include <utility>
#include <vector>

#include "runnel/steady/newton.h"

namespace runnel::filling {

struct Part {
  steady::Kernel kernel;
  std::vector<int> nodes, links;                       ///< of the whole kernel
  std::vector<std::pair<int, std::size_t>> borders;    ///< own place, storage: at a fixed level
  std::vector<std::pair<int, std::size_t>> followers;  ///< own place, storage: follows at once
  steady::KernelState state;
  std::vector<double> level_m;  ///< of the borders when last solved
  bool fresh = false;           ///< `state` is that of the kernel as it stands
};

/// Every link is in one part, every free place too; a fixed place is in each part that it borders on.
std::vector<Part> cut_apart(const steady::Kernel& whole);

}  // namespace runnel::filling
