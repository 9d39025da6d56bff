#pragma once
// The moments of a followed day at which it is hardest to get water: for each way in which the taps stand
// open, when each tank stands lowest, when one that something is asked at stands highest, and when each
// float valve stands open.
#include <string>
#include <vector>

#include "runnel/filling/fill.h"
#include "runnel/network/system.h"

namespace runnel::filling {

struct LevelThen {
  std::string tank;
  double level_m = 0.0;
};

/// A float valve, as events name it: of a tank, or of one line into a tank that has another.
struct FloatThen {
  std::string tank, pipeline;
  bool open = false;
};

struct MomentOfDay {
  double hour = 0.0;              ///< in the midst of the hours in which the same taps are drawn
  std::string tank;               ///< the one that stands lowest in these hours, or whose float valve is open
  double level_m = 0.0;           ///< of that tank
  std::vector<LevelThen> levels;  ///< of all tanks that were followed
  std::vector<FloatThen> floats;  ///< of all float valves that move
};

/// The moments within some time before the end of a run that was followed from midnight, each once.
std::vector<MomentOfDay> moments_of_day(const network::System& system, const FillHistory& history,
                                        double within_s);

}  // namespace runnel::filling
