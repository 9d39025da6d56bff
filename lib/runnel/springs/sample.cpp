#include "runnel/springs/sample.h"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <stdexcept>

namespace runnel::springs {

double student_quantile(double below, double degrees) {
  return boost::math::quantile(boost::math::students_t(degrees), below);
}

Mean mean_of(std::span<const double> numbers, double confidence) {
  if (numbers.empty() || !(confidence > 0.0 && confidence < 1.0))
    throw std::invalid_argument("a mean needs one number and a confidence between 0 and 1");
  Mean mean;
  mean.count = numbers.size();
  const auto n = static_cast<double>(mean.count);
  for (const double number : numbers) mean.value += number / n;
  if (mean.count < 2) return mean;
  double squares = 0.0;
  for (const double number : numbers) squares += (number - mean.value) * (number - mean.value);
  mean.deviation = std::sqrt(squares / (n - 1.0));
  const double half = student_quantile(0.5 + 0.5 * confidence, n - 1.0) * mean.deviation / std::sqrt(n);
  mean.interval = Interval{mean.value - half, mean.value + half};
  return mean;
}

double grubbs_limit(std::size_t count, double risk) {
  const auto n = static_cast<double>(count);
  const double t = student_quantile(1.0 - risk / (2.0 * n), n - 2.0);
  return (n - 1.0) / std::sqrt(n) * std::sqrt(t * t / (n - 2.0 + t * t));
}

std::optional<Outlier> outlier_of(std::span<const double> numbers, double risk) {
  if (numbers.size() < 3) return std::nullopt;
  const Mean mean = mean_of(numbers);
  // Equal numbers may differ from their mean by rounding; that is not scatter.
  if (!(mean.deviation > 1e-12 * std::fabs(mean.value))) return std::nullopt;
  Outlier farthest;
  farthest.limit = grubbs_limit(numbers.size(), risk);
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const double distance = std::fabs(numbers[i] - mean.value) / mean.deviation;
    if (distance > farthest.distance) farthest.index = i, farthest.distance = distance;
  }
  if (farthest.distance <= farthest.limit) return std::nullopt;
  return farthest;
}

}  // namespace runnel::springs
