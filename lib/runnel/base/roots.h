#pragma once
// Roots of rising functions of one variable.
#include <cmath>

namespace runnel {

/// The root of a continuous f with f(low) <= 0 <= f(high), to the last bits of x: false position with the
/// Illinois weighting, and a bisection whenever that fails to halve the bracket in three steps. f may be flat
/// or steep at the ends; it is called at most 200 times. Without a change of sign the end with the smaller
/// |f| is returned.
template <class Function>
double bracketed_root(Function&& f, double low, double high) {
  double f_low = f(low), f_high = f(high);
  if (f_low >= 0.0 || f_high <= 0.0) return std::fabs(f_low) < std::fabs(f_high) ? low : high;
  double width = high - low;
  int side = 0;
  for (int call = 1; call < 200; ++call) {
    double x = high - f_high * (high - low) / (f_high - f_low);
    if (call % 3 == 0) {
      if (high - low > 0.5 * width) x = low + 0.5 * (high - low);
      width = high - low;
    }
    if (!(x > low && x < high)) x = low + 0.5 * (high - low);
    if (x <= low || x >= high) break;  // the bracket is two neighbouring numbers
    const double value = f(x);
    if (value == 0.0) return x;
    if (value < 0.0) {
      low = x, f_low = value;
      if (side < 0) f_high *= 0.5;
      side = -1;
    } else {
      high = x, f_high = value;
      if (side > 0) f_low *= 0.5;
      side = 1;
    }
    if (high - low <= 1e-15 * std::fabs(high)) break;
  }
  return low + 0.5 * (high - low);
}

}  // namespace runnel
