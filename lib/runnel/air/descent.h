#pragma once
// The shape of a line as it matters at start-up: the descents that can hold air and the summits in between.
#include <vector>

#include "runnel/air/pocket.h"
#include "runnel/air/profile.h"
#include "runnel/air/start_up.h"

namespace runnel::air {

/// The leg from a crest down to the low point that seals it.
struct Descent {
  int crest = 0, low = 0;
  double crest_m = 0.0;  ///< elevation
  bool vented = false;   ///< by an air valve at the crest
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
  std::vector<Summit> summits;    ///< what the water must rise over, in order: crests, then the end unless it
                                  ///< is free and below the last crest; at least one
  double end_column_m = 0.0;      ///< grade of the column beyond the last pocket
};

/// An air valve within a bore below the crest, on either side, counts as being at the crest. One further down
/// the descent lets air out until the water reaches it, and the rest stays; others do nothing.
LineShape shape_of(const Profile& profile, const StartConditions& conditions);

/// The last leg, from a crest to a free end, if the water closes it at a station (air/closed_leg.h).
/// Precondition: the last turn is a crest, and the station lies behind it.
Descent closed_descent(const Profile& profile, const StartConditions& conditions, double closed_from_m);

/// Grade of a column of water [m], with the air behind it compressed and, as the worst case, without that.
struct Load {
  double column_m = 0.0, uncompressed_m = 0.0;
};

/// The level that the water before the crest of a descent must have, given the water beyond its low point.
Load pass_back(const Descent& descent, double atmospheric_head_m, Load beyond);

/// The same for every descent at once while the water beyond the last stands at `column_m`. That column is
/// the last entry, so that entry k + 1 loads descent k.
std::vector<Load> loads_under(const LineShape& shape, double atmospheric_head_m, double column_m);

/// The pocket of one descent under the load of the water beyond it.
Pocket loaded_by(const Descent& descent, double atmospheric_head_m, Load beyond);

/// The verdict on the level needed at the source. `too_high`: a point of the line is too high for the source.
StartLevels levels_of(const Load& at_source, double source_level_m, bool too_high);

/// The first `count` pockets as they are loaded while the water beyond the last of them stands at `column_m`;
/// later pockets have not formed yet.
struct Front {
  std::vector<Pocket> pockets;
  double required_level_m = 0.0;      ///< at the source
  double uncompressed_level_m = 0.0;  ///< the same if no air were compressed
};
Front front_at(const LineShape& shape, double atmospheric_head_m, std::size_t count, double column_m);

/// The pocket of a descent with its places filled in but no load.
Pocket pocket_of(const Descent& descent);

}  // namespace runnel::air
