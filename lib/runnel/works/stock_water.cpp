#include "runnel/works/stock_water.h"

#include <algorithm>

namespace runnel::works {

int drinking_spaces(int head, Length walk) {
  const int head_a_space = walk < Length::feet(1980) ? 20 : 10;
  return (head + head_a_space - 1) / head_a_space;
}

Volume tank_beyond_inflow(Volume need, Flow inflow, Duration time) {
  return std::max(Volume{}, need - Volume::cubic_metres(inflow.si() * time.seconds()));
}

double head_watered(Flow flow, Volume per_head_a_day) {
  return Volume::cubic_metres(flow.si() * Duration::days(1).seconds()) / per_head_a_day;
}

Duration trough_fill_time(Volume trough, Flow flow) { return Duration::seconds(trough.si() / flow.si()); }

}  // namespace runnel::works
