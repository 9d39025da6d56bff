#pragma once
// Reading what people write: `1-1/2 in`, `12'-6"`, `1.9 gpm`, `600 gal/day`, `45 degF`, `0.5 %`.
// A number without a unit is an error wherever a unit is needed; there is no default unit.
#include <string>
#include <string_view>

#include "runnel/base/figure.h"

namespace runnel::units {

/// What the reader wanted. `length` serves lengths, elevations, bores and heads of water alike.
enum class Dimension {
  number,  ///< no unit allowed
  ratio,   ///< `40 %` or a bare 0.4
  slope,   ///< `2 %`, `1:50`, `1 in 50`, `0.02`
  length,
  flow,
  pressure,  ///< also accepts a head of water: `10 ft`; see `Parsed::head_of_water`
  velocity,
  volume,
  duration,
  temperature,
  density,              ///< kg/m3, lb/ft3
  kinematic_viscosity,  ///< m2/s, mm2/s, cSt, ft2/s
};

/// The outcome of reading one text. `error` is empty when it was read.
struct Parsed {
  double si = 0.0;             ///< SI value (degrees Celsius for temperatures)
  std::string error;           ///< one sentence: what is wrong
  std::string hint;            ///< what was expected, with an example the person can copy
  int at = 0;                  ///< 0-based offset, in bytes, where the trouble starts
  int length = 1;              ///< how many characters it spans (not bytes)
  bool head_of_water = false;  ///< Dimension::pressure only: it was written as a height of water;
                               ///< `si` is then that height in metres, not a pressure

  bool ok() const { return error.empty(); }
};

/// Reads `text` as a quantity of dimension `wanted`. Never throws; the result is always finite when ok,
/// and it is the double nearest to the exact value of what is written.
///
/// Numbers: `200`, `1.9`, `3e-4`, `1/2`, `1-1/2`, `1 1/2`, and fraction glyphs. `-1-1/2` is minus one and
/// a half. Two units join only as feet and inches (`12'-6"`) and as times (`2 h 30 min`). Refused: commas,
/// leading zeros, ranges, two numbers, two units. `m` is metres, `gal` the US gallon.
Parsed parse(std::string_view text, Dimension wanted);

}  // namespace runnel::units
