#include "runnel/network/floats.h"

#include <algorithm>

namespace runnel::network {
namespace {

constexpr Length just_below = Length::metres(1e-3);

}  // namespace

std::vector<FloatValve> floats_of(const Model& model, const Tank& tank) {
  std::vector<FloatValve> all;
  bool by_tank = tank.float_valve.has_value();
  for (const Pipeline& line : model.pipelines) {
    if (line.to != tank.name) continue;
    if (line.float_valve)
      all.push_back(*line.float_valve);
    else if (by_tank)
      all.push_back(*tank.float_valve), by_tank = false;
  }
  if (by_tank && all.empty()) all.push_back(*tank.float_valve);  // no line runs in yet
  std::stable_sort(all.begin(), all.end(),
                   [](const FloatValve& a, const FloatValve& b) { return a.shuts_at < b.shuts_at; });
  return all;
}

/// A line without a float keeps filling when all others have shut.
Length full_level(const Model& model, const Tank& tank) {
  const std::vector<FloatValve> floats = floats_of(model, tank);
  if (floats.empty()) return tank.lip;
  for (const Pipeline& line : model.pipelines)
    if (line.to == tank.name && !line.float_valve && !tank.float_valve) return tank.lip;
  return floats.back().shuts_at;
}

Length just_below_full(const Model& model, const Tank& tank) { return full_level(model, tank) - just_below; }

Length all_open(const std::vector<FloatValve>& floats) {
  Length level = floats.front().opens_at;
  for (const FloatValve& valve : floats)
    level = std::min({level, valve.opens_at, valve.shuts_at - just_below});
  return level;
}

FloatValve usual_float(const Tank& tank) {
  constexpr double under_lip_m = 0.1;  // common practice, no source
  const Length shuts = std::max(tank.floor, std::min(tank.inlet, tank.lip - Length::metres(under_lip_m)));
  return {shuts, shuts - Length::metres(least_float_band_m)};
}

}  // namespace runnel::network
