#pragma once
// Approximate minimum degree of a symmetric pattern [amestoy1996], by Eigen; exact minimum degree, by sets of
// bits, where the pattern is small.
#include <utility>
#include <vector>

namespace runnel::linear {

/// `couplings`: pairs (i, j), i != j, of places 0..n-1; pairs may repeat. Gives each place its row in the
/// order of elimination.
std::vector<int> minimum_degree(int n, const std::vector<std::pair<int, int>>& couplings);

}  // namespace runnel::linear
