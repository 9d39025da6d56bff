#pragma once
// What would let a line start: each remedy is found by computing the start-up again with the change made.
#include <optional>
#include <vector>

#include "runnel/air/start_up.h"

namespace runnel::air {

/// One more air valve, at a crest.
struct VentEffect {
  int crest = 0;  ///< index into the points
  double station_m = 0.0, elevation_m = 0.0;
  StartLevels after;
  double gain_m = 0.0;  ///< by how much the required level falls; >= 0
  double uncompressed_gain_m = 0.0;  ///< the same if no air were compressed
};

struct VentAdvice {
  std::vector<VentEffect> single;  ///< for each pocket without an air valve, from the source on
  /// The one that lowers the required level most (of equals, the uncompressed level; then the first).
  /// None if there is no pocket.
  std::optional<std::size_t> best;
};
/// Costs the square of the number of crests.
VentAdvice vent_advice(const Profile& profile, const StartConditions& conditions);

/// A small number of air valves, found by adding the one that gains most until the line reaches `wanted`
/// (`starts` or `doubtful`). Empty if it does so already; none if an air valve at every crest is not enough.
/// The search is greedy: a plan of more than one is not proved to be the smallest.
struct VentPlan {
  std::vector<int> crests;
  StartUp after;
};
std::optional<VentPlan> vents_until(const Profile& profile, const StartConditions& conditions,
                                    StartVerdict wanted);

/// A trench that brings everything higher between two points down to a floor. A point stays where something
/// is built that a trench does not lower.
struct Trench {
  int first = 0, last = 0;
  double floor_m = 0.0;
  bool first_stays = false, last_stays = false;
};
/// The profile with a trench. Indices of the points change.
Profile dug_to(const Profile& profile, const Trench& trench);

/// The profile with a trench whose floor is `depth_m` below the crest: everything higher between the low
/// points (or the ends) on both sides is brought down to it.
Profile dug_down(const Profile& profile, int crest, double depth_m);

struct DigEffect {
  int crest = 0;
  double station_m = 0.0, elevation_m = 0.0;  ///< before digging
  double depth_m = 0.0;                       ///< to 1 mm, rounded to the side that works
  StartUp after;                              ///< at exactly this depth
};

/// Whether a trench of this depth through one crest could be enough for `starts`. If no air is compressed,
/// the level needed is a sum of falls in which a crest counts once, so a trench saves no more than its own
/// depth and what lies within a bore of it. Not for the first crest, whose air may come to be open to the
/// source, and so save more.
bool dig_could_start(const Profile& profile, const StartLevels& before, double depth_m);

/// How far one crest must be dug down for the verdict to become `wanted` or better. None if even digging down
/// to the higher of the neighbouring low points is not enough.
std::optional<DigEffect> dig_until(const Profile& profile, const StartConditions& conditions, int crest,
                                   StartVerdict wanted);

/// The shallowest `dig_until` over all crests, of equals the first; or none. On a line with very many crests
/// that each come close to being enough, only the first of them are tried.
std::optional<DigEffect> best_dig(const Profile& profile, const StartConditions& conditions,
                                  StartVerdict wanted);

}  // namespace runnel::air
