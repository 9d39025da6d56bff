#pragma once
// The cheapest size for every line of a tree whose flows are known, exactly: a dynamic programme over the
// heads at its places, from the ends up, that forgets what cannot be part of the cheapest choice
// (head_grid.h). The answer carries its own proof, which room `proof` checks.
#include <cstddef>
#include <vector>

#include "runnel/network/choice.h"

namespace runnel::sizing {

enum class TreeOutcome {
  proved,      ///< no choice is cheaper
  impossible,  ///< no choice meets all floors; `least_head_m` says what the source would need
  not_proved,  ///< there was no room to look at everything: `bound` is below `cost`
};

struct TreeAnswer {
  TreeOutcome outcome = TreeOutcome::impossible;
  double cost = 0.0, bound = 0.0;  ///< of the choice; no choice costs less than the bound
  std::vector<int> options;        ///< one for each branch
  std::vector<double> head_m;      ///< one for each place
  double least_head_m = 0.0;       ///< at the source, below which nothing can be built
  network::TreeProof proof;        ///< of `bound`
};

struct TreeLimits {
  int cells = 2048;                    ///< of the first grid
  int most_cells = 1 << 16;            ///< a finer one is tried where the first leaves too much to look at
  std::size_t most_steps = 4'000'000;  ///< kept at once
};

/// Precondition: losses are finite and not below zero, branches stand after those above them.
TreeAnswer cheapest(const network::TreeChoice& choice, const TreeLimits& limits = {});

}  // namespace runnel::sizing
