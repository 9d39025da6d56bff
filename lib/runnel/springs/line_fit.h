#pragma once
// A straight line through measured points by least squares, and how well its slope is known: the interval is
// slope -+ t times its standard error, t with n - 2 degrees. It holds for errors that are independent and of
// one size; a log in which one dry month follows another makes the slope look better known than it is.
#include <cstddef>
#include <optional>
#include <span>

#include "runnel/springs/sample.h"

namespace runnel::springs {

struct LineFit {
  std::size_t count = 0;
  double mean_x = 0.0, mean_y = 0.0;  ///< the line runs through this point
  double slope = 0.0;
  double residual_deviation = 0.0;  ///< of the points about the line, n - 2 in the divisor; 0 for two points
  double slope_error = 0.0;         ///< standard error of the slope; 0 for two points
  std::optional<Interval> slope_interval;  ///< none for two points

  double at(double x) const { return mean_y + slope * (x - mean_x); }
};

/// None if fewer than two different x are given. Precondition: as many y as x; throws std::invalid_argument
/// otherwise. Source: ordinary least squares, tested against [nist-strd].
std::optional<LineFit> fit_line(std::span<const double> x, std::span<const double> y,
                                double confidence = usual_confidence);

}  // namespace runnel::springs
