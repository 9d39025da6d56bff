#pragma once
// Static grade: how high the water stands everywhere when every outlet, tap and float valve is shut and
// nothing is drawn. It decides the pressure class of every pipe.
//
// From each open water surface (a box at its lip, a tank at the higher of its level and the level its
// float valve shuts at, or its lip; where an overflow is described, over the lip as far as lets out all that
// springs may bring, and no higher than the wall) water stands level through every line that no crest above
// it and no shut valve interrupts; a check valve passes it one way, a reducing valve no higher than it holds.
// A box or tank it reaches stands at its own surface. Where several surfaces reach, the highest counts.
#include <optional>
#include <vector>

#include "runnel/steady/assemble.h"

namespace runnel::steady {

struct StaticHeads {
  std::vector<std::optional<double>> node_m;               ///< one a kernel node
  std::vector<std::vector<std::optional<double>>> line_m;  ///< one a vertex of each pipeline
};

StaticHeads static_heads(const network::System& system, const Assembly& assembly);

}  // namespace runnel::steady
