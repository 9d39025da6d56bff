#pragma once
// The year by whatever is known of how the system runs in a period. Steady flow alone does not know of the
// air that start-up leaves in its lines, nor of siphons that lose their water: rooms above this one do.
#include <functional>
#include <vector>

#include "runnel/filling/year.h"
#include "runnel/network/flow_state.h"

namespace runnel::filling {

/// States in which a system with the yields of a period may run, its tanks taking in; the one that brings
/// least counts. None: no answer was reached.
using PeriodRuns = std::function<std::vector<network::State>(const network::System& system)>;

/// As `look_at_year` (year.h), which runs every period as the steady solver has it.
std::vector<YearPart> look_at_year(const network::System& system, const PeriodRuns& runs);

}  // namespace runnel::filling
