#pragma once
// Will water start to run in a line that is empty?
//
// Order of filling: water runs to the first low point, and the air of the first leg leaves by the source. The
// water rises to the first crest, spills over it, runs down and closes the next low point, and the leg
// between keeps its air at atmospheric pressure. Then the water rising beyond that low point loads the
// pocket. So it goes on from crest to crest, and each new pocket adds to all before it.
//
// Assumptions: the line is filled slowly; the weight and volume of water trickling through air do not count;
// bubbles do not travel; low points deeper than the bore seal; air is isothermal and neither dissolves nor
// leaks; pockets stay where they are; branches along the way let no air out; a drowned end is covered only
// when the water before it has closed the last leg; there is no pump [start-up-derivation].
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/pocket.h"
#include "runnel/air/profile.h"

namespace runnel::air {

/// The surroundings of the line. All levels are on the datum of the profile.
struct StartConditions {
  double atmospheric_head_m = 0.0;  ///< in metres of this water; > 0 (network::Site::atmospheric_head_m)
  double source_level_m = 0.0;
  std::optional<double> end_level_m;  ///< water level over a drowned end; none or below the end: free
  std::vector<double> vents_m;        ///< stations of air valves besides the profile's own
  bool end_stands = true;             ///< the water over the end is there already before the filling begins
};

struct Pocket {
  int crest = 0, low = 0;  ///< indices into the profile's points
  double crest_station_m = 0.0, crest_elevation_m = 0.0;
  double low_station_m = 0.0, low_elevation_m = 0.0;
  bool vented = false;           ///< there is an air valve at the crest, so no pocket forms
  double gauge_head_m = 0.0;     ///< pressure of the loaded air [m of water]
  double interface_m = 0.0;      ///< elevation of its lower surface; vented: of the water there
  double volume_start_m3 = 0.0;  ///< trapped, as a volume at atmospheric pressure; 0 if vented
  double volume_loaded_m3 = 0.0;
  double head_at_crest_m = 0.0;  ///< level that the water before the crest must have
};

/// A stage of filling: water stands at a crest or at the end, just about to spill on.
struct Stage {
  int point = 0;
  double station_m = 0.0, elevation_m = 0.0;
  double required_level_m = 0.0;      ///< at the source, with the air compressed
  double uncompressed_level_m = 0.0;  ///< the same if no air were compressed
};

enum class StartVerdict {
  starts,    ///< even if no air were compressed
  doubtful,  ///< starts only because the air is compressed
  blocked,   ///< does not start
};

enum class StartReason {
  none,                ///< it starts
  compression_needed,  ///< doubtful
  air,                 ///< blocked by trapped air
  crest_above_source,  ///< blocked: a point is above the source; no air valve helps
  end_above_source,    ///< blocked: the end, or the water over it, is at or above the source
};

/// The level that the source must have, and the verdict.
struct StartLevels {
  StartVerdict verdict = StartVerdict::starts;
  double required_level_m = 0.0;      ///< water starts if the source stands above it
  double uncompressed_level_m = 0.0;  ///< the worst case
  double margin_m = 0.0;              ///< source level less required level
  double uncompressed_margin_m = 0.0;
};

struct StartUp : StartLevels {
  StartReason reason = StartReason::none;
  std::vector<Pocket> pockets;  ///< from the source on, as loaded at the last stage
  int governing_stage = 0;      ///< the first that needs the highest level
  std::optional<int> too_high;  ///< the point that the source does not reach over
  bool under_water = false;     ///< this is a start with the outlet under water (air/restart.h)
};

/// Precondition: two points, positive bores, atmospheric head > 0. Never throws for such input.
StartUp start_up(const Profile& profile, const StartConditions& conditions);

/// The stages: the first crest, each next crest, and the end if it is a summit. The level needed never falls
/// from one to the next, since a pocket needs no less than the crest before it. So the last decides, and
/// `start_up` computes that one alone. Costs the square of the number of crests.
std::vector<Stage> filling_stages(const Profile& profile, const StartConditions& conditions);

/// As seen from the source: how high the water can stand beyond each pocket when the source stands at its own
/// level. Agrees with `start_up` (the water passes a crest exactly if it regains more than the crest).
struct Regained {
  Pocket pocket;
  double level_m = 0.0;  ///< beyond the pocket
};
/// Ends early at a crest that the water does not reach. The last level less that of the end is the head left
/// to flow with.
std::vector<Regained> regained_levels(const Profile& profile, const StartConditions& conditions);

}  // namespace runnel::air
