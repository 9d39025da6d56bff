#pragma once
// What of a multifrontal factorisation can be known from the pattern alone: the order of elimination, the
// blocks of columns and how each is handed to its parent.
#include <cstddef>
#include <utility>
#include <vector>

namespace runnel::linear {

/// A block: `pivots` columns from `first` on, dense, and the rows below them.
struct FrontBlock {
  int first = 0, pivots = 0;
  int below = 0;           ///< rows below the pivots
  int children = 0;        ///< their updates lie on top of the stack when this block's turn comes
  std::size_t rows = 0;    ///< where the rows below begin in FrontPlan::rows and place_in_parent
  std::size_t values = 0;  ///< where the columns begin in the factor, each `height()` long
  int height() const { return pivots + below; }
};

struct FrontPlan {
  std::vector<int> row_of;         ///< place -> row in the order of elimination
  std::vector<FrontBlock> blocks;  ///< children before parents
  std::vector<int> rows;
  std::vector<int> place_in_parent;   ///< of a row below: its place among the parent's pivots and rows below
  std::vector<std::size_t> diagonal;  ///< place -> slot in the factor
  std::vector<std::size_t> coupling;  ///< coupling -> slot in the factor
  std::size_t factor_size = 0, stack_size = 0;
  int tallest = 0;  ///< block
};

/// `couplings`: pairs (i, j), i != j, of places 0..n-1 that may have an entry; pairs may repeat.
FrontPlan plan_fronts(int n, const std::vector<std::pair<int, int>>& couplings);

}  // namespace runnel::linear
