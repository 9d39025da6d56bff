#pragma once
// L D L^T of a sparse symmetric positive definite matrix whose pattern stays while its values change at every
// step of a solve. It is ordered once by minimum degree (linear/ordering.h) and factorised row by row
// (up-looking) with the row patterns of L kept, so that a step does arithmetic only. The method is that of
// [davis2005], with the elimination tree of [liu1990].
#include <cstddef>
#include <utility>
#include <vector>

#include "runnel/linear/elimination.h"

namespace runnel::linear {

class Ldl {
 public:
  /// `couplings`: pairs (i, j), i != j, of places 0..n-1 that may have an entry; pairs may repeat.
  void analyse(int n, const std::vector<std::pair<int, int>>& couplings);

  /// Sets all entries to zero, ready for new values.
  void clear();
  void add_diagonal(int i, double value) {
    diagonal_[plan_.position_of[static_cast<std::size_t>(i)]] += value;
  }
  /// `k`: the coupling, numbered as it was given to `analyse`.
  void add_coupling(std::size_t k, double value) { upper_[plan_.slot_of[k]] += value; }

  /// Returns false if a pivot is not positive or not finite, so that the matrix is not positive definite.
  bool factorise();
  /// Overwrites b with the solution. Call after a successful `factorise`.
  void solve(std::vector<double>& b);

  int size() const { return plan_.places; }

 private:
  Elimination plan_;
  std::vector<double> upper_, diagonal_;
  std::vector<int> filled_;
  std::vector<double> l_, inverse_d_, work_;
};

}  // namespace runnel::linear
