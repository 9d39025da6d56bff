#pragma once
// Does the current carry off the air that start-up left in a line, and how far does that go?
//
// Each pocket is judged at the flow of the state it is in, with all the air that is still there. Those that
// a law says are carried down are taken out, the line is solved again, and so on until none goes. The flow
// never falls on the way, so the end does not depend on the order. Every law ends in a state of its own, and
// the spread of the laws is the spread of the answer.
//
// A leg is cleared only if every piece of it is, down to the low point: the hardest piece decides. A law that
// gives less than the drift velocity of a long cavity is raised to that, because air that creeps upstream is
// not carried down. Air that leaves a leg is taken to leave the line; that it may join the next pocket on its
// way, or stop in a gentler leg, is not followed.
#include <vector>

#include "runnel/air/sweep.h"
#include "runnel/steady/pocket_law.h"

namespace runnel::air {

/// The velocity that a law gives, or the plain drift of a cavity [benjamin1968], [bendiksen1984] where that
/// is more [m/s].
double carrying_velocity_ms(ClearingLaw law, double bore_m, double down_angle_rad,
                            const ClearingOptions& options = {});

/// The flow above which a pocket is carried down [m3/s]. Pieces that rise count as level.
double carrying_flow_m3s(ClearingLaw law, const steady::PocketCourse& course, const steady::ShutAir& air,
                         const ClearingOptions& options = {});

/// Whether no leg that holds air is too steep or too flat for the law.
bool law_in_range(ClearingLaw law, const steady::PocketCourse& course);

/// The heads at the ends of the line, and what comes at most.
struct LineEnds {
  double source_head_m = 0.0, sink_head_m = 0.0;
  double most_m3s = steady::unbounded;  ///< what the spring gives
};

/// One state on the way to the end.
struct ClearingStep {
  double flow_m3s = 0.0;
  std::vector<int> left;                       ///< indices into the pockets of the course
  std::vector<steady::RunningPocket> pockets;  ///< one for each of `left`
  std::vector<int> carried;                    ///< those of `left` that go next; empty in the last step
};

struct Clearing {
  ClearingLaw law = ClearingLaw::kalinske_bliss;
  bool in_range = true;             ///< false: some piece is too steep or too flat for the law
  std::vector<ClearingStep> steps;  ///< at least one; the last is the end
  const ClearingStep& end() const { return steps.back(); }
  bool clear() const { return end().left.empty(); }
};

Clearing follow_clearing(ClearingLaw law, const steady::PocketCourse& course, const LineEnds& ends,
                         const ClearingOptions& options = {});

/// The same for every law, in the order of `clearing_laws`.
std::vector<Clearing> follow_clearing(const steady::PocketCourse& course, const LineEnds& ends,
                                      const ClearingOptions& options = {});

}  // namespace runnel::air
