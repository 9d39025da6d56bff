#pragma once
// What the solver of a kernel finds, and what it is asked for.
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
  std::vector<double> head_m;    ///< one a node, above the kernel's datum
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
  /// Worst link, of the total flow: what its flow may be off at the heads found. A metre means little at a
  /// pipe so short and wide that a nanometre carries litres.
  double flow_share = 1e-9;
  double continuity_floor_m3s = 1e-13;
  bool polish = true;  ///< on a small system, one step more than the limits ask, and trickles stopped
  const KernelState* near =
      nullptr;  ///< a settled state of the same kernel at other heads or valves, to start from
};

}  // namespace runnel::steady
