#include "runnel/pipes/rating.h"

#include "runnel/base/constants.h"
#include "runnel/pipes/factors.h"

namespace runnel::pipes {

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

Pressure rating_at(const Pipe& pipe, Temperature temperature) {
  return pipe.rating * temperature_factor(pipe.temperature_factors, temperature);
}

}  // namespace runnel::pipes
