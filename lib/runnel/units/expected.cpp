#include "runnel/units/expected.h"

#include <iterator>

namespace runnel::units {

namespace {

// In the order of Dimension.
constexpr Expected table[] = {
    {"a number without a unit", "`3` or `0.5`", "", ""},
    {"a share", "`40 %` or `0.4`", "", ""},
    {"a slope", "`2 %`, `1:50` or `0.02`", "", ""},
    {"a length", "`200 ft`, `1-1/2 in` or `60 m`", "ft", "m"},
    {"a flow", "`1.9 gal/min`, `600 gal/day` or `0.12 L/s`", "gal/min", "L/s"},
    {"a pressure", "`40 psi`, `2.5 bar` or `30 ft of water`", "psi", "kPa"},
    {"a velocity", "`3 ft/s` or `0.9 m/s`", "ft/s", "m/s"},
    {"a volume", "`1000 gal`, `500 L` or `3.8 m3`", "gal", "L"},
    {"a duration", "`45 s`, `12 h` or `3 days`", "min", "h"},
    {"a temperature", "`48 degF` or `9 degC`", "degF", "degC"},
    {"a density", "`999.7 kg/m3` or `62.4 lb/ft3`", "lb/ft3", "kg/m3"},
    {"a kinematic viscosity", "`1.31 mm2/s` or `1.41e-5 ft2/s`", "ft2/s", "mm2/s"},
};
static_assert(std::size(table) == static_cast<std::size_t>(Dimension::kinematic_viscosity) + 1);

}  // namespace

const Expected& expected(Dimension wanted) { return table[static_cast<std::size_t>(wanted)]; }

bool accepts(Dimension wanted, Measure measure) {
  switch (wanted) {
    case Dimension::number:
      return false;
    case Dimension::ratio:
      return measure == Measure::ratio;
    case Dimension::slope:
      return measure == Measure::ratio || measure == Measure::slope;
    case Dimension::length:
      return measure == Measure::length;
    case Dimension::flow:
      return measure == Measure::flow;
    case Dimension::pressure:
      return measure == Measure::pressure || measure == Measure::length;
    case Dimension::velocity:
      return measure == Measure::velocity;
    case Dimension::volume:
      return measure == Measure::volume;
    case Dimension::duration:
      return measure == Measure::duration;
    case Dimension::temperature:
      return measure == Measure::temperature;
    case Dimension::density:
      return measure == Measure::density;
    case Dimension::kinematic_viscosity:
      return measure == Measure::kinematic_viscosity;
  }
  return false;
}

bool accepts_bare(Dimension wanted) {
  return wanted == Dimension::number || wanted == Dimension::ratio || wanted == Dimension::slope;
}

}  // namespace runnel::units
