#pragma once
// Small invented systems for the tests of what is judged and tried about air.
#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "support/resolved.h"
#include "steady/small_systems.h"

namespace runnel::test {

using Survey = std::vector<std::pair<double, double>>;

/// A box that spills (its lip 1 m above the outlet) over a line to a free end; Hazen-Williams, no
/// loss at the entrance, so that flows can be checked by hand.
inline network::Model crest_line(const Survey& survey, double bore_m, double yield_m3s = 1e-2,
                                  network::Air air = network::Air::open) {
  network::Model s = small::empty();
  s.friction.law = losses::Law::hazen_williams;
  small::box(s, "spring", yield_m3s, survey.front().second, survey.front().second + 1.0);
  small::outlet(s, "trough", survey.back().second);
  network::Pipeline& line = small::line(s, "main", "spring", "trough", bore_m, survey);
  line.entrance_loss = 0.0;  // the jet's velocity head stays at the end: the grade there is the end itself
  line.air = air;
  return s;
}

inline network::Model asking(network::Model s, const std::string& place, double flow_m3s) {
  network::Ask ask;
  ask.at = place;
  ask.flow = Flow::from_si(flow_m3s);
  s.asks.push_back(ask);
  return s;
}

/// Everything `by_m` higher.
inline network::Model lifted(network::Model s, double by_m) {
  const auto up = [&](Length& z) { z = Length::metres(z.metres() + by_m); };
  for (auto& b : s.boxes) up(b.outlet), up(b.lip);
  for (auto& t : s.tanks) up(t.floor), up(t.lip), up(t.inlet), up(t.level);
  for (auto& o : s.outlets) up(o.elevation);
  for (auto& j : s.joints) up(j.elevation);
  for (auto& l : s.pipelines)
    for (auto& p : l.survey) up(p.elevation);
  return s;
}

/// A way over one crest, 4 m below the lip, to a free end far below: the crest governs.
inline const Survey over_a_crest = {{0, 100}, {200, 90}, {600, 97}, {1000, 69}};

}  // namespace runnel::test
