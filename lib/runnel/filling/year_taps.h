#pragma once
// What taps below the tanks take in a year if nobody shuts them.
#include <vector>

#include "runnel/filling/year.h"

namespace runnel::filling {

/// Adds to each part what it comes to with the taps below its tanks left running. `yields_m3s`: of each box,
/// a period. Precondition: `places`, `season` and `capacity_m3` of the parts are known.
void leave_taps_running(const network::System& system, const std::vector<std::vector<double>>& yields_m3s,
                        std::vector<YearPart>& parts);

}  // namespace runnel::filling
