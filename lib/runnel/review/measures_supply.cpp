// What the springs give against what is needed, and how much the tanks hold.
#include <algorithm>
#include <chrono>
#include <map>

#include "runnel/filling/tank_curve.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/review/measure.h"
#include "runnel/review/yields.h"

namespace runnel::review {

namespace {

double need_of(const Seen& seen) { return seen.need_m3s ? *seen.need_m3s : need_m3s(seen.system); }

double daily_m3s(const network::Tank& tank) { return network::daily_mean(tank.draws).si(); }

std::vector<Measured> yield_over_need(const Seen& seen) {
  const double need = need_of(seen);
  if (!(need > 0.0)) return {};
  const YieldRange yields = measured_yield(seen.system);
  return {between({}, yields.low_m3s / need, yields.mean_m3s / need, yields.high_m3s / need)};
}

std::vector<Measured> dry_yield_over_need(const Seen& seen) {
  const double need = need_of(seen);
  if (!(need > 0.0)) return {};
  const auto least = dry_season_yield(seen.system);
  if (!least) return {lacking({}, "what the springs give in the dry season (`year:` or `log:`)")};
  return {exactly({}, *least / need)};
}

std::vector<Measured> spring_yield(const Seen& seen) {
  std::vector<Measured> out;
  for (const network::Box& box : seen.system.boxes())
    if (box.yield > Flow{}) {
      const YieldRange range = yield_of(box);
      out.push_back(between({box.name}, range.low_m3s, range.mean_m3s, range.high_m3s));
    }
  return out;
}

std::vector<Measured> storage_days(const Seen& seen) {
  std::vector<Measured> out;
  for (const network::Tank& tank : seen.system.tanks()) {
    const double need = daily_m3s(tank);
    if (tank.held || !(need > 0.0)) continue;
    const Length top = network::full_level(seen.system.model(), tank);
    const double holds_m3 = filling::TankCurve(tank.shape).volume_m3((top - tank.floor).metres());
    out.push_back(exactly({tank.name}, holds_m3 / need));
  }
  return out;
}

}  // namespace

std::vector<Measure> supply_measures() {
  return {
      {"yield over need", Kind::percent, "of all springs together, as measured", yield_over_need},
      {"dry-season yield over need", Kind::percent, "of all springs together, in their driest time",
       dry_yield_over_need},
      {"yield of a spring", Kind::flow, "as measured", spring_yield},
      {"storage in days of need", Kind::duration, "of each tank that something is drawn from", storage_days},
  };
}

}  // namespace runnel::review
