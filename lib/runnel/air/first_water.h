#pragma once
// When the first water arrives at a point of an empty line.
//
// Two figures, because an empty line need not fill to pass water on:
//   full bore:  the whole bore up to the point is filled;
//   earliest:   only what stands at rest behind the front is filled: low points up to the level that
//               lifts the front over each crest, with the air pockets still in place. Water trickles
//               down each descent in no time; whoever knows the pipe adds how long that takes.
// The truth lies between. The front moves on at what the spring gives or, where that is less, at what the wet
// part can carry to it (air/wet_part.h). The yield is constant and the box before the line full.
#include <optional>
#include <vector>

#include "runnel/air/start_up.h"
#include "runnel/air/wet_part.h"

namespace runnel::air {

struct FirstWater {
  int point = 0;
  double station_m = 0.0;
  double full_bore_volume_m3 = 0.0, full_bore_s = 0.0;
  /// None: the water never gets here, the air before it asks for more than the source has.
  std::optional<double> earliest_s;
};

/// For points of the profile, in rising order. Precondition: yield > 0. Without a wet part the line is taken
/// to carry all that the spring gives.
std::vector<FirstWater> first_water(const Profile& profile, const StartConditions& conditions,
                                    double yield_m3s, const std::vector<int>& points,
                                    const WetPart* wet = nullptr);

/// For every point of the profile.
std::vector<FirstWater> first_water(const Profile& profile, const StartConditions& conditions,
                                    double yield_m3s);

}  // namespace runnel::air
