#pragma once
#include "runnel/units/quantity.h"

namespace runnel::water {

/// The least absolute head of water at the summit of a siphon: below it dissolved air comes out and gathers
/// there until the siphon breaks. 2.7 m, printed as 7.6 m of suction at sea level [siphon-practice]. The
/// absolute figure counts, so thinner air leaves less suction.
inline constexpr double least_absolute_head_m = 2.7;

/// The suction, in metres of water below the air's pressure, that a summit may have: what the absolute
/// pressure of the air holds up, less the head that must be left; never negative. A siphon may lift this much
/// less the velocity head and the loss from its source to the summit.
Length most_suction(double air_pressure_pa, double density_kgm3,
                    double absolute_head_m = least_absolute_head_m);

/// The same at an altitude, by the standard air of `air_pressure_pa(altitude)` and its range.
Length most_suction_at(Length altitude, double density_kgm3, double absolute_head_m = least_absolute_head_m);

}  // namespace runnel::water
