#pragma once
// L U of a sparse M-matrix whose columns are dominant, of symmetric pattern and any values. Instead of its
// diagonal each column carries its excess, the diagonal less the other entries: then every figure of the
// elimination is a sum or a quotient of positive ones, no digits cancel, and the solution is right to
// rounding however far conductances lie apart [gth1985], [alfa-xue-ye2002]. Column by column, without
// pivoting: dominance makes that safe.
#include <cstddef>
#include <utility>
#include <vector>

#include "runnel/linear/elimination.h"

namespace runnel::linear {

class DominantLu {
 public:
  /// `couplings`: pairs (i, j), i != j, of places 0..n-1 that may have an entry; pairs may repeat.
  void analyse(int n, const std::vector<std::pair<int, int>>& couplings);
  bool analysed() const { return plan_.places > 0; }

  /// Sets all entries to zero before new values come in.
  void clear();
  void add_excess(int i, double value) { excess_[plan_.position_of[static_cast<std::size_t>(i)]] += value; }
  /// `k` counts the couplings as given to `analyse`, of (i, j): sizes of the entries in row i, column j and
  /// in row j, column i.
  void add_coupling(std::size_t k, double of_row_i, double of_row_j);

  /// `least`: what a pivot gets that would otherwise be smaller. False if one is not finite.
  bool factorise(double least);
  /// Overwrites b with the solution. Call after a successful `factorise`.
  void solve(std::vector<double>& b);

 private:
  Elimination plan_;
  std::vector<char> row_is_first_;     ///< of a coupling (i, j): place i comes first in the order
  std::vector<double> upper_, lower_;  ///< sizes of entries, by slot: above and below the diagonal
  std::vector<double> excess_, pivot_, l_, work_;
  std::vector<double> u_;  ///< by the row pattern: the column k of U at the columns of row k of L
  std::vector<int> lower_slot_start_, lower_slot_,
      lower_slot_row_;  ///< entries below the diagonal, by column
};

}  // namespace runnel::linear
