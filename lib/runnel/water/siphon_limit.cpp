#include "runnel/water/siphon_limit.h"

#include <algorithm>

#include "runnel/base/constants.h"
#include "runnel/water/water.h"

namespace runnel::water {

Length most_suction(double air_pressure_pa, double density_kgm3, double absolute_head_m) {
  const double held_up_m = air_pressure_pa / (density_kgm3 * gravity_ms2);
  return Length::metres(std::max(held_up_m - absolute_head_m, 0.0));
}

Length most_suction_at(Length altitude, double density_kgm3, double absolute_head_m) {
  return most_suction(air_pressure_pa(altitude), density_kgm3, absolute_head_m);
}

}  // namespace runnel::water
