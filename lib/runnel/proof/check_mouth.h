#pragma once
// The mouth of a pipe in an open box, written a second time from the published forms. Nothing here calls, or
// is called by, the solver's own.
#include "runnel/losses/mouth.h"
#include "runnel/proof/check_law.h"

namespace runnel::proof {

struct PlainMouth {
  losses::MouthEdge edge = losses::MouthEdge::square_in_wall;  ///< only the enumerator is shared
  LongReal bore_m = 0, slope = 0;

  /// Level over the axis that a flow >= 0 needs: HW/D = Hc/D + K (Ku q)^M + Ks S up to q = Q/(A sqrt D)
  /// = 1.93, HW/D = c (Ku q)^2 + Y + Ks S from 2.21, the chord between [hds-5]. For Ks S see losses/mouth.h.
  LongReal over_axis(LongReal flow_m3s) const;
};

}  // namespace runnel::proof
