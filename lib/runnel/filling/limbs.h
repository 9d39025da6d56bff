#pragma once
// Columns of water that fall towards one opening.
#include <vector>

#include "runnel/losses/friction.h"

namespace runnel::filling {

/// A stretch of one slope and one pipe that falls towards the washout.
struct LimbPiece {
  double top_m = 0.0, bottom_m = 0.0;  ///< above the washout; top_m >= bottom_m >= 0
  double length_m = 0.0, area_m2 = 0.0;
  double loss = 0.0;  ///< K of the parts on it
  losses::PipeFriction friction;
  double volume_m3() const { return length_m * area_m2; }
};

/// One side of the washout. `pieces` drain, from the washout up to the high point. `always_full` is a dip
/// below the washout, which stays full and through which the water must pass.
struct Limb {
  std::vector<LimbPiece> pieces, always_full;
  double volume_m3() const;
};

struct Draining {
  double time_s = 0.0, first_m3s = 0.0, drained_m3 = 0.0;
};

/// Time until the water of all limbs has fallen to `end_m` above the opening. At every moment flows are
/// steady: height of each column = friction and losses of its limb + Q^2 / (2 g (Cd A)^2) of the opening
/// (quasi-steady draining, universal textbook matter). Air enters freely at the high points, without loss.
/// What a higher limb might push over the high point of the other is not counted: all leaves through the
/// opening. Integrated over the volume by the classical Runge-Kutta method of order 4, to about 1e-6.
/// Preconditions: end_m > 0, bore and cd positive, pieces from the opening upwards.
Draining drain(const std::vector<Limb>& limbs, double bore_m, double cd, double end_m);

}  // namespace runnel::filling
