#include "runnel/linear/dominant_lu.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"

namespace runnel::linear {
namespace {}  // namespace

void DominantLu::analyse(int n, const std::vector<std::pair<int, int>>& couplings) {
  plan_.analyse(n, couplings);
  row_is_first_.resize(couplings.size());
  for (std::size_t k = 0; k < couplings.size(); ++k)
    row_is_first_[k] = plan_.position_of[at(couplings[k].first)] < plan_.position_of[at(couplings[k].second)];
  upper_.assign(plan_.upper_row.size(), 0.0);
  lower_.assign(plan_.upper_row.size(), 0.0);
  excess_.assign(at(n), 0.0);
  pivot_.assign(at(n), 0.0);
  work_.assign(at(n), 0.0);
  l_.assign(plan_.col_row.size(), 0.0);
  u_.assign(plan_.row_pattern.size(), 0.0);

  // The upper part is stored by column: the slot of an entry (i, k) above the diagonal also holds (k, i).
  lower_slot_start_.assign(at(n) + 1, 0);
  for (int row : plan_.upper_row) ++lower_slot_start_[at(row) + 1];
  for (int k = 0; k < n; ++k) lower_slot_start_[at(k) + 1] += lower_slot_start_[at(k)];
  lower_slot_.resize(plan_.upper_row.size());
  lower_slot_row_.resize(plan_.upper_row.size());
  std::vector<int> next(lower_slot_start_.begin(), lower_slot_start_.end() - 1);
  for (int column = 0; column < n; ++column)
    for (int p = plan_.upper_start[at(column)]; p < plan_.upper_start[at(column) + 1]; ++p) {
      const auto to = at(next[at(plan_.upper_row[at(p)])]++);
      lower_slot_[to] = p;
      lower_slot_row_[to] = column;
    }
}

void DominantLu::clear() {
  std::fill(upper_.begin(), upper_.end(), 0.0);
  std::fill(lower_.begin(), lower_.end(), 0.0);
  std::fill(excess_.begin(), excess_.end(), 0.0);
}

void DominantLu::add_coupling(std::size_t k, double of_row_i, double of_row_j) {
  const std::size_t slot = plan_.slot_of[k];
  upper_[slot] += row_is_first_[k] ? of_row_i : of_row_j;
  lower_[slot] += row_is_first_[k] ? of_row_j : of_row_i;
}

bool DominantLu::factorise(double least) {
  double* y = work_.data();
  for (int k = 0; k < plan_.places; ++k) {
    for (int p = plan_.upper_start[at(k)]; p < plan_.upper_start[at(k) + 1]; ++p)
      y[plan_.upper_row[at(p)]] = upper_[at(p)];
    for (int p = lower_slot_start_[at(k)]; p < lower_slot_start_[at(k) + 1]; ++p)
      y[lower_slot_row_[at(p)]] = lower_[at(lower_slot_[at(p)])];
    double excess = excess_[at(k)];
    for (int q = plan_.row_start[at(k)]; q < plan_.row_start[at(k) + 1]; ++q) {
      const int i = plan_.row_pattern[at(q)];
      const double entry = y[i];
      y[i] = 0.0;
      u_[at(q)] = entry;
      if (entry == 0.0) continue;
      excess += entry * (excess_[at(i)] / pivot_[at(i)]);
      for (int p = plan_.col_start[at(i)]; p < plan_.col_start[at(i) + 1]; ++p)
        y[plan_.col_row[at(p)]] += l_[at(p)] * entry;
    }
    y[k] = 0.0;  // whatever was added to the diagonal is in the excess already
    double others = 0.0;
    for (int p = plan_.col_start[at(k)]; p < plan_.col_start[at(k) + 1]; ++p)
      others += y[plan_.col_row[at(p)]];
    if (excess + others < least) excess += least;
    const double pivot = excess + others;
    if (!(pivot > 0.0) || !std::isfinite(pivot)) {
      std::fill(work_.begin(), work_.end(), 0.0);
      return false;
    }
    for (int p = plan_.col_start[at(k)]; p < plan_.col_start[at(k) + 1]; ++p) {
      double& entry = y[plan_.col_row[at(p)]];
      l_[at(p)] = entry / pivot;
      entry = 0.0;
    }
    excess_[at(k)] = excess;
    pivot_[at(k)] = pivot;
  }
  return true;
}

void DominantLu::solve(std::vector<double>& b) {
  double* y = work_.data();
  for (int i = 0; i < plan_.places; ++i) y[plan_.position_of[at(i)]] = b[at(i)];
  for (int k = 0; k < plan_.places; ++k)
    for (int p = plan_.col_start[at(k)]; p < plan_.col_start[at(k) + 1]; ++p)
      y[plan_.col_row[at(p)]] += l_[at(p)] * y[k];
  for (int k = plan_.places - 1; k >= 0; --k) {
    y[k] /= pivot_[at(k)];
    for (int q = plan_.row_start[at(k)]; q < plan_.row_start[at(k) + 1]; ++q)
      y[plan_.row_pattern[at(q)]] += u_[at(q)] * y[k];
  }
  for (int i = 0; i < plan_.places; ++i) b[at(i)] = y[plan_.position_of[at(i)]];
  std::fill(work_.begin(), work_.end(), 0.0);
}

}  // namespace runnel::linear
