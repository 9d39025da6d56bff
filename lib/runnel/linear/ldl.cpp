#include "runnel/linear/ldl.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"

namespace runnel::linear {

void Ldl::analyse(int n, const std::vector<std::pair<int, int>>& couplings) {
  plan_.analyse(n, couplings);
  upper_.assign(plan_.upper_row.size(), 0.0);
  diagonal_.assign(at(n), 0.0);
  filled_.assign(at(n), 0);
  l_.assign(plan_.col_row.size(), 0.0);
  inverse_d_.assign(at(n), 0.0);
  work_.assign(at(n), 0.0);
}

void Ldl::clear() {
  std::fill(upper_.begin(), upper_.end(), 0.0);
  std::fill(diagonal_.begin(), diagonal_.end(), 0.0);
}

bool Ldl::factorise() {
  std::fill(filled_.begin(), filled_.end(), 0);
  double* y = work_.data();
  for (int k = 0; k < plan_.places; ++k) {
    for (int p = plan_.upper_start[at(k)]; p < plan_.upper_start[at(k) + 1]; ++p)
      y[plan_.upper_row[at(p)]] = upper_[at(p)];
    double pivot = diagonal_[at(k)];
    for (int q = plan_.row_start[at(k)]; q < plan_.row_start[at(k) + 1]; ++q) {
      const int i = plan_.row_pattern[at(q)];
      const double yi = y[i];
      y[i] = 0.0;
      const int begin = plan_.col_start[at(i)], end = begin + filled_[at(i)];
      const int* rows = plan_.col_row.data();
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
  for (int i = 0; i < plan_.places; ++i) work_[plan_.position_of[at(i)]] = b[at(i)];
  double* y = work_.data();
  for (int k = 0; k < plan_.places; ++k) {
    const double yk = y[k];
    for (int p = plan_.col_start[at(k)]; p < plan_.col_start[at(k) + 1]; ++p)
      y[plan_.col_row[at(p)]] -= l_[at(p)] * yk;
  }
  for (int k = plan_.places - 1; k >= 0; --k) {
    double yk = y[k] * inverse_d_[at(k)];
    for (int p = plan_.col_start[at(k)]; p < plan_.col_start[at(k) + 1]; ++p)
      yk -= l_[at(p)] * y[plan_.col_row[at(p)]];
    y[k] = yk;
  }
  for (int i = 0; i < plan_.places; ++i) {
    b[at(i)] = y[plan_.position_of[at(i)]];
  }
  std::fill(work_.begin(), work_.end(), 0.0);
}

}  // namespace runnel::linear
