#pragma once
// Runs of a network with loops put together from several sizes. With the flows fixed, the cheapest shares are
// a linear programme; the flows around the loops, and from source to source, are searched on top of it
// [alperovits1977]. The design is good but not proved: mouths in open water are left to the full trial.
#include <functional>

#include "runnel/sizing/loop_choice.h"

namespace runnel::sizing {

struct LoopSplit {
  bool found = false;
  double cost = 0.0;
  std::vector<std::vector<double>> shares;  ///< for each run, the share of each of its options
  std::vector<double> flow_m3s;             ///< for each run, from its a to its b; then for existing links
  std::vector<double> head_m;               ///< for each place
  std::vector<bool> holds_head;  ///< for each place: a source that stands at its height whatever it gives

  /// An existing link has no shares: the whole of it is laid.
  double share(std::size_t run, std::size_t option) const {
    return run < shares.size() ? shares[run][option] : 1.0;
  }
};

/// Searches from the flows of a design and from others near them. Finds nothing where an existing link is
/// laid in several pipes.
LoopSplit split_loops(
    const LoopChoice& choice, const std::vector<int>& options,
    const std::function<bool()>& stop = [] { return false; });

/// The same from the flows of a split of nearly the same choice.
LoopSplit split_near(const LoopChoice& choice, const LoopSplit& from);

}  // namespace runnel::sizing
