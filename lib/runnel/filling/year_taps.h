#pragma once
// What the taps below tanks take in a year if nobody shuts them, and what tanks without a float valve take.
#include <vector>

#include "runnel/filling/year.h"

namespace runnel::filling {

/// Adds to each part the year with the taps below its tanks left running, and with the tanks running over that
/// other tanks feed and no float valve shuts. `yields_m3s`: for each box, one a
/// period. Precondition: `places`, `season` and `capacity_m3` of the parts are known.
void leave_taps_running(const network::System& system, const std::vector<std::vector<double>>& yields_m3s,
                        std::vector<YearPart>& parts);

}  // namespace runnel::filling
