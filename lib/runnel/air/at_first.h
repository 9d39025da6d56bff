#pragma once
// A system that has started and still has its start-up air in it: what runs at first, and what runs when
// the current has carried off the air it can carry.
//
// Every pipeline keeps the pockets of air/held_air.h and follows the law of steady/pocket_law.h in the
// direction it was filled; the other way it is as ever. The whole system is solved with these laws, so that
// what a branch does not take another may. Then, for each published law, the bodies of air whose carrying
// velocity is exceeded on every piece of them are taken out and the system is solved again, until none goes
// (air/clearing.h). Each state is one of its own and is proved on its own (air/check_at_first.h).
//
// A reducing valve holds the head that the air behind it has; what air before it bears is told as if the
// valve were open. Where a valve stands within a body of air, the air is not followed: `not_followed` names
// the line.
#include <optional>
#include <vector>

#include "runnel/air/held_air.h"
#include "runnel/air/sweep.h"
#include "runnel/steady/state.h"

namespace runnel::air {

/// Air in a line that runs.
struct RunningAir {
  HeldAir held;
  double interface_m = 0.0;  ///< elevation of its lower surface here
  double gauge_head_m = 0.0;
  double volume_m3 = 0.0;     ///< on this pipeline; 0 where it is pressed up into the one before
  double head_taken_m = 0.0;  ///< more than the leg would ask if it ran full, all else equal
};

/// What runs in one pipeline.
struct AirRun {
  double flow_m3s = 0.0;                           ///< positive from its start to its end
  double velocity_ms = 0.0;                        ///< the same over the bore of its first pipe
  std::optional<double> start_head_m, end_head_m;  ///< none where no water comes
};

/// Figures of the independent check.
struct AirProof {
  double continuity_m3s = 0.0;  ///< worst place
  double energy_m = 0.0;        ///< worst line with air in it
  double boyle_m = 0.0;         ///< worst pocket: its pressure, in metres of water
  int pockets = 0;
  bool consistent = false;
};

struct AirState {
  bool settled = false;
  std::vector<RunningAir> air;  ///< what is still there
  std::vector<AirRun> runs;     ///< one a pipeline
  steady::State state;          ///< places, and the flows of pipelines; not what stands inside them
  AirProof proof;
};

/// Where the air goes by one law.
struct LawEnd {
  ClearingLaw law = ClearingLaw::kalinske_bliss;
  bool in_range = true;   ///< false: some leg is too steep or too flat for the law
  std::size_t state = 0;  ///< index into `AtFirst::states`
};

/// What one law says where a branch is opened before the rest of the system.
struct OpenedFirst {
  ClearingLaw law = ClearingLaw::kalinske_bliss;
  bool in_range = true;
  AirState state;  ///< once everything is open
};

/// A branch with air in it, started against a system that runs (air/branch_start.h).
struct BranchStart {
  std::size_t way = 0;              ///< index into the ways
  std::size_t line = 0;             ///< the first pipeline of the branch
  int tee = 0;                      ///< place at which it leaves the rest
  double needed_m = 0.0;            ///< level at the tee above which it starts
  std::optional<double> running_m;  ///< there, with the rest running and the branch still; none: no water
  bool starts_running = false;
  std::vector<OpenedFirst> opened_first;  ///< in the order of `clearing_laws`; empty where it starts anyway
  bool proved = true;                     ///< each state it rests on
};

struct AtFirst {
  std::vector<AirState> states;  ///< the first with all the air; then each other in which some law ends
  AirState uncompressed;         ///< the bound: as at first, if no air gave way to pressure
  std::vector<LawEnd> laws;      ///< in the order of `clearing_laws`
  std::vector<std::size_t> not_followed;  ///< pipelines
  std::vector<BranchStart> branches;      ///< in the order of the ways
  std::size_t branches_left_out = 0;      ///< not judged, as there are so many

  const AirState& first() const { return states.front(); }
  /// The ends that laws within their range say, each once; of all laws if none is in its range.
  std::vector<std::size_t> ends() const;
  /// Every state settled and proved.
  bool proved() const;
};

/// None where nothing is held, or every way that holds air is blocked.
std::optional<AtFirst> at_first(const network::System& system, const std::vector<Way>& ways);

}  // namespace runnel::air
