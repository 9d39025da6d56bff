#pragma once
// What eliminating the places of a symmetric pattern one by one brings about, whatever the values: the order,
// and where the triangular factors have entries. The tree behind it: [liu1990].
#include <cstddef>
#include <utility>
#include <vector>

namespace runnel::linear {

struct Elimination {
  int places = 0;
  std::vector<std::size_t> position_of;     ///< place -> row after ordering
  std::vector<std::size_t> slot_of;         ///< coupling -> slot of the strictly upper part
  std::vector<int> upper_start, upper_row;  ///< the strictly upper part, by column; repeated couplings share
  std::vector<int> row_start, row_pattern;  ///< of L: columns of each row, a column before those it feeds
  std::vector<int> col_start, col_row;      ///< of L: rows of each column, rising

  /// `couplings`: pairs (i, j), i != j, of places 0..n-1 that may have an entry; pairs may repeat.
  void analyse(int n, const std::vector<std::pair<int, int>>& couplings);

 private:
  void collect_upper(const std::vector<std::pair<int, int>>& couplings);
  void find_row_patterns(std::vector<int>& count);
};

}  // namespace runnel::linear
