#pragma once
// Washouts: the valves at low points through which a line is emptied and flushed of sand. A line needs one
// only where the ground on both sides rises well above the low point; where it rises a metre, the water lies
// still with or without one.
#include <optional>

#include "runnel/units/quantity.h"

namespace runnel::works {

/// A low point needs a washout if a neighbouring high point is more than this above it [uganda-dwd].
inline constexpr Length washout_rise = Length::metres(10.0);

/// Bore of a washout by that of the main: to 300 mm 80, to 600 100, to 1000 150, to 1400 200, to 1800 mm 250
/// mm; chosen so that the last 200 m empty in about an hour [uganda-dwd, table 7-6]. None above. The table is
/// for mains of towns: on a line of 25 to 63 mm an 80 mm valve is out of place, and there the washout is as
/// wide as the line (common practice, no source).
std::optional<Length> washout_bore(Length main_bore);

/// Mean flow that empties a length of main in a given time, and its velocity in the washout.
struct Emptying {
  Volume volume;
  Flow mean;
  Velocity in_washout;
};
Emptying emptying_of(Length main_bore, Length length, Duration time, Length washout_bore);

}  // namespace runnel::works
