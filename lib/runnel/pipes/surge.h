#pragma once
// Pressure waves when the flow in a full pipe changes.
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
/// None if the pipe's wall or modulus is unknown.
std::optional<Velocity> wave_speed(const Pipe& pipe, const SurgeMedium& medium);

/// The same pipe held in two ways, since a model seldom says which: lying free (or with expansion joints),
/// and buried, which holds it throughout. The buried wave is the faster, and the worse.
struct WaveSpeeds {
  Velocity free, buried;
};
/// From the pipe's own modulus and the Poisson's ratio of its material; if the pipe states no modulus, from
/// the stiffer end of what is known of the material (wall_stiffness.h). None if wall or material is unknown.
std::optional<WaveSpeeds> wave_speeds(const Pipe& pipe, double bulk_modulus_pa, double density_kgm3);

/// Head a dV / g of a change of velocity that ends before the wave returns [joukowsky-korteweg].
Length joukowsky_head(Velocity wave, Velocity change);
/// The same as pressure, rho a dV.
Pressure joukowsky_pressure(Velocity wave, Velocity change, double density_kgm3);

/// 2 L / a: until then no echo from the far end has reached the valve.
Duration return_time(Length length, Velocity wave);

/// Head of a change that is spread evenly over `closing`: Joukowsky's up to 2 L / a, then 2 L dV / (g T),
/// which is exact for a frictionless line whose velocity at the valve falls linearly.
Length closure_head(Velocity wave, Length length, Velocity change, Duration closing);
/// How long a valve must take to close so that the rise stays within `head`: the inverse of `closure_head`,
/// zero if even a sudden stop stays within it. head > 0.
Duration closing_time(Velocity wave, Length length, Velocity change, Length head);

/// Change of flow in a pipe for each metre of head of a wave, g A / a [m2/s].
double wave_admittance(Length bore, Velocity wave);
/// Share of a head wave that is transmitted where a pipe meets others, 2 Y / (Y + sum of the others): 1 into
/// an equal pipe, near 2 into much narrower ones or a dead end, 0 into a free surface. Universal textbook
/// matter, from memory [joukowsky-korteweg].
double transmitted_share(double admittance, double sum_of_others);

}  // namespace runnel::pipes
