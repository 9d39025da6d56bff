#pragma once
// Newton's method on flows and heads together [todini1988], generalised to links whose law is the
// least of several controls and to places with a lip or a draw. Each step: every link's governing
// control is linearised, the flows are eliminated, one sparse M-matrix system gives the heads
// (linear/node_system.h), the flows follow. The choice of control, lip and draw is made anew at every
// step from the linear model itself (a semismooth Newton step, [qi-sun1993]), so nothing is guessed and
// held.
#include <string>
#include <vector>

#include "runnel/steady/kernel.h"
#include "runnel/steady/state.h"

namespace runnel::steady {

/// What holds a place's head.
enum class Hold {
  free,        ///< its balance
  lip,         ///< it spills
  draw_short,  ///< its draw takes all that comes, and that is less than asked
  draw_none,   ///< its head lies below the draw's floor: nothing to draw
};

struct KernelState {
  Outcome outcome = Outcome::iteration_limit;
  std::vector<Iteration> history;
  std::vector<double> head_m;    ///< one a node
  std::vector<double> flow_m3s;  ///< one a link
  std::vector<double>
      surplus_m3s;           ///< one a node: spill at a lip, what comes to a fixed head, what a draw gets
  std::vector<Hold> hold;    ///< one a node
  std::vector<int> control;  ///< one a link: governing control, -1: still or shut
};

struct NewtonOptions {
  int max_iterations = 8000;        ///< plain steps are at most 80 of these
  double energy_m = 1e-9;           ///< worst link
  double continuity_share = 1e-10;  ///< worst place, of the total flow
  double continuity_floor_m3s = 1e-13;
  bool polish = true;  ///< on a small system, one step more than the limits ask, and trickles stopped
  const KernelState* near =
      nullptr;  ///< a settled state of the same kernel at other heads or valves, to start from
};

KernelState solve(const Kernel& kernel, const NewtonOptions& options = {});

}  // namespace runnel::steady
