#pragma once
// A handful of measured numbers: their mean, how well that mean is known, and which of them does not fit the
// others. A spring timed five times gives five different numbers; their mean is nearer the truth than any of
// them, but how near depends on the scatter and on how few they are. For a few numbers the normal
// distribution promises too much, so Student's t takes its place.
#include <cstddef>
#include <optional>
#include <span>

namespace runnel::springs {

/// An interval that holds the true value with the confidence that was asked for.
struct Interval {
  double low = 0.0, high = 0.0;
};

/// Share of repeated intervals that hold the truth, where a caller names no other.
inline constexpr double usual_confidence = 0.95;

/// Quantile of Student's t: the value that the fraction `below` of the distribution stays under.
/// Precondition 0 < below < 1, degrees > 0 [student1908].
double student_quantile(double below, double degrees);

struct Mean {
  std::size_t count = 0;
  double value = 0.0;
  double deviation = 0.0;            ///< standard deviation, n - 1 in the divisor; 0 for a single number
  std::optional<Interval> interval;  ///< none for a single number, which says nothing of its scatter
};

/// Mean with the interval mean -+ t s / sqrt n, t with n - 1 degrees [student1908]. Precondition: at least
/// one number, 0 < confidence < 1; throws std::invalid_argument otherwise.
Mean mean_of(std::span<const double> numbers, double confidence = usual_confidence);

struct Outlier {
  std::size_t index = 0;  ///< of the number farthest from the mean
  double distance = 0.0;  ///< from the mean, in standard deviations
  double limit = 0.0;     ///< the distance that chance alone rarely exceeds
};

/// Grubbs' test, two-sided, with a risk of 5 % of pointing at a sound number: the farthest number, if it lies
/// beyond (n-1)/sqrt(n) sqrt(t^2 / (n-2+t^2)), t at 1 - risk/(2n) with n - 2 degrees [grubbs1969]. It points
/// at one number at most, and two bad ones can hide each other. None for fewer than three numbers or for
/// numbers that do not scatter. It never says why: only whoever measured may strike a number out.
std::optional<Outlier> outlier_of(std::span<const double> numbers, double risk = 0.05);

/// The limit of that test for `count` >= 3 numbers.
double grubbs_limit(std::size_t count, double risk = 0.05);

}  // namespace runnel::springs
