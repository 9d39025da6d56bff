#pragma once
// A draw with its hours, for the tests of draws and hours.
#include "runnel/network/place.h"

namespace network_test {

/// So much on average over the day [m3/s], taken between these hours.
inline runnel::network::Draw draw(double m3s, double from, double to) {
  runnel::network::Draw d;
  d.flow = runnel::Flow::from_si(m3s);
  d.from_hour = from;
  d.to_hour = to;
  return d;
}

}  // namespace network_test
