#include "runnel/filling/datum.h"

#include <algorithm>
#include <cmath>

namespace runnel::filling {

double middle_m(const network::System& system) {
  double low = 1e300, high = -1e300;
  for (const network::Pipeline& line : system.pipelines)
    for (const network::SurveyPoint& point : line.survey) {
      low = std::min(low, point.elevation.metres());
      high = std::max(high, point.elevation.metres());
    }
  return low > high ? 0.0 : std::round(0.5 * (low + high));
}

network::System lowered(const network::System& system, double by_m) {
  network::System copy = system;
  const Length by = Length::metres(by_m);
  auto lower = [&](Length& elevation) { elevation = elevation - by; };
  for (network::Box& box : copy.boxes) {
    lower(box.outlet), lower(box.lip);
    if (box.floor) lower(*box.floor);
  }
  for (network::Tank& tank : copy.tanks) {
    lower(tank.floor), lower(tank.lip), lower(tank.inlet), lower(tank.level);
    if (tank.float_valve) lower(tank.float_valve->shuts_at), lower(tank.float_valve->opens_at);
  }
  for (network::Outlet& outlet : copy.outlets) lower(outlet.elevation);
  for (network::Joint& joint : copy.joints) lower(joint.elevation);
  for (network::Pipeline& line : copy.pipelines)
    for (network::SurveyPoint& point : line.survey) lower(point.elevation);
  return copy;
}

}  // namespace runnel::filling
