#pragma once
// A system with one thing done differently: what somebody might build instead. Everything that follows from
// the change (losses on another bore, the course through a trench) is worked out anew.
#include "runnel/network/system.h"

namespace runnel::network {

/// A stretch of one pipeline between two of its own stations, `from_m` <= `to_m`.
struct Stretch {
  double from_m = 0.0, to_m = 0.0;
};

// `line` counts the lines of the system. The parts stay where they are. Findings instead of a system where
// the change makes it one that cannot be computed: a part that no table knows on another bore.

/// With an air valve at a station.
Checked<System> with_air_valve(const System& system, int line, double station_m);

/// With a trench: whatever of the stretch stands above `floor_m` is brought down to it. Points of the
/// survey are added where the trench begins and ends. The ends of the pipeline stay as they are.
Checked<System> with_trench(const System& system, int line, Stretch stretch, double floor_m);

/// With another pipe on a stretch, and the pipes as they were before and after it.
Checked<System> with_pipe(const System& system, int line, Stretch stretch, const pipes::Pipe& pipe);

/// With no spring giving anything.
System without_springs(const System& system);

/// With every elevation above another datum: lower by `by_m` everywhere.
System lowered(const System& system, double by_m);

}  // namespace runnel::network
