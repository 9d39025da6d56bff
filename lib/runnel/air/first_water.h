#pragma once
// When the first water arrives at each point of an empty line.
//
// Two figures, because an empty line need not fill to pass water on:
//   full bore:  the whole bore up to the point is filled at the spring's yield;
//   earliest:   only what stands at rest behind the front is filled: low points up to the level that
//               lifts the front over each crest, with the air pockets still in place. Water trickles
//               down each descent in no time.
// The truth lies between. Both take the yield as constant and the box before the line as full.
#include <optional>
#include <vector>

#include "runnel/air/start_up.h"

namespace runnel::air {

struct FirstWater {
  int point = 0;
  double station_m = 0.0;
  double full_bore_volume_m3 = 0.0, full_bore_s = 0.0;
  /// None: the water never gets here, the air before it asks for more than the source has.
  std::optional<double> earliest_s;
};

/// For every point of the profile. Precondition: yield > 0.
std::vector<FirstWater> first_water(const Profile& profile, const StartConditions& conditions,
                                    double yield_m3s);

}  // namespace runnel::air
