#include "runnel/pipes/rating.h"

#include "runnel/base/constants.h"
#include "runnel/pipes/factors.h"

namespace runnel::pipes {
namespace {

// A quarter of the tensile strength of 48 000 psi, times 0.6 for a butt-welded seam [asme-b31-1; from
// memory].
constexpr Pressure allowed_in_steel = Pressure::psi(48000.0 / 4.0 * 0.6);
// A wall may be an eighth thinner than nominal, and y = 0.4 for cold steel [asme-b31-1; from memory].
constexpr double least_share_of_wall = 0.875, cold_steel_y = 0.4;

/// Depth of a cut thread, 0.8 of its pitch; threads by the outside diameter of the pipe
/// [asme-b1-20-1; from memory].
Length thread_depth(Length outside) {
  const double threads_in_an_inch = outside < Length::inches(1.2)   ? 14.0
                                    : outside < Length::inches(2.6) ? 11.5
                                                                    : 8.0;
  return Length::inches(0.8 / threads_in_an_inch);
}

}  // namespace

Pressure rating_by_wall(Pressure design_stress, Length outside, Length wall) {
  if (!(wall > Length{}) || !(2.0 * wall < outside)) return {};
  return design_stress * (2.0 * (wall / (outside - wall)));
}

Pressure rating_by_outside_ratio(Pressure design_stress, double ratio) {
  return ratio > 1.0 ? design_stress * (2.0 / (ratio - 1.0)) : Pressure{};
}

Pressure rating_by_inside_ratio(Pressure design_stress, double ratio) {
  return ratio > 0.0 ? design_stress * (2.0 / (ratio + 1.0)) : Pressure{};
}

Pressure nominal_pressure(Pressure required_strength, double design_coefficient, double ratio) {
  return rating_by_outside_ratio(required_strength / design_coefficient, ratio);
}

Length head_without_surge(Pressure rating, double water_kgm3) {
  return Length::metres(share_without_surge * rating.pascals() / (water_kgm3 * gravity_ms2));
}

double temperature_factor(std::string_view table, Temperature temperature) {
  const FactorTable* factors = table.empty() ? nullptr : factor_table(table);
  return factors == nullptr ? 1.0 : factors->at(temperature.celsius());
}

Pressure steel_rating(Length outside, Length wall) {
  const Length sound = wall * least_share_of_wall - thread_depth(outside);
  if (!(sound > Length{}) || !(2.0 * wall < outside)) return {};
  return allowed_in_steel * (2.0 * (sound / (outside - 2.0 * cold_steel_y * sound)));
}

Pressure known_rating(const Pipe& pipe) {
  const bool steel = pipe.material == "steel" || pipe.material == "galvanized steel";
  if (pipe.rating > Pressure{} || !steel) return pipe.rating;
  return steel_rating(pipe.outside > Length{} ? pipe.outside : pipe.bore + 2.0 * pipe.wall, pipe.wall);
}

Pressure rating_at(const Pipe& pipe, Temperature temperature) {
  return known_rating(pipe) * temperature_factor(pipe.temperature_factors, temperature);
}

}  // namespace runnel::pipes
