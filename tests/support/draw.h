#pragma once
// A draw with its hours, for tests that make models by hand.
#include "runnel/network/place.h"

namespace support {

/// So much on average over the day [m3/s], taken between these hours; without hours, all day.
inline runnel::network::Draw draw(double m3s, double from_hour = 0.0, double to_hour = 0.0) {
  runnel::network::Draw d;
  d.flow = runnel::Flow::from_si(m3s);
  d.from_hour = from_hour;
  d.to_hour = to_hour;
  return d;
}

}  // namespace support
