#pragma once
// Will water start to run in a line that is empty?
//
// Order of filling: water runs to the first low point, and the air of the first leg leaves by the
// source. It rises to the first crest, spills, runs down and closes the next low point: the leg between
// keeps its air at atmospheric pressure. Then the water rising beyond that low point loads the pocket.
// So on from crest to crest; each new pocket adds to all before it.
//
// Assumptions: the line is filled slowly and water trickles through a pocket without filling or weighing;
// bubbles do not travel; low points deeper than the bore seal; isothermal air, none dissolves or
// leaks; pockets stand still; branches along the way let no air out; a drowned end is covered only when
// the water before it has closed the last leg; nothing pumps [start-up-derivation].
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/pocket.h"
#include "runnel/air/profile.h"

namespace runnel::air {

/// What stands around the line. All levels on the datum of the profile.
struct StartConditions {
  double atmospheric_head_m = 0.0;  ///< of the water used; > 0 (network::Site::atmospheric_head_m)
  double source_level_m = 0.0;
  std::optional<double> end_level_m;  ///< water level over a drowned end; none or below the end: free
  std::vector<double> vents_m;        ///< stations vented besides the profile's own air valves
  bool end_stands = true;  ///< the water over the end stands there already before the filling begins
};

struct Pocket {
  int crest = 0, low = 0;  ///< indices into the profile's points
  double crest_station_m = 0.0, crest_elevation_m = 0.0;
  double low_station_m = 0.0, low_elevation_m = 0.0;
  bool vented = false;           ///< a vent at the crest: no pocket forms
  double gauge_head_m = 0.0;     ///< pressure of the loaded air [m of water]
  double interface_m = 0.0;      ///< elevation of its lower surface; vented: of the water there
  double volume_start_m3 = 0.0;  ///< shut in at atmospheric pressure; 0 when vented
  double volume_loaded_m3 = 0.0;
  double head_at_crest_m = 0.0;  ///< level the water before the crest must have
};

/// Water stands at a crest or at the end, just before it spills on.
struct Stage {
  int point = 0;
  double station_m = 0.0, elevation_m = 0.0;
  double required_level_m = 0.0;      ///< at the source, with the air compressed
  double uncompressed_level_m = 0.0;  ///< the same if no pocket gave way
};

enum class StartVerdict {
  starts,    ///< even if no pocket gave way
  doubtful,  ///< only because the air is compressed
  blocked,   ///< it does not
};

enum class StartReason {
  none,                ///< it starts
  compression_needed,  ///< doubtful
  air,                 ///< blocked by trapped air
  crest_above_source,  ///< blocked: a point stands above the source; no vent helps
  end_above_source,    ///< blocked: the end, or the water over it, stands at or above the source
};

/// What the source must stand at.
struct StartLevels {
  StartVerdict verdict = StartVerdict::starts;
  double required_level_m = 0.0;      ///< water starts if the source stands above it
  double uncompressed_level_m = 0.0;  ///< the worst case
  double margin_m = 0.0;              ///< source level less required level
  double uncompressed_margin_m = 0.0;
};

struct StartUp : StartLevels {
  StartReason reason = StartReason::none;
  std::vector<Pocket> pockets;  ///< from the source on; as loaded at the last stage
  int governing_stage = 0;      ///< the first at which the highest level is asked for
  std::optional<int> too_high;  ///< point that stands above the source
  bool under_water = false;     ///< as started again with the outlet under water (air/restart.h)
};

/// Precondition: two points, positive bores, atmospheric head > 0. Never throws for such input.
StartUp start_up(const Profile& profile, const StartConditions& conditions);

/// First crest, each next crest, the end if it is a summit. The level asked for never falls from one to the
/// next, for a pocket asks for no less than the crest before it: the last decides, and `start_up` works out
/// that one alone. Costs the square of the number of crests.
std::vector<Stage> filling_stages(const Profile& profile, const StartConditions& conditions);

/// The view from the source: how high the water can stand beyond each pocket when the source pushes
/// with all it has. Agrees with `start_up` (it passes a crest exactly if it regains more than the crest).
struct Regained {
  Pocket pocket;
  double level_m = 0.0;  ///< beyond the pocket
};
/// Ends early at a crest the water does not reach; the last level less the end is head left to flow with.
std::vector<Regained> regained_levels(const Profile& profile, const StartConditions& conditions);

}  // namespace runnel::air
