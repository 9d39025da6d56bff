#pragma once
// A system that has started and still has its start-up air in it: what runs at first, and what runs when
// the current has carried off the air it can carry.
//
// Every pipeline keeps the pockets of air/held_air.h and follows the law of steady/pocket_law.h in the
// direction in which it was filled; the other way its law is the usual one. The whole system is solved with
// these laws, so that one branch may take what another does not. Then, for each published law, the bodies of
// air whose carrying velocity is exceeded on every piece of them are taken out and the system is solved
// again, until none goes (air/clearing.h). Each state is proved by itself (air/check_at_first.h).
//
// A reducing valve limits the head on the air behind it; the pressure of air before it is given as if the
// valve were open. Where a valve stands within a body of air, that air is not followed: `not_followed` names
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
  double interface_m = 0.0;  ///< elevation of its lower surface on this pipeline
  double gauge_head_m = 0.0;
  double volume_m3 = 0.0;     ///< on this pipeline; 0 where it is compressed into the one before
  double head_taken_m = 0.0;  ///< what the leg needs beyond what it would if it ran full
};

/// The flow in one pipeline.
struct AirRun {
  double flow_m3s = 0.0;                           ///< positive from its start to its end
  double velocity_ms = 0.0;                        ///< in the full bore of its first pipe
  std::optional<double> start_head_m, end_head_m;  ///< none where no water comes
};

/// Figures of the independent check.
struct AirProof {
  double continuity_m3s = 0.0;  ///< worst place
  double energy_m = 0.0;        ///< worst line with air in it
  double boyle_m = 0.0;         ///< worst pocket: the error of its pressure, in metres of water
  int pockets = 0;
  bool consistent = false;
};

struct AirState {
  bool settled = false;
  std::vector<RunningAir> air;  ///< the air still there
  std::vector<AirRun> runs;     ///< one a pipeline
  steady::State state;          ///< places, and the flows of pipelines but not the figures along them
  AirProof proof;
};

/// The state in which clearing ends by one law.
struct LawEnd {
  ClearingLaw law = ClearingLaw::kalinske_bliss;
  bool in_range = true;   ///< false: some leg is too steep or too flat for the law
  std::size_t state = 0;  ///< index into `AtFirst::states`
};

/// What one law gives if a branch is opened before the rest of the system.
struct OpenedFirst {
  ClearingLaw law = ClearingLaw::kalinske_bliss;
  bool in_range = true;
  AirState state;  ///< once everything is open
};

/// A branch with air in it that is to start while the system runs (air/branch_start.h).
struct BranchStart {
  std::size_t way = 0;              ///< index into the ways
  std::size_t line = 0;             ///< the first pipeline of the branch
  int tee = 0;                      ///< place at which it leaves the rest
  double needed_m = 0.0;            ///< head at the tee above which it starts
  std::optional<double> running_m;  ///< head there while the rest runs and the branch is still; none: dry
  bool starts_running = false;      ///< starts while the rest runs
  std::vector<OpenedFirst> opened_first;  ///< in the order of `clearing_laws`; empty if it starts anyway
  bool proved = true;                     ///< every state that this rests on is proved
};

struct AtFirst {
  std::vector<AirState> states;  ///< the first with all the air, then each other state in which some law ends
  AirState uncompressed;         ///< the bound: the first state, if no air were compressed
  std::vector<LawEnd> laws;      ///< in the order of `clearing_laws`
  std::vector<std::size_t> not_followed;  ///< pipelines
  std::vector<BranchStart> branches;      ///< in the order of the ways
  std::size_t branches_left_out = 0;      ///< not judged, because there are too many

  const AirState& first() const { return states.front(); }
  /// The states in which laws within their range end, each once; those of all laws if none is in its range.
  std::vector<std::size_t> ends() const;
  /// Whether every state is settled and proved.
  bool proved() const;
};

/// None if no air is held, or if every way that holds air is blocked.
std::optional<AtFirst> at_first(const network::System& system, const std::vector<Way>& ways);

}  // namespace runnel::air
