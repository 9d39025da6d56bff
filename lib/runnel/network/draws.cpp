#include "runnel/network/draws.h"

#include <algorithm>

namespace runnel::network {
namespace {

bool runs_from(const Draw& draw, double hour) {
  const double from = draw.from_hour, to = draw.to_hour;
  if (hours_a_day(draw) >= 24.0) return true;
  return to > from ? hour >= from && hour < to : hour >= from || hour < to;
}

}  // namespace

Draw drawn_always(Flow flow) {
  Draw draw;
  draw.flow = flow;
  return draw;
}

double hours_a_day(const Draw& draw) {
  const double hours = draw.to_hour - draw.from_hour;
  return hours <= 0.0 ? hours + 24.0 : hours;  // from 20 to 6: over midnight; equal hours: all day
}

double hours_a_day(const std::vector<Draw>& draws) {
  double hours = 0.0;
  for (const Draw& draw : draws) hours += hours_a_day(draw);
  return std::min(hours, 24.0);
}

Flow while_it_runs(const Draw& draw) { return draw.flow * (24.0 / hours_a_day(draw)); }

Flow daily_mean(const std::vector<Draw>& draws) {
  Flow sum;
  for (const Draw& draw : draws) sum = sum + draw.flow;
  return sum;
}

/// It is enough to look where draws begin, because the sum rises only there.
Flow busiest_hour(const std::vector<Draw>& draws) {
  Flow most;
  for (const Draw& begins : draws) {
    const double hour = hours_a_day(begins) >= 24.0 || begins.from_hour >= 24.0 ? 0.0 : begins.from_hour;
    Flow sum;
    for (const Draw& draw : draws)
      if (runs_from(draw, hour)) sum = sum + while_it_runs(draw);
    most = std::max(most, sum);
  }
  return most;
}

}  // namespace runnel::network
