#pragma once
// Air along every way the water takes: does it start from empty, where is air held, what would help.
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/at_first.h"
#include "runnel/air/line_air.h"
#include "runnel/air/path.h"
#include "runnel/air/remedy.h"
#include "runnel/air/start_up.h"
#include "runnel/base/finding.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/arrival.h"

namespace runnel::verdict {

/// One way from a source to a place where water comes out. `path.legs` point into the system judged.
struct PathAir {
  air::Path path;
  air::Profile profile;
  air::StartUp start;
  std::optional<air::VentEffect> best_vent;  ///< only where it does not surely start
  std::optional<air::VentPlan> vents;        ///< fewest vents found with which it surely starts
  std::optional<air::DigEffect> dig;         ///< the crest that has to be dug down least
  /// At the spring's yield or, below a box without one, at what runs into it; none below a tank.
  std::optional<Arrival> first_water;
  bool nothing_comes =
      false;  ///< in the state that runs, at an open outlet at the end: so no first water either
};

/// A high point behind which air is held; the station is the pipeline's own.
struct AirPlace {
  std::string pipeline;
  double station_m = 0.0;
};

/// Whether both are the same point of the ground.
bool same_place(const AirPlace& a, const AirPlace& b);

/// Whether opening a branch first, with everything else shut until its air has gone, lets it run on.
enum class OpeningOrder {
  any,                   ///< it starts while the rest runs
  branch_first,          ///< only so, by every law in its range
  perhaps_branch_first,  ///< only so, and only by some of the laws
  none                   ///< not even so: its air stays, or it stops again when the rest is opened
};

/// A branch with air in it, started against the rest of the system (air/branch_start.h).
struct BranchAnswer {
  std::size_t path = 0;  ///< index into the paths
  std::string pipeline, tee, end;
  double needed_m = 0.0;            ///< level at the tee above which it starts
  std::optional<double> running_m;  ///< there, with the rest running and the branch still; none: no water
  OpeningOrder order = OpeningOrder::any;
  double opened_first_m3s = 0.0;  ///< least at the end of the way when it is opened first; 0 for `any`
};

struct AirAnswer {
  std::vector<PathAir> paths;
  std::vector<air::LineAir> lines;  ///< in the system's order
  std::size_t paths_left_out = 0;   ///< of very large systems only the first ways are judged
  bool trials_cut_short = false;    ///< not every remedy could be tried
  /// What runs with the start-up air in the lines; none where none is held, or its proof failed.
  std::optional<air::AtFirst> at_first;
  std::vector<BranchAnswer> branches;
  std::vector<Finding> findings;
};

/// Needs a settled state. Never throws for one.
AirAnswer judge_air(const network::System& system, const steady::State& state);
/// Only that part of it which decides how much water comes: which ways start, and what runs at first and once
/// the current has carried off what it can. For the many solves that only ask whether a need is met.
AirAnswer held_by_air(const network::System& system);

/// Where air valves let a way start that does not surely start without them; empty if none do.
std::vector<AirPlace> valves_of(const PathAir& way);

/// Pipeline and own station of a point of a profile.
std::string line_of(const air::Profile& profile, int point);
double station_of(const air::Profile& profile, int point);

}  // namespace runnel::verdict
