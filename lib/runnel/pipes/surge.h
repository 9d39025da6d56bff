#pragma once
// Pressure waves when the flow in a full pipe is changed.
#include <optional>

#include "runnel/pipes/pipe.h"
#include "runnel/units/quantity.h"

namespace runnel::pipes {

/// How the pipe is held against stretching along its length [pipe-restraint].
enum class Anchoring { expansion_joints, upstream_only, throughout };

/// c1 of the wave speed: 1, 1 - nu/2 or 1 - nu^2 for Poisson's ratio nu.
double restraint_factor(Anchoring anchoring, double poisson_ratio);

/// What carries the wave: the water and the way the pipe is held.
struct SurgeMedium {
  double bulk_modulus_pa = 0.0;
  double density_kgm3 = 0.0;
  double restraint = 1.0;  ///< `restraint_factor`
};

/// a = sqrt(K/rho) / sqrt(1 + c1 (K/E)(D/e)) in a thin wall, D the bore, e the wall [joukowsky-korteweg].
/// Gas in the water, not counted here, slows the wave.
Velocity wave_speed(Length bore, Length wall, double modulus_pa, const SurgeMedium& medium);
/// None if the pipe's wall or modulus is not known.
std::optional<Velocity> wave_speed(const Pipe& pipe, const SurgeMedium& medium);

/// Head a dV / g of a change of velocity that is over before the wave comes back [joukowsky-korteweg].
Length joukowsky_head(Velocity wave, Velocity change);
/// The same as pressure, rho a dV.
Pressure joukowsky_pressure(Velocity wave, Velocity change, double density_kgm3);

/// 2 L / a: until then the far end knows nothing of the valve.
Duration return_time(Length length, Velocity wave);

/// Head of a change that is spread evenly over `closing`: Joukowsky's up to 2 L / a, then 2 L dV / (g T),
/// which is exact for a frictionless line whose velocity at the valve falls in a straight line.
Length closure_head(Velocity wave, Length length, Velocity change, Duration closing);

}  // namespace runnel::pipes
