#include "runnel/verdict/arrival.h"

#include <cstddef>

namespace runnel::verdict {

std::optional<Arrival> arrival(const network::System& system, const air::Way& way, double rate_m3s) {
  if (way.start.verdict == air::StartVerdict::blocked || !(rate_m3s > 0.0)) return std::nullopt;
  const air::WetPart wet(system, way, rate_m3s);
  std::vector<int> ends;
  const auto& points = way.profile.points;
  // The last point repeats the pipeline of the leg before it.
  for (std::size_t i = 0; i + 2 < points.size(); ++i)
    if (points[i + 1].pipeline != points[i].pipeline) ends.push_back(static_cast<int>(i) + 1);
  ends.push_back(static_cast<int>(points.size()) - 1);
  Arrival found;
  found.rate_m3s = rate_m3s;
  found.line_limits = !wet.takes_all();
  found.ends = air::first_water(way.profile, way.conditions, rate_m3s, ends, &wet);
  return found;
}

}  // namespace runnel::verdict
