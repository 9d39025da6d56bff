#pragma once
// What must get through. The parts that separate a group of places from the sources have to carry what the
// group draws, and no pipe carries more than the head between its ends allows: at most what the only ways
// from the sources leave above it, less what is needed below. Every real design passes all of these tests, so
// they bound the cost from below.
#include <cstddef>
#include <vector>

#include "runnel/sizing/loop_choice.h"

namespace runnel::sizing {

struct Cut {
  double needed_m3s = 0.0;  ///< drawn behind it, less what existing links can carry
  std::vector<std::size_t> runs;
  /// The most that each option of each of these runs can carry.
  std::vector<std::vector<double>> carries_m3s;
};

/// For each place, a head that no design exceeds.
std::vector<double> most_heads_m(const LoopChoice& choice);

/// Cuts of at most `most_runs` runs.
std::vector<Cut> cuts_of(const LoopChoice& choice, int most_runs);

/// No design costs less than this: the linear relaxation of all the cuts together.
double bound_by_cuts(const LoopChoice& choice, const std::vector<Cut>& cuts);

}  // namespace runnel::sizing
