#pragma once
// Air along every way the water takes: does it start from empty, where is air held, what would help.
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/path.h"
#include "runnel/air/remedy.h"
#include "runnel/air/risk.h"
#include "runnel/air/start_up.h"
#include "runnel/air/sweep.h"
#include "runnel/base/finding.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

/// One way from a source to a place where water comes out. `path.legs` point into the system judged.
struct PathAir {
  air::Path path;
  air::Profile profile;
  air::StartUp start;
  std::optional<air::VentEffect> best_vent;  ///< only where it does not surely start
  std::optional<air::VentPlan> vents;        ///< fewest vents found with which it surely starts
  std::optional<air::DigEffect> dig;         ///< the crest that has to be dug down least
};

/// One crest, seen once however many ways lead over it.
struct CrestAir {
  std::string pipeline;
  double station_m = 0.0, elevation_m = 0.0;  ///< station on its own pipeline
  air::Graded graded;
  bool vented = false;
  std::optional<double> clearance_m;      ///< grade line above the pipe when running
  std::optional<air::SweepResult> sweep;  ///< of the descent after it, if water flows there
};

struct AirAnswer {
  std::vector<PathAir> paths;
  std::vector<CrestAir> crests;
  std::size_t paths_left_out = 0;  ///< of very large systems only the first ways are judged
  std::vector<Finding> findings;
};

/// Needs a settled state. Never throws for one.
AirAnswer judge_air(const network::System& system, const steady::State& state);

/// Pipeline and own station of a point of a profile.
std::string line_of(const air::Profile& profile, int point);
double station_of(const air::Profile& profile, int point);

}  // namespace runnel::verdict
