#include "runnel/water/water.h"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

namespace runnel::water {

double density_kgm3(double temperature_c) {
  // [tanaka2001], in its factored form: greatest density 999.974950 kg/m3 at 3.983035 C.
  const double from_densest = temperature_c - 3.983035;
  return 999.974950 * (1.0 - from_densest * from_densest * (temperature_c + 301.797) /
                                 (522528.9 * (temperature_c + 69.34881)));
}

double dynamic_viscosity_pas(double temperature_c) {
  // [iapws-sr6-08], a sum of powers of T / 300 K, in micropascal seconds.
  const double ratio = (temperature_c + 273.15) / 300.0;
  return 1e-6 * (280.68 * std::pow(ratio, -1.9) + 511.45 * std::pow(ratio, -7.7) +
                 61.131 * std::pow(ratio, -19.6) + 0.45903 * std::pow(ratio, -40.0));
}

double vapour_pressure_pa(double temperature_c) {
  // [buck1996], over liquid water.
  return 611.21 * std::exp((18.678 - temperature_c / 234.5) * temperature_c / (257.14 + temperature_c));
}

double bulk_modulus_pa(double temperature_c) {
  // Own cubic fit in GPa to [iapws95], isothermal, 0-40 C, 101325 Pa.
  const double t = temperature_c;
  return 1e9 * (1.96531333 + t * (1.47591920e-2 + t * (-2.22207113e-4 + t * 9.44574911e-7)));
}

Water at(Temperature temperature) {
  const double t = temperature.celsius();
  if (!(t >= coldest_c && t <= warmest_c))
    throw std::invalid_argument(
        fmt::format("water properties are known from {} to {} degC, not at {}", coldest_c, warmest_c, t));
  Water water;
  water.temperature_c = t;
  water.density_kgm3 = density_kgm3(t);
  water.kinematic_viscosity_m2s = dynamic_viscosity_pas(t) / water.density_kgm3;
  water.vapour_pressure_pa = vapour_pressure_pa(t);
  water.bulk_modulus_pa = bulk_modulus_pa(t);
  return water;
}

}  // namespace runnel::water
