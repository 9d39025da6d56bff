#pragma once
// Two troughs with float valves below a tee that does not run full: whichever gets the water first, the other
// gets it once that is full.
#include <vector>

#include "runnel/network/system.h"

namespace runnel::verdict {

/// A line that leaves such a tee.
struct TurnBranch {
  int line = 0;
  double carries_m3s = 0.0;  ///< the most that it can take while the other is shut
};

/// Whether both troughs hold out however the water divides, at every instant, between two lines. It is a
/// sufficient condition, that more comes than both draw in their busiest hours: let r = d_other / (in -
/// d_this) be how fast a trough that gets nothing falls for each volume by which the other rises. While both
/// valves are open, room + r * room of the other does not grow, and while the other is shut it falls by more
/// than the other's opening adds if (in - d_this) (carries - d_other) >= d_this d_other. So the store must
/// hold room + r * room of the other, with each room that which a float valve leaves when it opens, or what
/// is drawn if that is more. Source: a balance of the two stores.
/// @param in_m3s what comes to the tee
/// @param asked_m3s at each place, as `asked_at_m3s` tells; more than the draws of a trough makes it false
/// False as well unless each line runs straight to one trough that has a float valve and no other line.
bool floats_take_turns(const network::System& system, int tee, const std::vector<TurnBranch>& branches,
                       double in_m3s, const std::vector<double>& asked_m3s);

}  // namespace runnel::verdict
