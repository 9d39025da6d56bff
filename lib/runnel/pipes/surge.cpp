#include "runnel/pipes/surge.h"

#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/pipes/wall_stiffness.h"

namespace runnel::pipes {

double restraint_factor(Anchoring anchoring, double poisson_ratio) {
  switch (anchoring) {
    case Anchoring::upstream_only:
      return 1.0 - 0.5 * poisson_ratio;
    case Anchoring::throughout:
      return 1.0 - poisson_ratio * poisson_ratio;
    case Anchoring::expansion_joints:
      break;
  }
  return 1.0;
}

Velocity wave_speed(Length bore, Length wall, double modulus_pa, const SurgeMedium& medium) {
  const double rigid_ms = std::sqrt(medium.bulk_modulus_pa / medium.density_kgm3);
  const double yielding = medium.restraint * (medium.bulk_modulus_pa / modulus_pa) * (bore / wall);
  return Velocity::metres_per_second(rigid_ms / std::sqrt(1.0 + yielding));
}

std::optional<Velocity> wave_speed(const Pipe& pipe, const SurgeMedium& medium) {
  if (!(pipe.wall > Length{}) || !(pipe.modulus_pa > 0.0)) return std::nullopt;
  return wave_speed(pipe.bore, pipe.wall, pipe.modulus_pa, medium);
}

std::optional<WaveSpeeds> wave_speeds(const Pipe& pipe, double bulk_modulus_pa, double density_kgm3) {
  const WallStiffness* known = wall_stiffness(pipe.material);
  if (!known || !(pipe.wall > Length{})) return std::nullopt;
  const double modulus_pa = pipe.modulus_pa > 0.0 ? pipe.modulus_pa : known->stiffest_pa;
  SurgeMedium medium{bulk_modulus_pa, density_kgm3, 1.0};
  WaveSpeeds speeds;
  speeds.free = wave_speed(pipe.bore, pipe.wall, modulus_pa, medium);
  medium.restraint = restraint_factor(Anchoring::throughout, known->poisson_ratio);
  speeds.buried = wave_speed(pipe.bore, pipe.wall, modulus_pa, medium);
  return speeds;
}

Length joukowsky_head(Velocity wave, Velocity change) {
  return Length::metres(wave.metres_per_second() * change.metres_per_second() / gravity_ms2);
}

Pressure joukowsky_pressure(Velocity wave, Velocity change, double density_kgm3) {
  return Pressure::pascals(density_kgm3 * wave.metres_per_second() * change.metres_per_second());
}

Duration return_time(Length length, Velocity wave) {
  return Duration::seconds(2.0 * length.metres() / wave.metres_per_second());
}

Length closure_head(Velocity wave, Length length, Velocity change, Duration closing) {
  const Duration period = return_time(length, wave);
  const Length sudden = joukowsky_head(wave, change);
  return closing <= period ? sudden : sudden * (period / closing);
}

Duration closing_time(Velocity wave, Length length, Velocity change, Length head) {
  const Length sudden = joukowsky_head(wave, change);
  if (sudden <= head) return Duration{};
  return return_time(length, wave) * (sudden / head);
}

double wave_admittance(Length bore, Velocity wave) {
  return gravity_ms2 * 0.25 * pi * bore.metres() * bore.metres() / wave.metres_per_second();
}

double transmitted_share(double admittance, double sum_of_others) {
  return 2.0 * admittance / (admittance + sum_of_others);
}

}  // namespace runnel::pipes
