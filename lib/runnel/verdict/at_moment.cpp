#include "runnel/verdict/at_moment.h"

#include <algorithm>

#include "runnel/network/drawn_needs.h"
#include "runnel/network/floats.h"

namespace runnel::verdict {
namespace {

constexpr double hair_m = 1e-3;  // on either side of a level

/// What shut float valves have to bring is asked of the time when they are open, whatever else runs then. One
/// that opens where it shuts is never open for long.
void open_where_asked(network::Model& model) {
  for (network::Tank& tank : model.tanks)
    if (network::flow_asked_at(model, tank.name) > Flow{})
      for (const network::FloatValve& valve : network::floats_of(model, tank))
        tank.level = std::max(tank.floor, std::min(tank.level, valve.opens_at));
}

}  // namespace

network::Model at_moment(network::Model model, const filling::MomentOfDay& moment) {
  for (network::Tank& tank : model.tanks)
    for (const filling::LevelThen& then : moment.levels)
      if (then.tank == tank.name) tank.level = Length::metres(then.level_m);
  open_where_asked(model);
  for (const filling::FloatThen& valve : moment.floats) {
    const auto tank = std::find_if(model.tanks.begin(), model.tanks.end(),
                                   [&](const network::Tank& one) { return one.name == valve.tank; });
    if (tank == model.tanks.end()) continue;
    if (network::flow_asked_at(model, tank->name) > Flow{}) continue;
    const auto stand = [&](network::FloatValve& own) {
      if (valve.open && tank->level >= own.shuts_at) own.shuts_at = tank->level + Length::metres(hair_m);
      if (!valve.open && tank->level < own.shuts_at) own.shuts_at = tank->level - Length::metres(hair_m);
      own.opens_at = std::min(own.opens_at, own.shuts_at);
    };
    if (tank->float_valve && valve.pipeline.empty()) stand(*tank->float_valve);
    for (network::Pipeline& line : model.pipelines)
      if (line.to == valve.tank && line.float_valve &&
          (valve.pipeline.empty() || line.name == valve.pipeline))
        stand(*line.float_valve);
  }
  return model;
}

}  // namespace runnel::verdict
