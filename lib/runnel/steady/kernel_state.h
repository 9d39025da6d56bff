#pragma once
// What the solver of a kernel finds, and how closely it has to.
#include <vector>

#include "runnel/steady/kernel.h"
#include "runnel/steady/state.h"

namespace runnel::steady {

/// What determines a place's head.
enum class Hold {
  free,        ///< its balance
  lip,         ///< its lip, over which it spills
  draw_short,  ///< the floor of its draw, which takes all the water that comes, less than it wants
  draw_none,   ///< its balance, below the floor of its draw, which gets nothing
};

struct KernelState {
  Outcome outcome = Outcome::iteration_limit;
  std::vector<Iteration> history;
  std::vector<double> head_m;    ///< one a node, above the kernel's datum
  std::vector<double> flow_m3s;  ///< one a link
  std::vector<double>
      surplus_m3s;           ///< one a node: spill at a lip, net inflow to a fixed head, what a draw gets
  std::vector<Hold> hold;    ///< one a node
  std::vector<int> control;  ///< one a link: governing control; -1: still, shut or at a float valve's limit
};

struct NewtonOptions {
  int max_iterations = 8000;        ///< plain steps are at most some 120 of these
  double energy_m = 1e-9;           ///< worst link
  double continuity_share = 1e-10;  ///< worst place, of the total flow
  /// Worst link, of the total flow: how far its flow may be off at the heads found. The limit on energy alone
  /// means little for a pipe so short and wide that a nanometre of head carries litres.
  double flow_share = 1e-9;
  double continuity_floor_m3s = 1e-13;
  bool polish = true;  ///< on a small system: one more step than the limits need, and trickles stopped
  /// false: no such step if the state is far closer than the limits already.
  bool to_round_off = true;
  const KernelState* near =
      nullptr;  ///< a settled state of the same kernel at other heads or valves, to start from
};

}  // namespace runnel::steady
