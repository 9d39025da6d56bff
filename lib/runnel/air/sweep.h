#pragma once
// Is the current fast enough to carry an air pocket down a descending reach?
//
// Each published law gives the least mean velocity V in a full pipe as F = V / sqrt(g D), with the downward
// angle theta below horizontal (the ANGLE: theta = atan(slope), not the slope itself). They differ by a
// factor near 1.6 at 50 mm and 10 degrees, and none is preferred here: the spread is the answer.
#include <optional>
#include <string_view>
#include <vector>

#include "runnel/base/constants.h"

namespace runnel::air {

enum class ClearingLaw { kalinske_bliss, kent, wisner, walski, escarameia };

/// What is known about a law.
struct LawCard {
  ClearingLaw law;
  std::string_view name;  ///< "Wisner 1975"
  std::string_view formula;
  std::string_view range;      ///< where it was measured, as far as known
  std::string_view certainty;  ///< "found in a secondary source", "from memory"
  std::string_view reference;  ///< [key] of references.h
};
const std::vector<LawCard>& clearing_laws();
const LawCard& card(ClearingLaw law);

/// The constant of Escarameia's law by the pocket size n = 4 V / (pi D^3): 0.45, 0.50 from n = 0.06, 0.57
/// from n = 0.12 and 0.61 from n = 0.3, also at n = 2 and beyond [escarameia2007].
double escarameia_constant(double pocket_size);

/// The two settings of Escarameia's law; the others have none. A pocket left from start-up is long (n far
/// over 0.3), and the factor is the one of the design rule [escarameia2007].
struct ClearingOptions {
  double escarameia_constant = 0.61;
  double escarameia_safety = 1.1;
  double gravity_ms2 = runnel::gravity_ms2;
};

/// F of a law; angle in radians, 0 to pi/2 below horizontal.
double clearing_froude(ClearingLaw law, double down_angle_rad, const ClearingOptions& options = {});
/// sqrt(g D) F [m/s].
double clearing_velocity_ms(ClearingLaw law, double bore_m, double down_angle_rad,
                            const ClearingOptions& options = {});

/// No clearing law but given for comparison: the drift of a long bubble in still water, in terms of F; 0.542
/// horizontal [benjamin1968], 0.351 vertical [dumitrescu1943], and in between [bendiksen1984].
double bubble_drift_froude(double angle_rad);

/// Below this bore a result is for screening only: most laws come from pipes of 100 mm and more, and none has
/// surface tension, which holds air back in small pipes (common knowledge of the trade, no source).
inline constexpr double screening_bore_m = 0.100;

struct LawVelocity {
  ClearingLaw law;
  double velocity_ms;
  bool in_range;  ///< false: outside the slopes the law is for; not counted in the spread
};

enum class Swept { by_all, by_some, by_none };

struct SweepResult {
  std::vector<LawVelocity> laws;
  double least_ms = 0.0, most_ms = 0.0;  ///< over the laws in range
  Swept swept = Swept::by_none;          ///< by the velocity given
  bool screening = false;
};

/// All laws applied to a reach. `down_angle_rad` in [0, pi/2]; velocity >= 0, mean over the full bore.
SweepResult sweep(double bore_m, double down_angle_rad, double velocity_ms,
                  const ClearingOptions& options = {});

/// Downward angle of a reach from its fall and plan length [rad]; negative where it rises.
double down_angle_rad(double fall_m, double plan_m);

/// The largest bore that a flow sweeps by one law: V falls with D^2 and the law rises with sqrt(D), so
///   D = (4 Q / (pi F sqrt(g)))^(2/5)
/// exactly. None if the law gives no velocity (F = 0) or the flow is not positive.
std::optional<double> bore_that_sweeps_m(ClearingLaw law, double flow_m3s, double down_angle_rad,
                                         const ClearingOptions& options = {});

}  // namespace runnel::air
