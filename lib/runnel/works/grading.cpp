#include "runnel/works/grading.h"

#include <algorithm>
#include <cmath>

namespace runnel::works {

std::optional<GradingCurve> GradingCurve::from_sieves(std::vector<SievePoint> points) {
  std::ranges::sort(points, {}, &SievePoint::size);
  if (points.size() < 2) return std::nullopt;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const SievePoint& point = points[i];
    if (!(point.size.si() > 0.0 && point.finer_percent >= 0.0 && point.finer_percent <= 100.0))
      return std::nullopt;
    if (i > 0 && (points[i - 1].size == point.size || points[i - 1].finer_percent > point.finer_percent))
      return std::nullopt;
  }
  GradingCurve curve;
  curve.points_ = std::move(points);
  return curve;
}

std::optional<Length> GradingCurve::size_at(double percent) const {
  const auto above = std::ranges::lower_bound(points_, percent, {}, &SievePoint::finer_percent);
  if (above == points_.end()) return std::nullopt;
  if (above->finer_percent == percent) return above->size;
  if (above == points_.begin()) return std::nullopt;
  const SievePoint& below = *std::prev(above);
  const double share = (percent - below.finer_percent) / (above->finer_percent - below.finer_percent);
  return below.size * std::pow(above->size / below.size, share);
}

std::optional<double> GradingCurve::finer_than(Length size) const {
  if (size < points_.front().size)
    return points_.front().finer_percent == 0.0 ? std::optional(0.0) : std::nullopt;
  if (size > points_.back().size)
    return points_.back().finer_percent == 100.0 ? std::optional(100.0) : std::nullopt;
  const auto above = std::ranges::lower_bound(points_, size, {}, &SievePoint::size);
  if (above->size == size) return above->finer_percent;
  const SievePoint& below = *std::prev(above);
  const double share = std::log(size / below.size) / std::log(above->size / below.size);
  return below.finer_percent + share * (above->finer_percent - below.finer_percent);
}

std::optional<double> GradingCurve::uniformity() const {
  const auto d60 = size_at(60), d10 = size_at(10);
  if (!d60 || !d10) return std::nullopt;
  return *d60 / *d10;
}

std::optional<double> GradingCurve::curvature() const {
  const auto d60 = size_at(60), d30 = size_at(30), d10 = size_at(10);
  if (!d60 || !d30 || !d10) return std::nullopt;
  return (*d30 / *d10) * (*d30 / *d60);
}

std::optional<GradingCurve> GradingCurve::passing(Length sieve) const {
  const std::optional<double> finer = finer_than(sieve);
  if (!finer || !(*finer > 0.0)) return std::nullopt;
  std::vector<SievePoint> passed;
  for (const SievePoint& point : points_)
    if (point.size < sieve)
      passed.push_back({point.size, std::min(100.0, point.finer_percent * 100.0 / *finer)});
  if (sieve <= points_.back().size) passed.push_back({sieve, 100.0});
  return from_sieves(std::move(passed));
}

}  // namespace runnel::works
