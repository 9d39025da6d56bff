#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "runnel/water/water.h"

namespace runnel::water {

double air_pressure_pa(Length altitude) {
  const double height_m = altitude.metres();
  if (!(height_m >= lowest_m && height_m <= highest_m))
    throw std::invalid_argument(fmt::format("air pressure is known from {} to {} m altitude, not at {}",
                                            lowest_m, highest_m, height_m));
  // Sea level 101325 Pa and 288.15 K, 6.5 K colder per kilometre; the exponent is g M / (R L)
  // [us-standard-atmosphere-1976].
  return 101325.0 * std::pow(1.0 - 0.0065 * height_m / 288.15, 5.255876113);
}

}  // namespace runnel::water
