#pragma once
// The ways that water takes through a system, from each source to each place where it comes out.
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/profile.h"
#include "runnel/air/start_up.h"
#include "runnel/network/system.h"

namespace runnel::air {

struct Path {
  std::string source, end;            ///< names of places
  std::vector<PathLeg> legs;          ///< pointers into the system given
  double source_level_m = 0.0;        ///< a box at its lip, a tank at its level
  std::optional<double> end_level_m;  ///< water over the end of the last pipe, if it is covered
  bool end_stands = false;  ///< that water, of a tank or box, stands there already before the filling
};

/// Every path from a box or a tank to an outlet, a tank, a box or a joint with a draw, with no other box or
/// tank on it. A path passes no shut valve, no check valve against its direction, no outlet that is shut, and
/// no line from its end back if that end, in a tank or box, is not under water. Where several ways join two
/// places, the one of fewest pipelines is taken. A way that anywhere goes against the drawn direction counts
/// only if it ends below its source. A box at the end is taken to be full to its lip; a tap above its joint
/// counts as water standing that high over the joint.
std::vector<Path> paths(const network::System& system);

Profile profile_of(const Path& path);

/// Conditions of a path under the atmospheric head of the site.
StartConditions conditions_of(const Path& path, const network::Site& site);

}  // namespace runnel::air
