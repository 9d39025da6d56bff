// Draws of tanks, taps and joints.
#include "runnel/network/complaints.h"

namespace runnel::network {

void check_draws(const std::vector<Draw>& draws, const std::string& what, Complaints& complaints) {
  for (const Draw& draw : draws) {
    if (!complaints.whole(draw.mark)) continue;
    complaints.not_negative(draw.mark, "flow", {Kind::flow, draw.flow.cubic_metres_per_second()}, what,
                            flow_bounds_m3s);
    for (int i = 0; i < 2; ++i) {
      const double hour = i == 0 ? draw.from_hour : draw.to_hour;
      if (hour >= 0.0 && hour <= 24.0) continue;
      complaints.error("hour-out-of-range", draw.mark, "hours." + std::to_string(i),
                       "hour {0} is not an hour of the day; hours run from 0 to 24", {{Kind::number, hour}});
    }
  }
}

}  // namespace runnel::network
