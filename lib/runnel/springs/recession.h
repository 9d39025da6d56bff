#pragma once
// How a spring dwindles in a dry season. The emptier an aquifer without rain, the less it gives, and its
// yield falls by the same share every day: Q = Q0 exp(-alpha t) [maillet1905]. A spring with two stores, open
// cracks and fine pores, falls fast at first and slowly later; one exponential fitted to its first weeks
// predicts too little for its last.
#include <optional>
#include <span>

#include "runnel/springs/sample.h"
#include "runnel/springs/yield_log.h"
#include "runnel/units/quantity.h"

namespace runnel::springs {

/// One exponential. `per_day` is alpha, the share of the yield lost per day (as a continuous rate).
struct Recession {
  Flow at_start;
  double per_day = 0.0;

  Flow after(Duration time) const;
  /// When the yield has fallen to `least`; zero if it starts there or below, none if it never does.
  std::optional<Duration> until(Flow least) const;
  /// Time in which the yield falls by half, ln 2 / alpha; none if it does not fall.
  std::optional<Duration> halves_in() const;
  /// All water still to come, Q0 / alpha [maillet1905]; none if it does not fall.
  std::optional<Volume> left_in_the_ground() const;
};

/// From the time in which the yield falls by half. Precondition halves_in > 0; throws std::invalid_argument.
Recession recession_from_half_life(Flow at_start, Duration halves_in);

struct FittedRecession {
  Recession recession;                  ///< starts at the first date of the log
  std::optional<Interval> per_day;      ///< interval of alpha; none for two entries
  bool falls = false;                   ///< the interval of alpha is above zero
  double residual_log_deviation = 0.0;  ///< scatter of ln Q about the line
};

/// A line through ln Q over time, least squares. None without two dates, or where an entry gave no water.
std::optional<FittedRecession> fit_recession(std::span<const LogEntry> log,
                                             double confidence = usual_confidence);

}  // namespace runnel::springs
