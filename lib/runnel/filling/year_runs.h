#pragma once
// The year, given how the system runs in a period. Steady flow alone does not know of the air that start-up
// leaves in lines, nor of siphons that lose their water; rooms above this one do.
#include <functional>
#include <vector>

#include "runnel/filling/year.h"
#include "runnel/network/flow_state.h"

namespace runnel::filling {

/// Gives the states in which a system with the yields of a period may run while its tanks take water in. The
/// one that brings least counts. Empty: no answer was reached.
using PeriodRuns = std::function<std::vector<network::State>(const network::System& system)>;

/// The same as `look_at_year` in year.h, which takes the steady state of every period.
std::vector<YearPart> look_at_year(const network::System& system, const PeriodRuns& runs);

}  // namespace runnel::filling
