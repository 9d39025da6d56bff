#include "runnel/linear/elimination.h"

#include <algorithm>

#include "runnel/base/index.h"
#include "runnel/linear/ordering.h"

namespace runnel::linear {

void Elimination::analyse(int n, const std::vector<std::pair<int, int>>& couplings) {
  places = n;
  const std::vector<int> rows = minimum_degree(n, couplings);
  position_of.assign(rows.begin(), rows.end());

  collect_upper(couplings);
  std::vector<int> count(at(n), 0);
  find_row_patterns(count);
  col_start.assign(at(n) + 1, 0);
  for (int k = 0; k < n; ++k) col_start[at(k) + 1] = col_start[at(k)] + count[at(k)];
  col_row.assign(at(col_start[at(n)]), 0);
  std::vector<int> filled(at(n), 0);
  for (int k = 0; k < n; ++k)
    for (int p = row_start[at(k)]; p < row_start[at(k) + 1]; ++p) {
      const int i = row_pattern[at(p)];
      col_row[at(col_start[at(i)] + filled[at(i)]++)] = k;
    }
}

/// Lists the strictly upper part by column; repeated couplings share one slot.
void Elimination::collect_upper(const std::vector<std::pair<int, int>>& couplings) {
  const auto ends = [&](const std::pair<int, int>& c) {
    const auto i = static_cast<int>(position_of[at(c.first)]),
               j = static_cast<int>(position_of[at(c.second)]);
    return std::pair{std::min(i, j), std::max(i, j)};  // row, column
  };
  std::vector<std::size_t> start(at(places) + 1, 0), by_column(couplings.size());
  for (const auto& c : couplings) ++start[at(ends(c).second) + 1];
  for (int k = 0; k < places; ++k) start[at(k) + 1] += start[at(k)];
  std::vector<std::size_t> next(start.begin(), start.end() - 1);
  for (std::size_t c = 0; c < couplings.size(); ++c) by_column[next[at(ends(couplings[c]).second)]++] = c;

  slot_of.assign(couplings.size(), 0);
  upper_row.clear();
  upper_row.reserve(couplings.size());
  upper_start.reserve(at(places) + 1);
  upper_start.assign(1, 0);
  std::vector<int> slot_at(at(places), -1);  // row -> its last slot, in this column if not before its start
  for (int k = 0; k < places; ++k) {
    for (std::size_t p = start[at(k)]; p < start[at(k) + 1]; ++p) {
      const int row = ends(couplings[by_column[p]]).first;
      int& slot = slot_at[at(row)];
      if (slot < upper_start.back()) {
        slot = static_cast<int>(upper_row.size());
        upper_row.push_back(row);
      }
      slot_of[by_column[p]] = at(slot);
    }
    upper_start.push_back(static_cast<int>(upper_row.size()));
  }
}

/// Finds the pattern of every row of L from the elimination tree, in an order in which a column comes before
/// the columns it contributes to, and counts the rows of each column.
void Elimination::find_row_patterns(std::vector<int>& count) {
  std::vector<int> parent(at(places), -1), flag(at(places), -1), path, pattern(at(places));
  row_start.reserve(at(places) + 1);
  row_start.assign(1, 0);
  row_pattern.clear();
  row_pattern.reserve(2 * upper_row.size());
  for (int k = 0; k < places; ++k) {
    flag[at(k)] = k;
    auto begin = pattern.end();  // a later path ends where it meets an earlier one, so it goes in front of it
    for (int p = upper_start[at(k)]; p < upper_start[at(k) + 1]; ++p) {
      path.clear();
      for (int i = upper_row[at(p)]; flag[at(i)] != k; i = parent[at(i)]) {
        if (parent[at(i)] == -1) parent[at(i)] = k;
        path.push_back(i);
        flag[at(i)] = k;
        ++count[at(i)];
      }
      begin = std::copy_backward(path.begin(), path.end(), begin);
    }
    row_pattern.insert(row_pattern.end(), begin, pattern.end());
    row_start.push_back(static_cast<int>(row_pattern.size()));
  }
}

}  // namespace runnel::linear
