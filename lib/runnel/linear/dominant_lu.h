#pragma once
// L U of a sparse M-matrix with dominant columns and a symmetric pattern, whatever its values. Instead of its
// diagonal each column carries its excess, the diagonal less the sizes of the other entries. Every figure of
// the elimination is then a sum or a quotient of positive ones, so no digits cancel and the solution is right
// to rounding however far apart the conductances lie [gth1985], [alfa-xue-ye2002]. It works column by column
// without pivoting, which dominance makes safe.
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

  /// Sets all entries to zero, ready for new values.
  void clear();
  void add_excess(int i, double value) { excess_[plan_.position_of[static_cast<std::size_t>(i)]] += value; }
  /// `k`: the coupling (i, j), numbered as it was given to `analyse`. The values are the sizes of the entries
  /// in row i, column j and in row j, column i.
  void add_coupling(std::size_t k, double of_row_i, double of_row_j);

  /// A pivot smaller than `least` is raised by it. Returns false if a pivot is not positive or not finite.
  bool factorise(double least);
  /// Overwrites b with the solution. Call after a successful `factorise`.
  void solve(std::vector<double>& b);

 private:
  Elimination plan_;
  std::vector<char> row_is_first_;     ///< of a coupling (i, j): place i comes first in the order
  std::vector<double> upper_, lower_;  ///< sizes of entries, by slot: above and below the diagonal
  std::vector<double> excess_, pivot_, l_, work_;
  std::vector<double> u_;  ///< stored by the row pattern: column k of U has its entries where row k of L has
  std::vector<int> lower_slot_start_, lower_slot_,
      lower_slot_row_;  ///< entries below the diagonal, by column
};

}  // namespace runnel::linear
