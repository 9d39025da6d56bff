#pragma once
// A system cut at its open water into parts: each is a tree fed from one box or tank, or it is refused.
#include <vector>

#include "runnel/network/system.h"

namespace runnel::sizing {

/// Code of the finding that a system is no tree.
extern const char* const not_a_tree;
bool is_no_tree(const std::vector<Finding>& findings);

/// A line of a part, from the place nearer the source to the other.
struct PartLine {
  int line = 0;
  bool forward = true;
  int above = 0, below = 0;  ///< places
};

struct Part {
  int source = -1;              ///< the place it is fed from
  std::vector<PartLine> lines;  ///< upper ones first
};

/// The parts, those that feed others before those that are fed. Findings where a part is no tree, has no or
/// several sources, or feeds itself.
Checked<std::vector<Part>> parts_of(const network::System& system);

}  // namespace runnel::sizing
