#pragma once
// When the first water comes out of a line that was empty.
#include <optional>
#include <vector>

#include "runnel/air/crests.h"
#include "runnel/air/first_water.h"
#include "runnel/network/system.h"

namespace runnel::verdict {

/// Assumes that the spring gives `rate_m3s` all the time, that all of it goes this way, and that the box
/// before the line is full. The front takes up that, or less if the wet part carries less to it. Filling the
/// bore gives the latest time, `earliest_s` the soonest (air/first_water.h): that water has to run the
/// length, in the full pipe or part-full down its descents.
struct Arrival {
  double rate_m3s = 0.0;
  bool line_limits = false;           ///< the line takes up less than the spring gives before it is full
  std::vector<air::FirstWater> ends;  ///< at the end of each of the profile's pipelines, in order
  const air::FirstWater& at_end() const { return ends.back(); }
};

/// None: the way is blocked, or no rate is known (`rate_m3s` is not positive).
std::optional<Arrival> arrival(const network::System& system, const air::Way& way, double rate_m3s);

}  // namespace runnel::verdict
