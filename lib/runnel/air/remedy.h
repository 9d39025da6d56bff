#pragma once
// What would let a line start, each found by running the start-up again with the change made.
#include <optional>
#include <vector>

#include "runnel/air/start_up.h"

namespace runnel::air {

/// One more vent, at one crest.
struct VentEffect {
  int crest = 0;  ///< index into the points
  double station_m = 0.0, elevation_m = 0.0;
  StartUp after;
  double gain_m = 0.0;  ///< by how much the required level falls; >= 0
  double uncompressed_gain_m = 0.0;
};

struct VentAdvice {
  std::vector<VentEffect> single;  ///< for each pocket that is not vented, from the source on
  /// The one that lowers the required level most (of equals, the uncompressed level; then the first).
  /// None if there is no pocket.
  std::optional<std::size_t> best;
};
VentAdvice vent_advice(const Profile& profile, const StartConditions& conditions);

/// The fewest vents found by adding, one at a time, the one that gains most until the line reaches
/// `wanted` (`starts` or `doubtful`). Empty if it does so already; none if venting every crest is not
/// enough. Greedy: fewer is not proved beyond one vent.
struct VentPlan {
  std::vector<int> crests;
  StartUp after;
};
std::optional<VentPlan> vents_until(const Profile& profile, const StartConditions& conditions,
                                    StartVerdict wanted);

/// The profile with a trench floor `depth_m` below the crest: all between the low points on both sides
/// (or the ends) that stands higher is brought down to it. Indices of the points change.
Profile dug_down(const Profile& profile, int crest, double depth_m);

struct DigEffect {
  int crest = 0;
  double station_m = 0.0, elevation_m = 0.0;  ///< before digging
  double depth_m = 0.0;                       ///< to 1 mm, on the side that works
  StartUp after;                              ///< with just this depth
};

/// How far one crest must be dug down for the verdict to become `wanted` or better. None if not even
/// down to the higher of the neighbouring low points is enough.
std::optional<DigEffect> dig_until(const Profile& profile, const StartConditions& conditions, int crest,
                                   StartVerdict wanted);

/// The shallowest of `dig_until` over all crests, or none.
std::optional<DigEffect> best_dig(const Profile& profile, const StartConditions& conditions,
                                  StartVerdict wanted);

}  // namespace runnel::air
