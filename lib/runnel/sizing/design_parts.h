#pragma once
// A system cut at its open water: each part is fed from one box or tank and is a tree, or there are none.
#include <optional>
#include <vector>

#include "runnel/network/system.h"

namespace runnel::sizing {

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

/// The parts, those that feed others before those that are fed. None where a part forms a loop, has no or
/// several sources, or feeds itself.
std::optional<std::vector<Part>> parts_of(const network::System& system);

}  // namespace runnel::sizing
