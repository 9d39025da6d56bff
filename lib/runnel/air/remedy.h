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
  StartLevels after;
  double gain_m = 0.0;  ///< by how much the required level falls; >= 0
  double uncompressed_gain_m = 0.0;
};

struct VentAdvice {
  std::vector<VentEffect> single;  ///< for each pocket that is not vented, from the source on
  /// The one that lowers the required level most (of equals, the uncompressed level; then the first).
  /// None if there is no pocket.
  std::optional<std::size_t> best;
};
/// Costs the square of the number of crests.
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

/// Between two points all that stands higher is brought down to a floor. A point that stays is where
/// something is built that no trench lowers.
struct Trench {
  int first = 0, last = 0;
  double floor_m = 0.0;
  bool first_stays = false, last_stays = false;
};
/// Indices of the points change.
Profile dug_to(const Profile& profile, const Trench& trench);

/// The profile with a trench floor `depth_m` below the crest: all between the low points on both sides
/// (or the ends) that stands higher is brought down to it.
Profile dug_down(const Profile& profile, int crest, double depth_m);

struct DigEffect {
  int crest = 0;
  double station_m = 0.0, elevation_m = 0.0;  ///< before digging
  double depth_m = 0.0;                       ///< to 1 mm, on the side that works
  StartUp after;                              ///< with just this depth
};

/// Whether a trench of this depth through one crest could be enough for `starts`: a crest stands once in the
/// sum of falls that is asked for if no pocket gives way, so a trench saves no more than its own depth, and
/// what lies within a bore of it besides. Not of the first crest, whose air may come to lie open to the source.
bool dig_could_start(const Profile& profile, const StartLevels& before, double depth_m);

/// How far one crest must be dug down for the verdict to become `wanted` or better. None if not even
/// down to the higher of the neighbouring low points is enough.
std::optional<DigEffect> dig_until(const Profile& profile, const StartConditions& conditions, int crest,
                                   StartVerdict wanted);

/// The shallowest of `dig_until` over all crests, of equals the first; or none. On a line of very many crests
/// that each come close to being enough only the first of them are tried.
std::optional<DigEffect> best_dig(const Profile& profile, const StartConditions& conditions,
                                  StartVerdict wanted);

}  // namespace runnel::air
