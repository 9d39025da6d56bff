#pragma once
// The laws of the independent checker, written a second time from the formulas, in long double. Nothing here
// calls, or is called by, the solver.
#include "runnel/losses/friction.h"

namespace runnel::proof {

using LongReal = long double;

/// What friction needs to know of a pipe.
struct PlainPipe {
  LongReal bore_m = 0, roughness_m = 0, hazen_c = 0;

  LongReal area_m2() const;
  /// 1 / (2 g A^2) [s2/m5], which times Q^2 is the velocity head.
  LongReal velocity_head_s2m5() const;
};

/// Friction per metre [m/m] at a flow >= 0 [m3/s]. Darcy-Weisbach: 64/Re up to Re 2000, Colebrook-White from
/// 4000 [colebrook1939], the cubic Hermite of f between. Hazen-Williams: the power law, below Re 100 the odd
/// cubic with its value and slope there. Under `worse_transition` f is the greater of that and
/// [churchill1977]. Only the constants of `law` are read.
LongReal plain_friction(const losses::FrictionLaw& law, const PlainPipe& pipe, LongReal viscosity_m2s,
                        LongReal flow_m3s);

/// K of a sudden change of bore on the smaller bore: expansion [borda-carnot], contraction [crane-tp410].
LongReal plain_change_k(LongReal from_bore_m, LongReal to_bore_m);

}  // namespace runnel::proof
