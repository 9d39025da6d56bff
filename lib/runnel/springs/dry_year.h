#pragma once
// How likely a year is in which the spring gives too little. Only years can tell: bucket tests of one day,
// however many, say how well that day was measured. So the chance is found in one of three ways, and without
// the data for any of them it is not given:
//   the least yields of several years, taken as lognormal (yields are above zero and vary by shares);
//   one or more years and a stated spread of the logarithm, from springs like this one;
//   years of which one ran dry: those are not lognormal, so the dry years are counted.
// Each chance comes with an interval, because few years tell little. All of this takes years as independent
// and alike: it knows nothing of a climate that changes or of a second well dug uphill.
#include <cstddef>
#include <optional>
#include <span>

#include "runnel/springs/sample.h"
#include "runnel/units/quantity.h"

namespace runnel::springs {

enum class DryYearMethod {
  lognormal_years,   ///< mean and spread from the years: Student's t, interval by the noncentral t
  lognormal_stated,  ///< mean from the years, spread stated: normal throughout
  counted_years,     ///< dry years over years, interval of [clopper-pearson1934]
};

struct DryYear {
  DryYearMethod method = DryYearMethod::counted_years;
  std::size_t years = 0;
  /// Best single figure. For the lognormal methods it is predictive: it allows for a mean (and a spread)
  /// known only from few years, and so is nearer one half than the plain estimate.
  double chance = 0.0;
  Interval interval;  ///< of the share of dry years in the long run
};

/// From the least yield of each year; none for fewer than two years, or for years that do not differ. If some
/// year gave nothing, the years below `need` are counted. Predictive chance t_(n-1)(z),
/// z = (ln need - m) / (s sqrt(1 + 1/n)) [hahn-meeker]; interval from the noncentral t of
/// (m - ln need) sqrt(n) / s, exact for a lognormal [owen1968]. Precondition need > 0, no yield negative,
/// 0 < confidence < 1.
std::optional<DryYear> dry_year(std::span<const Flow> least_of_years, Flow need,
                                double confidence = usual_confidence);

/// The same with a stated standard deviation of ln(yield) between years, > 0; one year is enough. None
/// without a year, or where a year gave nothing.
std::optional<DryYear> dry_year(std::span<const Flow> least_of_years, double log_spread, Flow need,
                                double confidence = usual_confidence);

/// Standard deviation of the logarithm of a lognormal whose deviation is `share` of its mean,
/// sqrt(ln(1 + share^2)): how a spread stated as "a third of the yield" is read.
double log_spread_of_share(double share);

/// The yield that next year's least will exceed with that confidence, exp(m - t s sqrt(1 + 1/n)), t one-sided
/// with n - 1 degrees [hahn-meeker]. None for fewer than two years, or where a year gave nothing.
std::optional<Flow> yield_of_next_year(std::span<const Flow> least_of_years,
                                       double confidence = usual_confidence);

}  // namespace runnel::springs
