#pragma once
// Ways the water takes through a system, from each source to each place it comes out.
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
  bool end_stands = false;  ///< that water stands there already before the filling: a tank's or a box's
};

/// Every path from a box or a tank to an outlet, tank, box or drawing joint that no other box or tank lies
/// on. Pipelines with a valve shut are no way, nor is a check valve against its direction, nor an outlet
/// that is shut, nor a line back from its end in a tank or box that is not under water. Between two places
/// that several ways join, the one of fewest pipelines is taken. A way that goes against the drawn direction
/// anywhere counts only if it ends below its source. A box at the end is taken to be full to its lip; a tap
/// above its joint stands as water over the joint.
std::vector<Path> paths(const network::System& system);

Profile profile_of(const Path& path);

/// Conditions of a path with the air pressure and the water of the site.
StartConditions conditions_of(const Path& path, const network::Site& site);

}  // namespace runnel::air
