#include "runnel/losses/cavity_drift.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/water/surface_tension.h"

namespace runnel::losses {

double bond_number(double bore_m, double density_kgm3, double surface_tension_nm) {
  return density_kgm3 * gravity_ms2 * bore_m * bore_m / surface_tension_nm;
}

double plain_drift_froude(double angle_rad) {
  return 0.542 * std::cos(angle_rad) + 0.351 * std::sin(angle_rad);
}

double weber_drift_froude(double bond) {
  return bond > 0.0 ? std::max(0.0, 0.54 - 1.76 * std::pow(bond, -0.56)) : 0.0;
}

double wallis_drift_froude(double bond) {
  return bond > 0.0 ? -0.345 * std::expm1(-bond * std::exp(3.278 - 1.424 * std::log(bond))) : 0.0;
}

double drift_froude(double bond, double angle_rad) {
  if (!(bond > still_bond)) return 0.0;
  const double upright = wallis_drift_froude(std::min(bond, wallis_end_bond));
  const double froude = weber_drift_froude(bond) * std::cos(angle_rad) + upright * std::sin(angle_rad);
  return std::min(froude, plain_drift_froude(angle_rad));
}

double viscous_drift_factor(double velocity_ms, double bore_m, double kinematic_viscosity_m2s) {
  const double reynolds = velocity_ms * bore_m / (2.0 * kinematic_viscosity_m2s);
  return std::min(1.0, 0.316 * std::sqrt(reynolds));
}

CavityDrift cavity_drift(double bore_m, double angle_rad, const water::Water& water) {
  const double scale_ms = std::sqrt(gravity_ms2 * bore_m);
  const double bond = bond_number(bore_m, water.density_kgm3, water::surface_tension_nm(water.temperature_c));
  const double lively_ms = scale_ms * drift_froude(bond, angle_rad);
  CavityDrift drift;
  drift.plain_ms = scale_ms * plain_drift_froude(angle_rad);
  drift.velocity_ms = lively_ms * viscous_drift_factor(lively_ms, bore_m, water.kinematic_viscosity_m2s);
  drift.held_still = drift.velocity_ms == 0.0;
  return drift;
}

}  // namespace runnel::losses
