#pragma once
// L L^T of a large sparse symmetric positive definite matrix whose pattern stays while its values change at
// every step. Columns of similar pattern are gathered into dense blocks, which is worth storing a few zeros,
// and each block's contribution to the rest is passed up the elimination tree as a dense matrix
// [duff-reid1983], [liu1992]. It is used like Ldl, which is faster on small systems.
#include <cstddef>
#include <utility>
#include <vector>

#include "runnel/linear/front_plan.h"

namespace runnel::linear {

class Multifrontal {
 public:
  /// `couplings`: pairs (i, j), i != j, of places 0..n-1 that may have an entry; pairs may repeat.
  void analyse(int n, const std::vector<std::pair<int, int>>& couplings);

  /// Sets all entries to zero, ready for new values.
  void clear();
  void add_diagonal(int i, double value) { factor_[plan_.diagonal[static_cast<std::size_t>(i)]] += value; }
  /// `k`: the coupling, numbered as it was given to `analyse`.
  void add_coupling(std::size_t k, double value) { factor_[plan_.coupling[k]] += value; }

  /// Overwrites the entries with their factor. Returns false if a pivot is not positive or not finite.
  bool factorise();
  /// Overwrites b with the solution. Call after a successful `factorise`.
  void solve(std::vector<double>& b);

 private:
  void take(const FrontBlock& child, const double* update, const FrontBlock& block, double* own);

  FrontPlan plan_;
  std::vector<double> factor_, stack_, own_, work_;
  std::vector<const FrontBlock*> waiting_;  ///< blocks whose updates are on the stack
};

}  // namespace runnel::linear
