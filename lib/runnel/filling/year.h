#pragma once
// The year of a model: which springs and tanks belong together, and what comes of it.
#include <string>
#include <vector>

#include "runnel/filling/season.h"
#include "runnel/network/system.h"

namespace runnel::filling {

/// Places that lines join, with at least one tank. Its springs and tanks are pooled: every tank is taken to
/// be reached by all the water. What the lines can carry is not asked here; boxes store nothing.
struct YearPart {
  std::vector<std::string> boxes, tanks;
  Season season;
  std::vector<ScatteredSpring> springs;  ///< one a box
  double capacity_m3 = 0.0;              ///< up to where float valves shut, else to the lips
  StorageNeed need;
  Coverage coverage;
  std::optional<DryChance> chance;  ///< none if no box has two bucket tests or more
  bool lasts() const { return coverage.dry_days() == 0.0; }
};

/// One part after another, in the order of their first tanks. Precondition: `system.year()` is there and the
/// system passed `validate`.
std::vector<YearPart> look_at_year(const network::System& system);

}  // namespace runnel::filling
