#pragma once
// Runs of a network with loops put together from several sizes. With the flows fixed the cheapest shares are
// a linear programme; the flows around the loops are searched over it [alperovits1977]. A good design, not a
// proved one.
#include "runnel/sizing/loop_choice.h"

namespace runnel::sizing {

struct LoopSplit {
  bool found = false;
  double cost = 0.0;
  std::vector<std::vector<double>> shares;  ///< of each run in each of its options
  std::vector<double> flow_m3s;             ///< one a run, from its a to its b
  std::vector<double> head_m;               ///< one a place
};

/// The cheapest shares for given flows, which must balance at every place.
LoopSplit split_at(const LoopChoice& choice, const std::vector<double>& flow_m3s);

/// From the flows of a design, and from flows about it. Precondition: no links are there already.
LoopSplit split_loops(const LoopChoice& choice, const std::vector<int>& options);

}  // namespace runnel::sizing
