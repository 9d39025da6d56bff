#pragma once
// What must get through: whatever parts a group of places from the sources has to carry what the group draws,
// and no pipe carries more than the head between its ends allows: no more above than the only ways from the
// sources leave, and below what is asked. Every real design passes all of these tests, so they bound the cost
// from below.
#include <cstddef>
#include <vector>

#include "runnel/sizing/loop_choice.h"

namespace runnel::sizing {

struct Cut {
  double needed_m3s = 0.0;  ///< drawn behind it, less what links that are there already can carry
  std::vector<std::size_t> runs;
  /// The most that each option of each of these runs can carry.
  std::vector<std::vector<double>> carries_m3s;
};

/// One a place: no design leaves it more head.
std::vector<double> most_heads_m(const LoopChoice& choice);

/// Cuts of at most `most_runs` runs.
std::vector<Cut> cuts_of(const LoopChoice& choice, int most_runs);

/// No design costs less: the linear relaxation of all the cuts together.
double bound_by_cuts(const LoopChoice& choice, const std::vector<Cut>& cuts);

}  // namespace runnel::sizing
