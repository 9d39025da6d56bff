#pragma once
// Minimum degree ordering of a symmetric pattern: approximate [amestoy1996], by Eigen, or exact, with sets of
// bits, where the pattern is small.
#include <utility>
#include <vector>

namespace runnel::linear {

/// `couplings`: pairs (i, j), i != j, of places 0..n-1; pairs may repeat. Returns for each place its row in
/// the order of elimination.
std::vector<int> minimum_degree(int n, const std::vector<std::pair<int, int>>& couplings);

}  // namespace runnel::linear
