#include "runnel/linear/ldl.h"

#include <algorithm>
#include <cmath>

#include "runnel/linear/ordering.h"

namespace runnel::linear {
namespace {

using Index = std::size_t;
Index at(int i) { return static_cast<Index>(i); }

}  // namespace

void Ldl::analyse(int n, const std::vector<std::pair<int, int>>& couplings) {
  n_ = n;
  const std::vector<int> rows = minimum_degree(n, couplings);
  position_of_.assign(rows.begin(), rows.end());

  // Strictly upper part by column, repeated couplings sharing one slot.
  struct Entry { int row, col; Index coupling; };
  std::vector<Entry> entries;
  entries.reserve(couplings.size());
  for (Index k = 0; k < couplings.size(); ++k) {
    int i = static_cast<int>(position_of_[at(couplings[k].first)]);
    int j = static_cast<int>(position_of_[at(couplings[k].second)]);
    entries.push_back({std::min(i, j), std::max(i, j), k});
  }
  std::sort(entries.begin(), entries.end(), [](const Entry& x, const Entry& y) {
    return x.col != y.col ? x.col < y.col : x.row < y.row;
  });
  slot_of_.assign(couplings.size(), 0);
  upper_row_.clear();
  upper_start_.assign(at(n) + 1, 0);
  for (Index e = 0; e < entries.size(); ++e) {
    if (e == 0 || entries[e].col != entries[e - 1].col || entries[e].row != entries[e - 1].row) {
      upper_row_.push_back(entries[e].row);
      ++upper_start_[at(entries[e].col) + 1];
    }
    slot_of_[entries[e].coupling] = upper_row_.size() - 1;
  }
  for (int k = 0; k < n; ++k) upper_start_[at(k) + 1] += upper_start_[at(k)];
  upper_.assign(upper_row_.size(), 0.0);
  diagonal_.assign(at(n), 0.0);

  // Elimination tree and the pattern of every row of L, each in an order in which a column comes
  // before the columns it feeds.
  std::vector<int> parent(at(n), -1), flag(at(n), -1), count(at(n), 0), path;
  row_start_.assign(at(n) + 1, 0);
  row_pattern_.clear();
  for (int k = 0; k < n; ++k) {
    flag[at(k)] = k;
    const Index begin = row_pattern_.size();
    for (int p = upper_start_[at(k)]; p < upper_start_[at(k) + 1]; ++p) {
      path.clear();
      for (int i = upper_row_[at(p)]; flag[at(i)] != k; i = parent[at(i)]) {
        if (parent[at(i)] == -1) parent[at(i)] = k;
        path.push_back(i);
        flag[at(i)] = k;
      }
      row_pattern_.insert(row_pattern_.end(), path.begin(), path.end());
    }
    std::sort(row_pattern_.begin() + static_cast<std::ptrdiff_t>(begin), row_pattern_.end());
    for (Index p = begin; p < row_pattern_.size(); ++p) ++count[at(row_pattern_[p])];
    row_start_[at(k) + 1] = static_cast<int>(row_pattern_.size());
  }
  col_start_.assign(at(n) + 1, 0);
  for (int k = 0; k < n; ++k) col_start_[at(k) + 1] = col_start_[at(k)] + count[at(k)];
  col_row_.assign(at(col_start_[at(n)]), 0);
  filled_.assign(at(n), 0);
  for (int k = 0; k < n; ++k)
    for (int p = row_start_[at(k)]; p < row_start_[at(k) + 1]; ++p) {
      const int i = row_pattern_[at(p)];
      col_row_[at(col_start_[at(i)] + filled_[at(i)]++)] = k;
    }
  l_.assign(col_row_.size(), 0.0);
  d_.assign(at(n), 0.0);
  work_.assign(at(n), 0.0);
}

void Ldl::clear() {
  std::fill(upper_.begin(), upper_.end(), 0.0);
  std::fill(diagonal_.begin(), diagonal_.end(), 0.0);
}

bool Ldl::factorise() {
  std::fill(filled_.begin(), filled_.end(), 0);
  double* y = work_.data();
  for (int k = 0; k < n_; ++k) {
    for (int p = upper_start_[at(k)]; p < upper_start_[at(k) + 1]; ++p) y[upper_row_[at(p)]] = upper_[at(p)];
    double pivot = diagonal_[at(k)];
    for (int q = row_start_[at(k)]; q < row_start_[at(k) + 1]; ++q) {
      const int i = row_pattern_[at(q)];
      const double yi = y[i];
      y[i] = 0.0;
      const int begin = col_start_[at(i)], end = begin + filled_[at(i)];
      const int* rows = col_row_.data();
      const double* values = l_.data();
      for (int p = begin; p < end; ++p) y[rows[p]] -= values[p] * yi;
      const double factor = yi / d_[at(i)];
      pivot -= factor * yi;
      l_[at(end)] = factor;
      ++filled_[at(i)];
    }
    if (!(pivot > 0.0) || !std::isfinite(pivot)) {
      std::fill(work_.begin(), work_.end(), 0.0);
      return false;
    }
    d_[at(k)] = pivot;
  }
  return true;
}

void Ldl::solve(std::vector<double>& b) {
  for (int i = 0; i < n_; ++i) work_[position_of_[at(i)]] = b[at(i)];
  double* y = work_.data();
  for (int k = 0; k < n_; ++k) {
    const double yk = y[k];
    for (int p = col_start_[at(k)]; p < col_start_[at(k) + 1]; ++p) y[col_row_[at(p)]] -= l_[at(p)] * yk;
  }
  for (int k = n_ - 1; k >= 0; --k) {
    double yk = y[k] / d_[at(k)];
    for (int p = col_start_[at(k)]; p < col_start_[at(k) + 1]; ++p) yk -= l_[at(p)] * y[col_row_[at(p)]];
    y[k] = yk;
  }
  for (int i = 0; i < n_; ++i) {
    b[at(i)] = y[position_of_[at(i)]];
  }
  std::fill(work_.begin(), work_.end(), 0.0);
}

}  // namespace runnel::linear
