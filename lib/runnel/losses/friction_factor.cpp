#include "runnel/losses/friction_factor.h"

namespace runnel::losses {

DarcyFactor::DarcyFactor(double relative_roughness) : relative_roughness_(relative_roughness) {
  const FactorAndSlope end = colebrook(turbulent_start_re, relative_roughness);
  const double end_slope = end.slope(turbulent_start_re) * (turbulent_start_re - laminar_end_re);
  quadratic_ = 3.0 * (end.factor - laminar_end_factor) - 2.0 * laminar_end_slope - end_slope;
  cubic_ = 2.0 * (laminar_end_factor - end.factor) + laminar_end_slope + end_slope;
}

FactorAndSlope darcy_factor(double reynolds, double relative_roughness) {
  return DarcyFactor(relative_roughness).at(reynolds);
}

}  // namespace runnel::losses
