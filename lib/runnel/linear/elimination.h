#pragma once
// The symbolic part of an elimination on a symmetric pattern: the order of the places and where the
// triangular factors have entries, whatever the values. It follows the elimination tree [liu1990].
#include <cstddef>
#include <utility>
#include <vector>

namespace runnel::linear {

struct Elimination {
  int places = 0;
  std::vector<std::size_t> position_of;     ///< place -> row after ordering
  std::vector<std::size_t> slot_of;         ///< coupling -> slot of the strictly upper part
  std::vector<int> upper_start, upper_row;  ///< the strictly upper part, by column
  std::vector<int> row_start, row_pattern;  ///< columns of each row of L, each before those it contributes to
  std::vector<int> col_start, col_row;      ///< rows of each column of L, rising

  /// `couplings`: pairs (i, j), i != j, of places 0..n-1 that may have an entry; pairs may repeat.
  void analyse(int n, const std::vector<std::pair<int, int>>& couplings);

 private:
  void collect_upper(const std::vector<std::pair<int, int>>& couplings);
  void find_row_patterns(std::vector<int>& count);
};

}  // namespace runnel::linear
