#pragma once
// One storage during a filling: its shape, its marks and its state.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/draws.h"
#include "runnel/filling/tank_curve.h"
#include "runnel/network/system.h"

namespace runnel::filling {

enum class Rim {
  free,   ///< the level moves
  lip,    ///< the water stands at the lip, and the surplus spills
  floor,  ///< it is empty, and draws get what runs in
  film,   ///< it is a film over a mouth and gives what it gets
};

/// Where a line takes water out. Water less than `film_m` above it is a film.
struct Mouth {
  double level_m = 0.0;
  double bare_m3 = 0.0, film_m3 = 0.0;  ///< volumes up to the mouth and to the top of the film
};

/// A film this thin responds within milliseconds while its tank takes days, and an even thinner one carries a
/// weak spring: a drop a second is a billionth of a millimetre deep over a mouth, which no double resolves
/// beside an elevation. Neither could be measured, and the water in it shifts the time of an event by
/// milliseconds.
inline constexpr double film_m = 1e-7;

/// A volume at which a step must end, and the side on which the water is: +1 above, -1 below, 0 not known.
struct Level {
  double volume_m3 = 0.0;
  int side = 0;
};

/// Lines into one tank whose float valves shut and open at the same levels, treated as one float valve.
struct FloatGroup {
  std::size_t tank = 0;
  network::FloatValve valve;
  std::vector<std::size_t> lines;
};

/// All groups, in the order of the tanks and of their lines.
std::vector<FloatGroup> float_groups(const network::System& system);

/// One of these groups in its tank.
struct Float {
  std::size_t group = 0;
  std::string line;  ///< its first line, if the tank has another group; else empty
  double shuts_m3 = 0.0, opens_m3 = 0.0;
  std::optional<double> opened_s;  ///< when it last opened
  double cycles_since_s = 0.0;     ///< since when its openings are counted
  int cycles = 0;
};

struct Storage {
  std::string name;
  network::PlaceKind kind = network::PlaceKind::tank;
  double floor_m = 0.0, lip_m = 0.0;
  TankCurve curve{network::UprightCylinder{}};
  double lip_m3 = 0.0;
  std::vector<Float> floats;
  std::vector<Mouth> mouths;
  Level inlet;               ///< of a tank
  std::vector<Level> bends;  ///< rows of a table
  double dry_m3 = 0.0;       ///< volume at which it counts as emptied; 0: at its floor
  DrawSchedule draws;
  Rim rim = Rim::free;
  int turns = 0;  ///< changes of its state at the present instant

  /// Infinite if no line takes water out.
  double lowest_mouth_m() const;
  /// The rounding of volumes, to which events are located.
  double grain_m3() const { return 1e-12 * lip_m3; }
  double level_m(double volume_m3) const { return floor_m + curve.depth_m(volume_m3); }
  double volume_m3(double level) const { return curve.volume_m3(level - floor_m); }
};

/// All storages, tanks first, then boxes with a plan, numbered as in flow_field.h.
std::vector<Storage> storages_of(const network::System& system, double start_hour);

}  // namespace runnel::filling
