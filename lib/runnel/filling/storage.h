#pragma once
// One storage while it is being filled: its shape, its marks, and what state it is in.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/draws.h"
#include "runnel/filling/tank_curve.h"
#include "runnel/network/system.h"

namespace runnel::filling {

enum class Rim {
  free,   ///< the level moves
  lip,    ///< it stands at the lip and spills what is too much
  floor,  ///< it is empty: draws get what runs in
  film,   ///< a film over a mouth: it gives what it gets
};

/// Where a line takes water out. Less than `film_m` above it the water is a film.
struct Mouth {
  double level_m = 0.0;
  double bare_m3 = 0.0, film_m3 = 0.0;  ///< volumes up to the mouth and to the top of the film
};

/// A film so thin answers within milliseconds while its tank takes days, and a thinner one carries a weak
/// spring: a drop a second stands a billionth of a millimetre deep over a mouth, which no double resolves
/// beside an elevation. No one could measure either; what stands in it shifts the time of an event by
/// milliseconds.
inline constexpr double film_m = 1e-7;

/// A volume worth a halt, and on which side of it the water stands: +1 above, -1 below, 0 not yet known.
struct Level {
  double volume_m3 = 0.0;
  int side = 0;
};

/// Lines into one tank that a float valve shuts at the same level.
struct FloatGroup {
  std::size_t tank = 0;
  network::FloatValve valve;
  std::vector<std::size_t> lines;
};

/// In the order of the tanks, and of their lines.
std::vector<FloatGroup> float_groups(const network::System& system);

/// One of them as its tank knows it.
struct Float {
  std::size_t group = 0;
  std::string line;  ///< if the tank has another float
  double shuts_m3 = 0.0, opens_m3 = 0.0;
  std::optional<double> opened_s;  ///< when it last opened
  double cycles_since_s = 0.0;     ///< its openings are counted from then
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
  double dry_m3 = 0.0;       ///< below this it counts as emptied
  DrawSchedule draws;
  Rim rim = Rim::free;
  int turns = 0;  ///< changes of its state at one and the same instant

  /// Infinite if no line takes water out.
  double lowest_mouth_m() const;
  /// Rounding of volumes: an event is located to this.
  double grain_m3() const { return 1e-12 * lip_m3; }
  double level_m(double volume_m3) const { return floor_m + curve.depth_m(volume_m3); }
  double volume_m3(double level) const { return curve.volume_m3(level - floor_m); }
};

/// Tanks first, then boxes with a plan, as flow_field.h counts them.
std::vector<Storage> storages_of(const network::System& system, double start_hour);

}  // namespace runnel::filling
