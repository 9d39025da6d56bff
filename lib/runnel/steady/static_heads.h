#pragma once
// Static heads: how high the water stands everywhere when every outlet, tap and float valve is shut and
// nothing is drawn. They decide the pressure class of every pipe.
//
// Each open water surface is a box at its lip, or a tank at the higher of its level and its full level (where
// its float valve shuts, or its lip). Where an overflow is described it stands over the lip by what lets out
// all that the springs may bring, but no higher than the wall. From there water stands level through every
// line as far as no crest above it and no shut valve stops it; a check valve passes it one way, a reducing
// valve no higher than it holds. A box or tank that it reaches stands at its own surface. Where water from
// several surfaces arrives, the highest counts.
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
