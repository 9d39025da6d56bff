#pragma once
// An upright overflow standpipe: its rim is a round weir under little water and an orifice under more, and
// under much its drain may be the limit. The flow is the least of the three.
#include <optional>

#include "runnel/losses/opening.h"

namespace runnel::losses {

/// The drain below the standpipe running full.
struct DrainPipe {
  double bore_m = 0.0;
  double loss = 0.0;    ///< all K and friction together, including the velocity head at its end
  double drop_m = 0.0;  ///< from the rim down to the drain's free outlet (or the water it ends in)
};

struct Standpipe {
  double bore_m = 0.0;   ///< of the rim
  double weir_cd = 0.6;  ///< 0.6 for both: [nrcs-permit]
  double orifice_cd = 0.6;
  std::optional<DrainPipe> drain;
};

enum class StandpipeLimit { dry, weir, orifice, drain };

struct StandpipeFlow {
  FlowAndSlope flow;
  StandpipeLimit limit = StandpipeLimit::dry;
};

/// Flow into a standpipe with head_m of water over its rim:
///   weir     (2/3) Cd sqrt(2g) pi D h^1.5
///   orifice  Cd (pi D^2/4) sqrt(2 g h)
///   drain    a sqrt(2 g (h + drop) / loss)
/// With equal Cd the first two cross at h = 3D/8. Continuous in h; the slope jumps at a crossing, where that
/// of the governing law is given. Source: [nrcs-permit]; weir coefficients in print are 3.0 to 3.33 US, or Cd
/// 0.56 to 0.62.
StandpipeFlow standpipe_flow(const Standpipe& standpipe, double head_m);

/// Cd of a weir whose flow is C L h^1.5 in feet and seconds, as US books print it (3.1, 3.33).
double weir_cd_from_us(double coefficient);

/// Friction of a full pipe as K per metre of its length by Manning, 2 g n^2 / R^(4/3), on its own
/// velocity. Source: [nrcs-permit], there as 5087 n^2 / d^(4/3) per foot, d in inches.
double manning_loss_per_metre(double bore_m, double manning_n);

}  // namespace runnel::losses
