#pragma once
// When the first water arrives at a point of an empty line.
//
// There are two figures, because an empty line need not be full to pass water on:
//   full bore:  the whole bore up to the point is filled;
//   earliest:   only what stands at rest behind the front is filled: low points up to the level that
//               lifts the front over each crest, with the air pockets still in place. The time that water
//               takes to trickle down each descent is left out; whoever knows the pipe adds it.
// The truth lies between. The front advances at what the spring gives or, where that is less, at what the wet
// part can carry to it (air/wet_part.h). The yield is constant, and the box before the line is full.
#include <optional>
#include <vector>

#include "runnel/air/start_up.h"
#include "runnel/air/wet_part.h"

namespace runnel::air {

struct FirstWater {
  int point = 0;
  double station_m = 0.0;
  double full_bore_volume_m3 = 0.0, full_bore_s = 0.0;
  /// None: the water never gets here, since the air before it needs more head than the source has.
  std::optional<double> earliest_s;
};

/// For the given points of the profile, in rising order. Precondition: yield > 0. Without a wet part the line
/// is taken to carry all that the spring gives.
std::vector<FirstWater> first_water(const Profile& profile, const StartConditions& conditions,
                                    double yield_m3s, const std::vector<int>& points,
                                    const WetPart* wet = nullptr);

/// For every point of the profile.
std::vector<FirstWater> first_water(const Profile& profile, const StartConditions& conditions,
                                    double yield_m3s);

}  // namespace runnel::air
