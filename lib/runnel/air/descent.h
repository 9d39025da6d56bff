#pragma once
// A line cut into what matters at start-up: the descents that can hold air and the summits in between.
#include <vector>

#include "runnel/air/pocket.h"
#include "runnel/air/profile.h"
#include "runnel/air/start_up.h"

namespace runnel::air {

/// From a crest down to the low point that seals it.
struct Descent {
  int crest = 0, low = 0;
  double crest_m = 0.0;  ///< elevation
  bool vented = false;   ///< at the crest
  LegAir air;
  const Profile* profile = nullptr;
};

struct Summit {
  int point = 0;
  double elevation_m = 0.0;
};

struct LineShape {
  std::vector<Turn> turns;
  std::vector<Descent> descents;  ///< from the source on
  std::vector<Summit> summits;    ///< what the water must top, in order: crests, then the end unless it
                                  ///< lies free below the last crest; at least one
  double end_column_m = 0.0;      ///< grade of the column beyond the last pocket
};

/// A vent within a bore below the crest, on either side, counts as at the crest; one further down
/// the descent lets air out until the water reaches it and leaves the rest; others do nothing.
LineShape shape_of(const Profile& profile, const StartConditions& conditions);

/// The last leg, which falls from a crest to a free end, where the water closes it at a station
/// (air/closed_leg.h). Precondition: the last turn is a crest, and the station lies behind it.
Descent closed_descent(const Profile& profile, const StartConditions& conditions, double closed_from_m);

/// Grade of a column of water [m], with the air behind it compressed and, as the worst case, with no pocket
/// giving way.
struct Load {
  double column_m = 0.0, uncompressed_m = 0.0;
};

/// What the water before the crest of a descent must stand at under the water beyond its low point.
Load pass_back(const Descent& descent, double atmospheric_head_m, Load beyond);

/// The same for every descent at once while the water beyond the last stands at `column_m`; that column comes
/// last, so that entry k + 1 is what loads descent k.
std::vector<Load> loads_under(const LineShape& shape, double atmospheric_head_m, double column_m);

/// The pocket of one descent as the water beyond it loads it.
Pocket loaded_by(const Descent& descent, double atmospheric_head_m, Load beyond);

/// The verdict on what is asked for at the source. `too_high`: a point stands above it.
StartLevels levels_of(const Load& at_source, double source_level_m, bool too_high);

/// Pockets as they are loaded while the water beyond pocket number `count` - 1 stands at `column_m`; the
/// later ones are not there yet.
struct Front {
  std::vector<Pocket> pockets;
  double required_level_m = 0.0;      ///< at the source
  double uncompressed_level_m = 0.0;  ///< the same if no pocket gave way
};
Front front_at(const LineShape& shape, double atmospheric_head_m, std::size_t count, double column_m);

/// The pocket's places, nothing loaded yet.
Pocket pocket_of(const Descent& descent);

}  // namespace runnel::air
