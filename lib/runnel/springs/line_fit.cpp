#include "runnel/springs/line_fit.h"

#include <cmath>
#include <stdexcept>

namespace runnel::springs {

std::optional<LineFit> fit_line(std::span<const double> x, std::span<const double> y, double confidence) {
  if (x.size() != y.size()) throw std::invalid_argument("a line fit needs as many y as x");
  if (x.empty()) return std::nullopt;
  LineFit fit;
  fit.count = x.size();
  const auto n = static_cast<double>(fit.count);
  for (std::size_t i = 0; i < x.size(); ++i) fit.mean_x += x[i] / n, fit.mean_y += y[i] / n;
  double xx = 0.0, xy = 0.0, widest = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double dx = x[i] - fit.mean_x;
    xx += dx * dx, xy += dx * (y[i] - fit.mean_y);
    widest = std::fmax(widest, std::fabs(x[i]));
  }
  if (!(xx > 1e-24 * widest * widest)) return std::nullopt;  // all x the same, but for rounding
  fit.slope = xy / xx;
  if (fit.count < 3) return fit;
  double squares = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) squares += std::pow(y[i] - fit.at(x[i]), 2);
  fit.residual_deviation = std::sqrt(squares / (n - 2.0));
  fit.slope_error = fit.residual_deviation / std::sqrt(xx);
  const double half = student_quantile(0.5 + 0.5 * confidence, n - 2.0) * fit.slope_error;
  fit.slope_interval = Interval{fit.slope - half, fit.slope + half};
  return fit;
}

}  // namespace runnel::springs
