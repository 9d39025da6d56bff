#pragma once
// The symbolic part of a multifrontal factorisation, known from the pattern alone: the order of elimination,
// the blocks of columns, and where each block's update goes in its parent.
#include <cstddef>
#include <utility>
#include <vector>

namespace runnel::linear {

/// A dense block: `pivots` columns from `first` on, with the rows below them.
struct FrontBlock {
  int first = 0, pivots = 0;
  int below = 0;           ///< rows below the pivots
  int children = 0;        ///< their updates are on top of the stack when this block's turn comes
  std::size_t rows = 0;    ///< where its rows below begin in FrontPlan::rows and place_in_parent
  std::size_t values = 0;  ///< where its columns begin in the factor, each `height()` long
  int height() const { return pivots + below; }
};

struct FrontPlan {
  std::vector<int> row_of;         ///< place -> row in the order of elimination
  std::vector<FrontBlock> blocks;  ///< children before parents
  std::vector<int> rows;           ///< rows below the pivots, block after block
  std::vector<int> place_in_parent;   ///< of each of `rows`: its index in the parent's pivots and rows below
  std::vector<std::size_t> diagonal;  ///< place -> slot in the factor
  std::vector<std::size_t> coupling;  ///< coupling -> slot in the factor
  std::size_t factor_size = 0, stack_size = 0;
  int tallest = 0;  ///< height of the tallest block
};

/// `couplings`: pairs (i, j), i != j, of places 0..n-1 that may have an entry; pairs may repeat.
FrontPlan plan_fronts(int n, const std::vector<std::pair<int, int>>& couplings);

}  // namespace runnel::linear
