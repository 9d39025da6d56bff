#include "runnel/air/jump.h"

#include <algorithm>
#include <cmath>

namespace runnel::air {
namespace {

using steady::Reach;
using steady::ReachState;

bool swift(const Reach& r) { return !r.near_full && r.froude && *r.froude > 1.0 && r.normal_depth_m; }
bool slow(const Reach& r) { return !r.near_full && r.froude && *r.froude <= 1.0 && r.normal_depth_m; }

Jump jump_of(const Reach& before, double station_m) {
  Jump jump;
  jump.station_m = station_m;
  jump.froude = *before.froude;
  jump.depth_m = *before.normal_depth_m;
  jump.air_share = 0.0066 * std::pow(jump.froude - 1.0, 1.4);
  return jump;
}

}  // namespace

std::vector<Jump> jumps(const steady::LineState& run) {
  std::vector<Reach> reaches = run.reaches;
  const bool backward = run.flow_m3s < 0.0;
  if (backward) std::reverse(reaches.begin(), reaches.end());
  std::vector<Jump> found;
  for (std::size_t i = 0; i < reaches.size(); ++i) {
    const Reach& here = reaches[i];
    if (!swift(here)) continue;
    if (here.state == ReachState::mixed && here.refill_station_m) {
      found.push_back(jump_of(here, *here.refill_station_m));
      continue;
    }
    if (here.state != ReachState::part_full || i + 1 == reaches.size()) continue;
    const Reach& next = reaches[i + 1];
    const double end_m = backward ? here.from_m : here.to_m;
    if (next.state == ReachState::full) {
      found.push_back(jump_of(here, end_m));
    } else if (slow(next)) {
      found.push_back(jump_of(here, end_m));
      found.back().fills_pipe = false;
      found.back().after_depth_m = *next.normal_depth_m;
    }
  }
  return found;
}

}  // namespace runnel::air
