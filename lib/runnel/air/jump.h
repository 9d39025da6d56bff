#pragma once
// Hydraulic jumps, where swift water in a part-full descending pipe runs into slower water.
#include <optional>
#include <vector>

#include "runnel/steady/state.h"

namespace runnel::air {

struct Jump {
  double station_m = 0.0;      ///< on its own pipeline
  double froude = 0.0;         ///< of the water before it, > 1
  double depth_m = 0.0;        ///< of the water before it
  bool fills_pipe = true;      ///< the pipe runs full after it; false: it stays part-full, but slow
  double after_depth_m = 0.0;  ///< where it stays part-full
  /// Air that the jump draws in, as a share of the water's flow: 0.0066 (F - 1)^1.4, from a 6 in pipe on
  /// slopes to about 30 % [kalinske-robertson1943; from memory]. In small pipes an upper figure at best.
  double air_share = 0.0;
};

/// The jumps in flow order. A jump that fills the pipe stands where the grade line meets the pipe (the refill
/// station); one that does not stands at the change of slope, give or take its own length. There is none
/// where no depth is claimed (near full).
std::vector<Jump> jumps(const steady::LineState& run);

}  // namespace runnel::air
