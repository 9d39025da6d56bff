#include "runnel/springs/yield_log.h"

#include <algorithm>
#include <vector>

#include "runnel/springs/line_fit.h"

namespace runnel::springs {

namespace {

constexpr double days_a_year = 365.25;  // with leap years

Trend trend_of(const Interval& slope) {
  if (slope.high < 0.0) return Trend::falling;
  if (slope.low > 0.0) return Trend::rising;
  return Trend::not_shown;
}

}  // namespace

YieldTrend yield_trend(std::span<const LogEntry> log, double confidence) {
  YieldTrend found;
  found.entries = log.size();
  if (log.empty()) return found;
  const auto [first, last] = std::ranges::minmax_element(log, {}, &LogEntry::date);
  found.days_covered = static_cast<int>((last->date - first->date).count());
  found.within_a_year = found.days_covered < days_a_year - 1.0;
  std::vector<double> years, flows;
  for (const LogEntry& entry : log) {
    years.push_back(static_cast<double>((entry.date - first->date).count()) / days_a_year);
    flows.push_back(entry.yield.si());
    found.mean += entry.yield / static_cast<double>(log.size());
  }
  const std::optional<LineFit> line = fit_line(years, flows, confidence);
  if (!line) return found;
  found.change_a_year = Flow::from_si(line->slope);
  if (line->slope_interval) {
    found.change_low = Flow::from_si(line->slope_interval->low);
    found.change_high = Flow::from_si(line->slope_interval->high);
    found.trend = trend_of(*line->slope_interval);
  }
  return found;
}

}  // namespace runnel::springs
