#pragma once
// The draws by the hour on a typical day: whether each of them gets what it wants in its own hours.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/fill.h"
#include "runnel/filling/moments_of_day.h"
#include "runnel/network/system.h"

namespace runnel::filling {

/// What comes is followed to about this share: a draw that gets all but so much is met.
inline constexpr double followed_share = 1e-3;

/// A place with draws, over the last day that was followed.
struct DrawnDay {
  std::string place;
  network::PlaceKind kind = network::PlaceKind::tank;
  double asked_m3 = 0.0, given_m3 = 0.0;
  double share_short() const { return asked_m3 > 0.0 ? 1.0 - given_m3 / asked_m3 : 0.0; }
  bool is_short() const { return share_short() > followed_share; }
};

/// How low a tank stood at its lowest on the last day; on the last days where float valves open every few
/// days only.
struct LowestOfDay {
  std::string tank;
  double level_m = 0.0;
};

/// Why the hours could not be followed to a day that stands for the others.
enum class HoursLost {
  levels,  ///< the levels of the tanks change too often, or their flows did not settle
  flows,   ///< the flows at some hour did not settle
};

struct TypicalDay {
  bool known = false;  ///< false: nothing is drawn, or the hours could not be followed (`lost`)
  std::optional<HoursLost> lost;
  bool proved = true;   ///< the course passed its check, where tanks were followed
  std::string sinking;  ///< a tank that still came less high each day, or each time that float valves opened
  std::vector<DrawnDay> draws;       ///< in the order tanks, joints, taps
  std::vector<LowestOfDay> lowest;   ///< one a tank that was followed
  std::vector<MomentOfDay> moments;  ///< at which it is hardest to get water; none if nothing was followed
  /// Tanks that sink for days with their float valve shut, until it opens and fills them again.
  std::vector<std::string> until_floats_open;
};

/// Follows the hours from full tanks until one day is like the day before. Tanks that start full come to the
/// same days as tanks that start empty, only sooner, as long as more comes than is drawn. A tap lets out no
/// more than is drawn there and is shut at other hours. If nothing is stored, each hour is solved by itself.
TypicalDay typical_day(const network::System& system);

}  // namespace runnel::filling
