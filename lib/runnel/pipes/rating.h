#pragma once
// What pressure a pipe may stand. All formulas are Barlow's for a thin ring, as the pipe standards use it.
#include <string_view>

#include "runnel/pipes/pipe.h"
#include "runnel/units/quantity.h"

namespace runnel::pipes {

/// 2 S t / (OD - t) from the hydrostatic design stress and the minimum wall [astm-d1785]. Zero unless the
/// wall is between zero and half the outside diameter.
Pressure rating_by_wall(Pressure design_stress, Length outside, Length wall);
/// 2 S / (DR - 1): outside diameter over wall [astm-d2241] [astm-d3035].
Pressure rating_by_outside_ratio(Pressure design_stress, double ratio);
/// 2 S / (SIDR + 1): inside diameter over wall [astm-d2239].
Pressure rating_by_inside_ratio(Pressure design_stress, double ratio);
/// Nominal pressure 2 sigma / (SDR - 1) with sigma = MRS / C [iso-4427-1]; C = 1.25 for water in PE.
Pressure nominal_pressure(Pressure required_strength, double design_coefficient, double ratio);

/// What steel pipe with cut threads stands inside [asme-b31-1; from memory]: 2 S E (t - A) / (D - 2 y (t -
/// A)), for the weakest pipe sold under its standard, butt-welded, with its wall as thin as that allows.
/// `wall` is the nominal one. Zero unless that leaves any steel below the threads.
Pressure steel_rating(Length outside, Length wall);
/// The rating as written; without one, that of steel by its wall. Zero if unknown.
Pressure known_rating(const Pipe& pipe);

/// Share of the rating that working pressure should not exceed while surge has not been worked out
/// [asae-s376], secondary.
inline constexpr double share_without_surge = 0.72;
/// That share of a rating as a head of water.
Length head_without_surge(Pressure rating, double water_kgm3);
/// Share of its rating that PVC pipe with cut threads keeps [pvc-maker-data].
inline constexpr double share_if_threaded = 0.5;

/// The factor of a table of models/catalogue/temperature_factors.yaml; 1 if the name is empty or unknown.
double temperature_factor(std::string_view table, Temperature temperature);

/// The known rating in water of that temperature. Zero if it is unknown, or if its factor table ends
/// below that temperature. Colder water never raises a rating.
Pressure rating_at(const Pipe& pipe, Temperature temperature);

}  // namespace runnel::pipes
