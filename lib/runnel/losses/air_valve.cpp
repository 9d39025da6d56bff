#include "runnel/losses/air_valve.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"

namespace runnel::losses {
namespace {

constexpr double gamma_air = 1.4;             // ratio of specific heats [isentropic-flow]
constexpr double gas_constant_jkgk = 287.05;  // of dry air [isentropic-flow]

double bore_for(double water_flow_m3s, double flow_of_one_metre_m3s) {
  return std::sqrt(std::max(water_flow_m3s, 0.0) / flow_of_one_metre_m3s);  // flow goes with the area
}

}  // namespace

double free_air_flow_m3s(double bore_m, double from_pa, double to_pa, const SiteAir& air, double cd) {
  if (!(from_pa > to_pa)) return 0.0;
  constexpr double g = gamma_air;
  const double sonic = std::pow(2.0 / (g + 1.0), g / (g - 1.0));
  const double ratio = std::max(to_pa / from_pa, sonic);
  const double spread = std::pow(ratio, 2.0 / g) - std::pow(ratio, (g + 1.0) / g);
  const double kelvin = air.temperature_c + 273.15;
  const double velocity_ms = std::sqrt(2.0 * gas_constant_jkgk * kelvin * g / (g - 1.0) * spread);
  return cd * 0.25 * pi * bore_m * bore_m * velocity_ms * from_pa / air.pressure_pa;
}

double air_out_m3s(double bore_m, double gauge_pa, const SiteAir& air, double cd) {
  return free_air_flow_m3s(bore_m, air.pressure_pa + gauge_pa, air.pressure_pa, air, cd);
}

double air_in_m3s(double bore_m, double suction_pa, const SiteAir& air, double cd) {
  const double inside_pa = std::max(air.pressure_pa - suction_pa, 0.0);
  return free_air_flow_m3s(bore_m, air.pressure_pa, inside_pa, air, cd);
}

double filling_vent_bore_m(double water_flow_m3s, const SiteAir& air, double cd) {
  return bore_for(water_flow_m3s, air_out_m3s(1.0, most_filling_pressure_pa, air, cd));
}

double draining_vent_bore_m(double water_flow_m3s, const SiteAir& air, double cd) {
  return bore_for(water_flow_m3s, air_in_m3s(1.0, most_draining_suction_pa, air, cd));
}

double draining_flow_m3s(double bore_m, double slope, double chezy_c) {
  // C is in foot^(1/2) per second.
  constexpr double root_foot = 0.55208694967369;
  return 0.25 * pi * bore_m * bore_m * chezy_c * root_foot * std::sqrt(0.25 * bore_m * slope);
}

}  // namespace runnel::losses
