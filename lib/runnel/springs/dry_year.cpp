#include "runnel/springs/dry_year.h"

#include <algorithm>
#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "runnel/base/roots.h"

namespace runnel::springs {

namespace {

using boost::math::cdf;
using boost::math::quantile;

void require(Flow need, double confidence) {
  if (!(need.si() > 0.0) || !(confidence > 0.0 && confidence < 1.0))
    throw std::invalid_argument("a dry year needs a need above zero and a confidence between 0 and 1");
}

double normal_below(double z) { return cdf(boost::math::normal(), z); }

/// Natural logarithms in SI; empty if a year gave nothing.
std::vector<double> logarithms(std::span<const Flow> flows) {
  std::vector<double> logs;
  for (const Flow flow : flows) {
    if (flow.si() < 0.0) throw std::invalid_argument("a yield below zero");
    if (flow.si() == 0.0) return {};
    logs.push_back(std::log(flow.si()));
  }
  return logs;
}

DryYear count_dry_years(std::span<const Flow> years, Flow need, double confidence) {
  const auto n = static_cast<double>(years.size());
  const auto dry = static_cast<double>(std::ranges::count_if(years, [need](Flow q) { return q < need; }));
  const double risk = 0.5 * (1.0 - confidence);
  using Binomial = boost::math::binomial;
  DryYear found{DryYearMethod::counted_years, years.size(), dry / n, {0.0, 1.0}};
  if (dry > 0.0) found.interval.low = Binomial::find_lower_bound_on_p(n, dry, risk);
  if (dry < n) found.interval.high = Binomial::find_upper_bound_on_p(n, dry, risk);
  return found;
}

/// The noncentrality at which the noncentral t stays below `t` with the chance `below`: the quantile, at
/// 1 - below, of t sqrt(chi^2/nu) + z, z normal. It is about normal around t with a variance of
/// 1 + t^2/(2 nu), so that sixteen deviations to each side bracket the root for any chance of interest.
double noncentrality(double t, double degrees, double below) {
  // Far out z is negligible beside t, at most 1e-5 of the width; there the series of the noncentral t would
  // take millions of terms, and for years that hardly differ it would not end.
  if (t * t > 9e4 * degrees) {
    const boost::math::chi_squared chi_squared(degrees);
    return t * std::sqrt(quantile(chi_squared, t > 0.0 ? 1.0 - below : below) / degrees);
  }
  const double reach = 16.0 * std::sqrt(1.0 + 0.5 * t * t / degrees);
  return bracketed_root(
      [&](double delta) { return below - cdf(boost::math::non_central_t(degrees, delta), t); }, t - reach,
      t + reach);
}

}  // namespace

std::optional<DryYear> dry_year(std::span<const Flow> least_of_years, Flow need, double confidence) {
  require(need, confidence);
  if (least_of_years.size() < 2) return std::nullopt;
  const std::vector<double> logs = logarithms(least_of_years);
  if (logs.empty()) return count_dry_years(least_of_years, need, confidence);
  const Mean mean = mean_of(logs);
  if (!(mean.deviation > 1e-12)) return std::nullopt;
  const auto n = static_cast<double>(mean.count);
  const double below = (std::log(need.si()) - mean.value) / mean.deviation;
  const double statistic = -below * std::sqrt(n), risk = 0.5 * (1.0 - confidence);
  DryYear found{DryYearMethod::lognormal_years, mean.count, 0.0, {}};
  found.chance = cdf(boost::math::students_t(n - 1.0), below / std::sqrt(1.0 + 1.0 / n));
  found.interval.low = normal_below(-noncentrality(statistic, n - 1.0, risk) / std::sqrt(n));
  found.interval.high = normal_below(-noncentrality(statistic, n - 1.0, 1.0 - risk) / std::sqrt(n));
  return found;
}

std::optional<DryYear> dry_year(std::span<const Flow> least_of_years, double log_spread, Flow need,
                                double confidence) {
  require(need, confidence);
  if (!(log_spread > 0.0)) throw std::invalid_argument("a spread between years must be above zero");
  const std::vector<double> logs = logarithms(least_of_years);
  if (logs.empty()) return std::nullopt;
  const Mean mean = mean_of(logs);
  const auto n = static_cast<double>(mean.count);
  const double below = (std::log(need.si()) - mean.value) / log_spread;
  const double half = quantile(boost::math::normal(), 0.5 + 0.5 * confidence) / std::sqrt(n);
  return DryYear{DryYearMethod::lognormal_stated,
                 mean.count,
                 normal_below(below / std::sqrt(1.0 + 1.0 / n)),
                 {normal_below(below - half), normal_below(below + half)}};
}

double log_spread_of_share(double share) { return std::sqrt(std::log1p(share * share)); }

std::optional<Flow> yield_of_next_year(std::span<const Flow> least_of_years, double confidence) {
  if (least_of_years.size() < 2) return std::nullopt;
  const std::vector<double> logs = logarithms(least_of_years);
  if (logs.empty()) return std::nullopt;
  const Mean mean = mean_of(logs);
  const auto n = static_cast<double>(mean.count);
  const double t = student_quantile(confidence, n - 1.0);
  return Flow::from_si(std::exp(mean.value - t * mean.deviation * std::sqrt(1.0 + 1.0 / n)));
}

}  // namespace runnel::springs
