#include "runnel/filling/draws.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace runnel::filling {
namespace {

struct Span {
  double from_h, hours, rate_m3s;

  bool holds(double second) const {
    const double since = std::fmod(second / 3600.0 - from_h + 48.0, 24.0);
    return hours >= 24.0 || since < hours - same_instant_s / 3600.0 || since > 24.0 - same_instant_s / 3600.0;
  }
};

Span span_of(const network::Draw& draw) {
  double hours = draw.to_hour - draw.from_hour;
  if (hours <= 0.0) hours += 24.0;  // from 20 to 6 runs over midnight; equal hours mean all day
  return {draw.from_hour, hours, draw.flow.si() * 24.0 / hours};
}

}  // namespace

DrawSchedule::DrawSchedule(const std::vector<network::Draw>& draws, double start_hour)
    : start_s_(start_hour * 3600.0) {
  std::vector<Span> spans;
  std::vector<double> instants{0.0};
  for (const network::Draw& draw : draws) {
    if (draw.flow.si() <= 0.0) continue;
    spans.push_back(span_of(draw));
    if (spans.back().hours >= 24.0) continue;
    for (double hour : {draw.from_hour, draw.to_hour}) instants.push_back(std::fmod(hour, 24.0) * 3600.0);
  }
  if (spans.empty()) return;
  std::sort(instants.begin(), instants.end());
  for (double second : instants) {
    double rate = 0.0;
    for (const Span& span : spans)
      if (span.holds(second)) rate += span.rate_m3s;
    const bool again = !changes_.empty() && second - changes_.back().second < same_instant_s;
    if (!again && (changes_.empty() || rate != changes_.back().rate_m3s)) changes_.push_back({second, rate});
  }
  // The rate at midnight began the evening before, so there is no change.
  if (changes_.size() > 1 && changes_.front().rate_m3s == changes_.back().rate_m3s)
    changes_.erase(changes_.begin());
}

double DrawSchedule::rate_m3s(double time_s) const {
  if (changes_.empty()) return 0.0;
  const double second = std::fmod(time_s + start_s_, day_s);
  const Change* last = &changes_.back();
  for (const Change& change : changes_)
    if (change.second <= second + same_instant_s) last = &change;
  if (day_s - second < same_instant_s && changes_.front().second < same_instant_s) last = &changes_.front();
  return last->rate_m3s;
}

double DrawSchedule::next_change_s(double time_s) const {
  if (steady()) return std::numeric_limits<double>::infinity();
  const double day = std::floor((time_s + start_s_) / day_s);
  for (double d : {day, day + 1.0, day + 2.0})
    for (const Change& change : changes_) {
      const double at = d * day_s + change.second - start_s_;
      if (at > time_s + same_instant_s) return at;
    }
  return std::numeric_limits<double>::infinity();
}

double DrawSchedule::day_volume_m3() const {
  double sum = 0.0;
  for (std::size_t i = 0; i < changes_.size(); ++i) {
    const double until = i + 1 < changes_.size() ? changes_[i + 1].second : changes_.front().second + day_s;
    sum += changes_[i].rate_m3s * (until - changes_[i].second);
  }
  return sum;
}

}  // namespace runnel::filling
