#include "runnel/water/surface_tension.h"

#include <cmath>

namespace runnel::water {

double surface_tension_nm(double temperature_c) {
  // [iapws-r1-76], in the distance from the critical point, 647.096 K.
  const double below = 1.0 - (temperature_c + 273.15) / 647.096;
  return 0.2358 * std::pow(below, 1.256) * (1.0 - 0.625 * below);
}

}  // namespace runnel::water
