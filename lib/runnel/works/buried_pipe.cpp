#include "runnel/works/buried_pipe.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"

namespace runnel::works {

namespace {

double area_m2(Length diameter) { return 0.25 * pi * diameter.metres() * diameter.metres(); }

}  // namespace

Length frost_depth(double frost_degree_days, const FrozenGround& ground) {
  const double heat_jm3 = freezing_heat_jkg * ground.water_share * ground.dry_density_kgm3;
  const double frost_ks = Duration::days(std::max(0.0, frost_degree_days)).seconds();
  return Length::metres(std::sqrt(2.0 * ground.conductivity_wmk * frost_ks / heat_jm3));
}

Length least_cover(Length frost_line) { return std::max(frost_line + Length::inches(6), Length::inches(12)); }

LengthRange expansion(Length length, double kelvin, const ExpansionRange& material) {
  return {length * (material.low_per_k * kelvin), length * (material.high_per_k * kelvin)};
}

double bend_thrust_n(Pressure pressure, Length outside_diameter, double angle_degrees) {
  return 2.0 * end_thrust_n(pressure, outside_diameter) * std::sin(angle_degrees * pi / 360.0);
}

double end_thrust_n(Pressure pressure, Length outside_diameter) {
  return pressure.pascals() * area_m2(outside_diameter);
}

double thrust_block_m2(double thrust_n, Pressure bearing, double safety_factor) {
  return thrust_n * safety_factor / bearing.pascals();
}

double net_lift_kgm(Length outside_diameter, double pipe_kgm, double water_kgm3) {
  return area_m2(outside_diameter) * water_kgm3 - pipe_kgm;
}

Length cover_against_lift(Length outside_diameter, double pipe_kgm, double water_kgm3,
                          double submerged_soil_kgm3, double safety_factor) {
  const double missing_kgm = safety_factor * area_m2(outside_diameter) * water_kgm3 - pipe_kgm;
  return Length::metres(std::max(0.0, missing_kgm / (submerged_soil_kgm3 * outside_diameter.metres())));
}

}  // namespace runnel::works
