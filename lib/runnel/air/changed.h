#pragma once
// Copies of a system with one thing about a pipeline done differently: what somebody might build instead.
#include <string>

#include "runnel/network/system.h"

namespace runnel::air {

/// A stretch of one pipeline between two of its own stations, `from_m` <= `to_m`.
struct Stretch {
  double from_m = 0.0, to_m = 0.0;
};

// `line` must be a pipeline of the system. The parts stay where they are.

/// With an air valve at a station.
network::System with_air_valve(const network::System& system, const std::string& line, double station_m);

/// With a trench: whatever of the stretch stands above `floor_m` is brought down to it. Points of the
/// survey are added where the trench begins and ends. The ends of the pipeline stay as they are.
network::System with_trench(const network::System& system, const std::string& line, Stretch stretch,
                            double floor_m);

/// With another pipe on a stretch, and the pipes as they were before and after it.
network::System with_pipe(const network::System& system, const std::string& line, Stretch stretch,
                          const pipes::Pipe& pipe);

/// The part of a pipeline between the low points (or the ends) on both sides of a station: what a trench
/// through a crest there could touch.
Stretch mound_around(const network::Pipeline& line, double station_m);

}  // namespace runnel::air
