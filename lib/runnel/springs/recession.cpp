#include "runnel/springs/recession.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "runnel/springs/line_fit.h"

namespace runnel::springs {

Flow Recession::after(Duration time) const { return at_start * std::exp(-per_day * time.days()); }

std::optional<Duration> Recession::until(Flow least) const {
  if (at_start <= least) return Duration{};
  if (!(per_day > 0.0) || !(least.si() > 0.0)) return std::nullopt;
  return Duration::days(std::log(at_start / least) / per_day);
}

std::optional<Duration> Recession::halves_in() const {
  if (!(per_day > 0.0)) return std::nullopt;
  return Duration::days(std::numbers::ln2 / per_day);
}

std::optional<Volume> Recession::left_in_the_ground() const {
  if (!(per_day > 0.0)) return std::nullopt;
  return Volume::cubic_metres(at_start.si() * Duration::days(1.0 / per_day).seconds());
}

Recession recession_from_half_life(Flow at_start, Duration halves_in) {
  if (!(halves_in.si() > 0.0)) throw std::invalid_argument("a half-life must be above zero");
  return {at_start, std::numbers::ln2 / halves_in.days()};
}

std::optional<FittedRecession> fit_recession(std::span<const LogEntry> log, double confidence) {
  if (log.empty()) return std::nullopt;
  const auto first = std::ranges::min_element(log, {}, &LogEntry::date)->date;
  std::vector<double> days, log_flows;
  for (const LogEntry& entry : log) {
    if (!(entry.yield.si() > 0.0)) return std::nullopt;
    days.push_back(static_cast<double>((entry.date - first).count()));
    log_flows.push_back(std::log(entry.yield.si()));
  }
  const std::optional<LineFit> line = fit_line(days, log_flows, confidence);
  if (!line) return std::nullopt;
  FittedRecession fitted;
  fitted.recession = {Flow::cubic_metres_per_second(std::exp(line->at(0.0))), -line->slope};
  fitted.residual_log_deviation = line->residual_deviation;
  if (line->slope_interval) {
    fitted.per_day = Interval{-line->slope_interval->high, -line->slope_interval->low};
    fitted.falls = fitted.per_day->low > 0.0;
  }
  return fitted;
}

}  // namespace runnel::springs
