#pragma once
// The yields of a spring from date to date, and whether they fall. Any two numbers differ, so a lower
// yield than last time proves nothing: "falling" is said only when the interval of the trend lies wholly
// below zero. And a spring that falls from the wet season to the dry does what springs do: a log shorter
// than a year shows the season, not the fate of the spring.
#include <chrono>
#include <optional>
#include <span>

#include "runnel/springs/sample.h"
#include "runnel/units/quantity.h"

namespace runnel::springs {

struct LogEntry {
  std::chrono::sys_days date;
  Flow yield;
};

enum class Trend {
  falling,
  rising,
  not_shown,  ///< the interval holds zero: the yield may fall, stay or rise
  too_few,    ///< fewer than three entries, or all of one date
};

struct YieldTrend {
  Trend trend = Trend::too_few;
  std::size_t entries = 0;
  int days_covered = 0;       ///< from the first date to the last
  bool within_a_year = true;  ///< shorter than a year: season and trend cannot be told apart
  Flow mean;
  Flow change_a_year;  ///< slope of the line, per 365.25 days; negative when it falls
  std::optional<Flow> change_low, change_high;  ///< its interval
};

/// A line through the yields over time by least squares, its slope's interval by Student's t with n - 2
/// degrees (`line_fit.h`). Entries in any order.
YieldTrend yield_trend(std::span<const LogEntry> log, double confidence = usual_confidence);

}  // namespace runnel::springs
