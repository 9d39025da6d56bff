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

/// With what is drawn at tanks by the hour drawn evenly all day.
System with_even_draws(const System& system);

/// With a tank at another level at the start. Precondition: the system has a tank of that name.
System with_level(const System& system, const std::string& tank, Length level);

/// With a tank that is drawn down to its mouth: it stands there as an open box that passes on what it gets,
/// its level free between mouth and lip. Its float valve, if any, is wide open; where the level it starts
/// from has shut it, it is taken to stay shut. Boxes come before tanks, so places are counted otherwise than
/// in `system`; names stay. Precondition: the system has a tank of that name.
System with_empty_tank(const System& system, const std::string& tank);

/// With tanks that only take in, each at its floor with its float valve open and nothing running out, and
/// with other yields of the boxes, one a box: what the springs bring to the tanks at such a time. What is
/// drawn at taps and joints by the hour (`draws`) is left out.
System with_tanks_receiving(const System& system, const std::vector<Flow>& yields);

/// With tanks as full as they get and their float valves just open, and with other yields of the boxes, one a
/// box. Nothing runs out of the tanks named in `kept`: what is drawn from the others shows at the taps. What
/// is drawn at taps and joints by the hour is left out.
System with_tanks_full(const System& system, const std::vector<Flow>& yields,
                       const std::vector<std::string>& kept);

/// With other yields of the boxes, one a box, of which no measurement tells.
System with_yields(const System& system, const std::vector<Flow>& yields);

/// With a sealed line as one that lets in air.
System with_open_line(const System& system, int line);

/// With every elevation above another datum: lower by `by_m` everywhere.
System lowered(const System& system, double by_m);

}  // namespace runnel::network
