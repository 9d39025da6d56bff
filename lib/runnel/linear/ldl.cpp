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

  collect_upper(couplings);
  std::vector<int> count(at(n), 0);
  find_row_patterns(count);
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
  inverse_d_.assign(at(n), 0.0);
  work_.assign(at(n), 0.0);
}

/// The strictly upper part by column, repeated couplings sharing one slot.
void Ldl::collect_upper(const std::vector<std::pair<int, int>>& couplings) {
  const auto ends = [&](const std::pair<int, int>& c) {
    const auto i = static_cast<int>(position_of_[at(c.first)]),
               j = static_cast<int>(position_of_[at(c.second)]);
    return std::pair{std::min(i, j), std::max(i, j)};  // row, column
  };
  std::vector<Index> start(at(n_) + 1, 0), by_column(couplings.size());
  for (const auto& c : couplings) ++start[at(ends(c).second) + 1];
  for (int k = 0; k < n_; ++k) start[at(k) + 1] += start[at(k)];
  std::vector<Index> next(start.begin(), start.end() - 1);
  for (Index c = 0; c < couplings.size(); ++c) by_column[next[at(ends(couplings[c]).second)]++] = c;

  slot_of_.assign(couplings.size(), 0);
  upper_row_.clear();
  upper_row_.reserve(couplings.size());
  upper_start_.reserve(at(n_) + 1);
  upper_start_.assign(1, 0);
  std::vector<int> slot_at(at(n_), -1);  // of a row in the present column, if not below where that begins
  for (int k = 0; k < n_; ++k) {
    for (Index p = start[at(k)]; p < start[at(k) + 1]; ++p) {
      const int row = ends(couplings[by_column[p]]).first;
      int& slot = slot_at[at(row)];
      if (slot < upper_start_.back()) {
        slot = static_cast<int>(upper_row_.size());
        upper_row_.push_back(row);
      }
      slot_of_[by_column[p]] = at(slot);
    }
    upper_start_.push_back(static_cast<int>(upper_row_.size()));
  }
  upper_.assign(upper_row_.size(), 0.0);
  diagonal_.assign(at(n_), 0.0);
}

/// The pattern of every row of L by way of the elimination tree, each in an order in which a column comes
/// before the columns it feeds; and how many rows each column has.
void Ldl::find_row_patterns(std::vector<int>& count) {
  std::vector<int> parent(at(n_), -1), flag(at(n_), -1), path, pattern(at(n_));
  row_start_.reserve(at(n_) + 1);
  row_start_.assign(1, 0);
  row_pattern_.clear();
  row_pattern_.reserve(2 * upper_row_.size());
  for (int k = 0; k < n_; ++k) {
    flag[at(k)] = k;
    auto begin = pattern.end();  // a later path ends where an earlier one passes, so it goes before that
    for (int p = upper_start_[at(k)]; p < upper_start_[at(k) + 1]; ++p) {
      path.clear();
      for (int i = upper_row_[at(p)]; flag[at(i)] != k; i = parent[at(i)]) {
        if (parent[at(i)] == -1) parent[at(i)] = k;
        path.push_back(i);
        flag[at(i)] = k;
        ++count[at(i)];
      }
      begin = std::copy_backward(path.begin(), path.end(), begin);
    }
    row_pattern_.insert(row_pattern_.end(), begin, pattern.end());
    row_start_.push_back(static_cast<int>(row_pattern_.size()));
  }
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
      const double factor = yi * inverse_d_[at(i)];
      pivot -= factor * yi;
      l_[at(end)] = factor;
      ++filled_[at(i)];
    }
    if (!(pivot > 0.0) || !std::isfinite(pivot)) {
      std::fill(work_.begin(), work_.end(), 0.0);
      return false;
    }
    inverse_d_[at(k)] = 1.0 / pivot;
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
    double yk = y[k] * inverse_d_[at(k)];
    for (int p = col_start_[at(k)]; p < col_start_[at(k) + 1]; ++p) yk -= l_[at(p)] * y[col_row_[at(p)]];
    y[k] = yk;
  }
  for (int i = 0; i < n_; ++i) {
    b[at(i)] = y[position_of_[at(i)]];
  }
  std::fill(work_.begin(), work_.end(), 0.0);
}

}  // namespace runnel::linear
