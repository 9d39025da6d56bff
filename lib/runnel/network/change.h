#pragma once
// A system with one thing changed: what somebody might build instead. Everything that follows from the change
// (losses on another bore, the course through a trench) is computed anew.
#include "runnel/network/system.h"

namespace runnel::network {

/// A stretch of one pipeline between two of its own stations, `from_m` <= `to_m`.
struct Stretch {
  double from_m = 0.0, to_m = 0.0;
};

// `line` is the number of the line in the system. The parts stay where they are. Findings come instead of a
// system where it could not be computed after the change: no table knows some part on another bore.

/// Puts an air valve on a pipeline of a model, among its parts by station.
void put_air_valve(Pipeline& line, double station_m);

/// With an air valve at a station.
Checked<System> with_air_valve(const System& system, int line, double station_m);

/// With a trench: whatever in the stretch lies above `floor_m` is lowered to it. Survey points are added
/// where the ground crosses the floor. The ends of the pipeline stay as they are.
Checked<System> with_trench(const System& system, int line, Stretch stretch, double floor_m);

/// Digs a pipeline down at a point of its survey between its ends, nowhere deeper than `depth`: a level
/// trench that far below the point, to where its floor comes out of the ground. Towards a point that lies
/// higher than this one, and towards an end of the line, the floor rises instead.
void dig_down(Pipeline& line, std::size_t point, Length depth);

/// With a pipeline dug down at a point of its survey.
Checked<System> with_dug_point(const System& system, int line, int point, Length depth);

/// With another pipe on a stretch, and the pipes as they were before and after it.
Checked<System> with_pipe(const System& system, int line, Stretch stretch, const pipes::Pipe& pipe);

/// With no spring giving anything.
System without_springs(const System& system);

/// With the draws of tanks spread evenly over the day, and each tap of which more is asked than is drawn
/// opened so far at all hours.
System with_even_draws(const System& system);

/// With each tap of which more is asked than is drawn drawn so far in its hours, every day.
System with_asked_draws(const System& system);

/// With another level of a tank at the start. Precondition: the system has a tank of that name.
System with_level(const System& system, const std::string& tank, Length level);

/// With all tanks as full as they get: to their lip, or to where a float valve shuts.
System with_full_tanks(const System& system);

/// With a float valve on each of those tanks, shut at the level where it shuts.
System with_floats_shut(const System& system, const std::vector<std::string>& tanks);

/// With a tank that is drawn down to its mouth: it becomes an open box that passes on what it gets, its level
/// free between mouth and lip. Its float valve, if any, is wide open, but stays shut if the level at the
/// start has shut it. Boxes come before tanks, so the places have other numbers than in `system`; names stay.
/// Precondition: the system has a tank of that name.
System with_empty_tank(const System& system, const std::string& tank);

/// With tanks that only receive, each at its floor with its float valve open and nothing running out, and
/// with other yields, one per box: what the springs then bring to the tanks. The `draws` of taps and joints
/// are left out.
System with_tanks_receiving(const System& system, const std::vector<Flow>& yields);
/// The same with the tanks named in `full` as full as they get, their float valves shut, which give.
System with_tanks_receiving(const System& system, const std::vector<Flow>& yields,
                            const std::vector<std::string>& full);

/// With tanks as full as they get, their float valves just open, and with other yields, one per box. Nothing
/// runs out of the tanks named in `kept`; what leaves the others shows at the taps. The `draws` of taps and
/// joints are left out.
System with_tanks_full(const System& system, const std::vector<Flow>& yields,
                       const std::vector<std::string>& kept);

/// With every tap shut.
System with_taps_shut(const System& system);

/// With the yields of a period of its year, and with what the year demands of tanks drawn from them: in the
/// hours of their own draws, or all day. Precondition: the system has a year, and the period is one of it.
System in_period(const System& system, std::size_t period);

/// With other yields, one per box, and without the measurements behind the old ones.
System with_yields(const System& system, const std::vector<Flow>& yields);

/// The same with another year, if it has one.
System with_year(const System& system, const std::vector<Flow>& yields, Year year);

/// With a sealed line that lets in air instead.
System with_open_line(const System& system, int line);

/// With every elevation above another datum: lower by `by_m` everywhere.
System lowered(const System& system, double by_m);

}  // namespace runnel::network
