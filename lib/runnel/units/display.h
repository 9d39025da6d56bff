#pragma once
// In which unit, and how finely, each kind of figure is shown.
#include <string_view>

#include "runnel/units/print.h"

namespace runnel::units {

struct Display {
  std::string_view unit;  ///< as written after the number; empty for plain numbers
  int decimals = 0;       ///< at least this many
  int significant = 0;    ///< small figures: more decimals until this many digits count
  int most_decimals = 0;  ///< but never more than these, so that rounding noise shows as 0
  bool trimmed = false;   ///< drop zeros at the end: `1.5 in`, but `12.30 m`
};

const Display& display(Kind kind, UnitSystem system);

/// A number shown by those rules: rounded, never "-0", "-" if it is not finite. `up`: never to less than it
/// is, but for what seeking it leaves over.
std::string rounded(double value, const Display& how, bool up = false);

}  // namespace runnel::units
