#pragma once
// L D L^T of a sparse symmetric positive definite matrix whose pattern stays and whose values change
// at every step of a solve. Ordered once by approximate minimum degree (Eigen), factorised row by row
// (up-looking) with the row patterns of L kept, so that a step only does arithmetic.
// Method: [davis2005], the elimination tree of [liu1990].
#include <cstdint>
#include <utility>
#include <vector>

namespace runnel::linear {

class Ldl {
 public:
  /// `couplings`: pairs (i, j), i != j, of places 0..n-1 that may have an entry; pairs may repeat.
  void analyse(int n, const std::vector<std::pair<int, int>>& couplings);

  /// Sets all entries to zero before new values come in.
  void clear();
  void add_diagonal(int i, double value) { diagonal_[position_of_[static_cast<std::size_t>(i)]] += value; }
  /// `k` counts the couplings as given to `analyse`.
  void add_coupling(std::size_t k, double value) { upper_[slot_of_[k]] += value; }

  /// False if a pivot is not positive or not finite; the matrix was not positive definite then.
  bool factorise();
  /// Overwrites b with the solution. Call after a successful `factorise`.
  void solve(std::vector<double>& b);

  int size() const { return n_; }

 private:
  void collect_upper(const std::vector<std::pair<int, int>>& couplings);
  void find_row_patterns(std::vector<int>& count);

  int n_ = 0;
  std::vector<std::size_t> position_of_;      ///< place -> row after ordering
  std::vector<std::size_t> slot_of_;          ///< coupling -> slot in upper_
  std::vector<int> upper_start_, upper_row_;  ///< strictly upper part, by column
  std::vector<double> upper_, diagonal_;
  std::vector<int> row_start_, row_pattern_;  ///< of L: column indices of each row, in elimination order
  std::vector<int> col_start_, col_row_, filled_;
  std::vector<double> l_, inverse_d_, work_;
};

}  // namespace runnel::linear
