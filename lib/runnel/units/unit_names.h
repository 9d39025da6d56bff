#pragma once
// The units people write, in every spelling. Factors are kept as exact fractions of whole numbers, so that a
// conversion is rounded only once.
#include <optional>
#include <string_view>

#include "runnel/units/wide.h"

namespace runnel::units {

enum class Measure {
  length,
  area,
  volume,
  mass,
  duration,
  flow,
  velocity,
  density,
  kinematic_viscosity,
  pressure,
  temperature,
  ratio,  ///< per cent
  slope,  ///< a length per length
};

struct Unit {
  Measure measure = Measure::length;
  Wide over, under = {1.0, 0.0};  ///< SI value = (number - offset) * over / under
  double offset = 0.0;            ///< where the scale of a thermometer crosses 0 degC
  bool head_of_water = false;     ///< written as a height of water: `ft of head`, `mH2O`

  bool is_si() const { return over.high == 1.0 && under.high == 1.0 && offset == 0.0; }
  /// How many of the SI unit one of this is.
  Wide factor() const { return quotient(over, under); }
  Wide to_si(Wide number) const;
  Wide from_si(double si) const;
};

/// The unit a text names, spaces around it ignored: `ft`, `gal per min`, `m3/h`, `ft of head`. Capitals do
/// not matter except where they change the meaning (`MPa`, `mL`). None if it is unknown.
std::optional<Unit> find_unit(std::string_view text);

/// "a length", "a flow", ...
std::string_view name_of(Measure measure);

}  // namespace runnel::units
