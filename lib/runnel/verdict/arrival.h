#pragma once
// When the first water comes out of a line that was empty.
#include <optional>
#include <vector>

#include "runnel/air/first_water.h"
#include "runnel/air/profile.h"
#include "runnel/air/start_up.h"

namespace runnel::verdict {

/// Assumes: the spring gives `rate_m3s` all the time, all of it goes this way, the box before the line is
/// full, and the line takes up what the spring gives. Full bore is then the latest time, `earliest_s` the
/// soonest (air/first_water.h).
struct Arrival {
  double rate_m3s = 0.0;
  std::vector<air::FirstWater> ends;  ///< at the end of each of the profile's pipelines, in order
  const air::FirstWater& at_end() const { return ends.back(); }
};

/// None: the way is blocked, or no rate is known (`rate_m3s` is not positive).
std::optional<Arrival> arrival(const air::Profile& profile, const air::StartConditions& conditions,
                               const air::StartUp& start, double rate_m3s);

}  // namespace runnel::verdict
