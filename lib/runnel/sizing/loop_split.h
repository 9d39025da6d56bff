#pragma once
// Runs of a network with loops put together from several sizes. With the flows fixed the cheapest shares are
// a linear programme; the flows around the loops, and from source to source, are searched over it
// [alperovits1977]. A good design, not a proved one: mouths in open water are left to whoever tries it.
#include <functional>

#include "runnel/sizing/loop_choice.h"

namespace runnel::sizing {

struct LoopSplit {
  bool found = false;
  double cost = 0.0;
  std::vector<std::vector<double>> shares;  ///< of each run in each of its options
  std::vector<double> flow_m3s;  ///< one a run, from its a to its b; then of links that are there already
  std::vector<double> head_m;    ///< one a place
  std::vector<bool> holds_head;  ///< one a place: a source that stands at its height whatever it gives

  /// Of a link that is there already, which has no shares, the whole is laid.
  double share(std::size_t run, std::size_t option) const {
    return run < shares.size() ? shares[run][option] : 1.0;
  }
};

/// From the flows of a design, and from flows about it. Nothing is found where a link that is there already
/// is laid in several pipes.
LoopSplit split_loops(
    const LoopChoice& choice, const std::vector<int>& options,
    const std::function<bool()>& stop = [] { return false; });

/// The same from the flows of a split of nearly the same choice.
LoopSplit split_near(const LoopChoice& choice, const LoopSplit& from);

}  // namespace runnel::sizing
