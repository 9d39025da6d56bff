#pragma once
// What a change of the governing laws means in words of the trade.
#include "runnel/filling/basins.h"

namespace runnel::filling {

/// Events between two instants of one time: lines that stop, start, turn, no longer run full; boxes that
/// begin or end to spill. Lines that a float valve has just shut or opened are left out: that is said
/// already.
void regime_events(const network::System& system, const steady::Assembly& assembly, double time_s,
                   const Instant& before, const Instant& after, std::vector<Event>& events);

}  // namespace runnel::filling
