#pragma once
// Between laminar and turbulent flow no law is certain: the flow there comes in puffs. The join that answers
// use (friction_factor.h) lies up to a quarter below Churchill's formula, which runs through all regimes. At
// the bad end of what is not known, the greater of the two is taken.
#include "runnel/losses/friction.h"

namespace runnel::losses {

/// Up to here the join and Churchill's formula agree to rounding, and his powers overflow near zero flow.
inline constexpr double churchill_from_re = 100.0;

/// Churchill's formula, f = 8 [ (8/Re)^12 + (A + B)^-1.5 ]^(1/12) with
/// A = [ -2.457 ln( (7/Re)^0.9 + 0.27 rel ) ]^16, B = (37530/Re)^16 [churchill1977]. Smooth; f Re^2, to which
/// a loss is proportional, rises strictly. Re > 0, 0 <= relative_roughness <= 0.2.
FactorAndSlope churchill_factor(double reynolds, double relative_roughness);

/// The greater of the join and Churchill's, at every Re > 0: the rule ends at no Re, because there the loss
/// would drop as the flow rises. Away from the transition the two differ by 4 % at most.
FactorAndSlope worse_factor(const DarcyFactor& join, double relative_roughness, double reynolds);

/// The loss at worst beyond that of the join, as a share: worse / join - 1.
double worse_excess(double reynolds, double relative_roughness);

/// Loss of a full pipe per metre by the worse factor: odd and strictly rising in the flow, with a positive
/// slope at zero flow; the slope jumps where the two laws cross, and that of the governing law is given.
class WorseFriction {
 public:
  /// bore_m > 0, 0 <= roughness_m <= 0.2 bore_m, kinematic_viscosity_m2s > 0; std::invalid_argument outside.
  WorseFriction(double bore_m, double roughness_m, double kinematic_viscosity_m2s);

  LossAndSlope per_metre(double flow_m3s) const;

 private:
  DarcyFactor join_;
  double relative_roughness_;
  double reynolds_per_flow_, scale_;  ///< Re = this * Q; loss = scale f Q^2
};

}  // namespace runnel::losses
