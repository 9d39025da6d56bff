#include "runnel/verdict/arrival.h"

#include <cstddef>

namespace runnel::verdict {

std::optional<Arrival> arrival(const air::Profile& profile, const air::StartConditions& conditions,
                               const air::StartUp& start, double rate_m3s) {
  if (start.verdict == air::StartVerdict::blocked || !(rate_m3s > 0.0)) return std::nullopt;
  const std::vector<air::FirstWater> all = air::first_water(profile, conditions, rate_m3s);
  Arrival found;
  found.rate_m3s = rate_m3s;
  for (std::size_t i = 0; i + 1 < all.size(); ++i)
    if (profile.points[i + 1].pipeline != profile.points[i].pipeline) found.ends.push_back(all[i + 1]);
  // The last point repeats the pipeline of the leg before it.
  found.ends.push_back(all.back());
  return found;
}

}  // namespace runnel::verdict
