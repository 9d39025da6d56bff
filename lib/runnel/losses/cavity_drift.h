#pragma once
// How fast a long cavity of air drifts up a pipe full of still water. A current slower than this cannot carry
// the cavity down, whatever a clearing law says. The plain law, without surface tension, is always the
// faster: judge by it whether the cavity is swept out, and show the other one to say how far that is on the
// safe side (a third too fast in 26 mm).
#include "runnel/water/water.h"

namespace runnel::losses {

/// Weight against surface tension, rho g D^2 / sigma (Bond or Eotvos number).
double bond_number(double bore_m, double density_kgm3, double surface_tension_nm);

/// Froude numbers V / sqrt(g D) of the drift. Without surface tension: level 0.542 [benjamin1968], upright
/// 0.351 [dumitrescu1943], between them 0.542 cos + 0.351 sin [bendiksen1984]. Angle in radians, 0 .. pi/2.
double plain_drift_froude(double angle_rad);

/// Level pipe, 0.54 - 1.76 Bo^-0.56, zero below Bo 8.2 (8 mm in cold water) [weber1981].
double weber_drift_froude(double bond);

/// Upright pipe, 0.345 (1 - exp(-Bo exp(3.278 - 1.424 ln Bo))) [wallis1969], as printed: a fit for Bo of
/// about 10 to 100 that wrongly falls again in larger pipes and does not go to zero in the smallest.
double wallis_drift_froude(double bond);

/// Beyond this Wallis's fit is held at its value here, because it would fall.
inline constexpr double wallis_end_bond = 100.0;

/// In a sealed upright tube a bubble does not rise while rho g r^2 / sigma < 0.842 [bretherton1961]; that is
/// a bore of 5 mm in cold water.
inline constexpr double still_bond = 4.0 * 0.842;

/// Any angle, with surface tension: Weber cos + Wallis sin [bendiksen1984], each within the range where it
/// holds. Never above the plain law.
double drift_froude(double bond, double angle_rad);

/// Slows the drift in the smallest bores and in thick liquids: min(1, 0.316 sqrt(V D / (2 nu))), V the drift
/// without it [bendiksen1984]. In water it acts only where V D is below 3e-5 m2/s.
double viscous_drift_factor(double velocity_ms, double bore_m, double kinematic_viscosity_m2s);

struct CavityDrift {
  double plain_ms = 0.0;     ///< without surface tension: the safe side
  double velocity_ms = 0.0;  ///< with surface tension and viscosity, never greater
  bool held_still = false;   ///< the bore is so small that surface tension holds the cavity where it is
};

/// bore_m > 0, angle_rad the pipe's angle from level, 0 .. pi/2.
CavityDrift cavity_drift(double bore_m, double angle_rad, const water::Water& water);

}  // namespace runnel::losses
