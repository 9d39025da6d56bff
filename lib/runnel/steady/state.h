#pragma once
// The steady flow of a system.
#include "runnel/network/flow_state.h"

namespace runnel::steady {

using network::Iteration;
using network::LineCondition;
using network::LinePoint;
using network::LineState;
using network::Outcome;
using network::PlaceState;
using network::Proof;
using network::Reach;
using network::ReachState;
using network::State;

struct Options {
  int max_iterations =
      8000;            ///< most are for rare systems that have to settle in time (steady/slow_settling.h)
  bool floors = true;  ///< false: every line is taken to run full, whatever the grade line does
  /// false: depths and velocities of part-full stretches are left out. On a line with many high points they
  /// are nearly all the work, and whoever only tries a change reads flows and heads.
  bool depths = true;
};

/// Steady flow of a system as it stands (apply a setting first). Never throws for a valid system.
State solve(const network::System& system, const Options& options = {});

}  // namespace runnel::steady
