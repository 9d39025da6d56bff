#pragma once
// Turns changes of the governing laws into events.
#include "runnel/filling/basins.h"

namespace runnel::filling {

/// Adds the events between the instants before and after a time: lines that stop, start, turn round or no
/// longer run full, and boxes that begin or cease to spill. Lines that a float valve has just shut or opened
/// are left out, since those are events already.
void regime_events(const network::System& system, const steady::Assembly& assembly, double time_s,
                   const Instant& before, const Instant& after, std::vector<Event>& events);

}  // namespace runnel::filling
