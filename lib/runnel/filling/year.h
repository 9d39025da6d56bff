#pragma once
// The year of a model: which springs and tanks belong together, and what comes of it.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/season.h"
#include "runnel/network/system.h"
#include "runnel/springs/bucket_yield.h"

namespace runnel::filling {

/// How well one spring's yield is known.
struct MeasuredSpring {
  std::string box;
  springs::BucketYield yield;
};

/// Places that lines join, with at least one tank. Its springs and tanks are pooled: what reaches one tank is
/// taken to serve all. It reaches them through the lines, after taps and draws of the model that lie on the
/// way have taken theirs; tanks are taken at their lowest, where lines bring most. Boxes store nothing.
struct YearPart {
  std::vector<std::string> boxes, tanks;
  Season season;                         ///< its yield is what reaches the tanks
  std::vector<double> springs_m3s;       ///< what the springs give, a period
  std::vector<MeasuredSpring> measured;  ///< boxes with bucket tests
  double capacity_m3 = 0.0;              ///< up to where float valves shut, else to the lips
  StorageNeed need;
  Coverage coverage;
  std::optional<std::size_t> unsettled;  ///< the first period for which no answer was reached
  bool lasts() const { return !unsettled && coverage.dry_days() == 0.0; }
  /// Some of what the springs give does not reach the tanks in that period.
  bool held_back(std::size_t period) const { return season.yield_m3s[period] < springs_m3s[period]; }
};

/// One part after another, in the order of their first tanks. Precondition: `system.year()` is there and the
/// system passed `validate`.
std::vector<YearPart> look_at_year(const network::System& system);

}  // namespace runnel::filling
