#pragma once
// Friction of a full pipe. Sign convention: flow positive from the start of the pipe to its end, loss
// of the same sign. Every law here is odd, C1 and strictly increasing in flow, with a finite positive
// slope at zero flow: the steady solver's proof of uniqueness rests on that.
#include "runnel/losses/friction_factor.h"

namespace runnel::losses {

enum class Law { darcy_weisbach, hazen_williams };

/// The law a model asks for, with the constants every report prints.
struct FrictionLaw {
  Law law = Law::darcy_weisbach;
  double k = 10.67;  ///< Hazen-Williams h = k L Q^n / (C^n D^m), SI
  double n = 1.852;
  double m = 4.8704;
  /// Darcy-Weisbach: the greater of the join and Churchill's formula, for the bad end of what is not known
  /// (losses/transition.h).
  bool worse_transition = false;
};

/// A loss and its derivative with respect to flow, from one evaluation.
struct LossAndSlope {
  double head_m = 0.0;     ///< [m], or [m/m] for a loss per metre
  double slope_sm2 = 0.0;  ///< d head / d flow [s/m2], or [s/m3]
};

/// One pipe under one law, ready for the kernel, with all constants computed beforehand.
class PipeFriction {
 public:
  /// bore_m > 0; roughness_m >= 0 (Darcy-Weisbach); hazen_c > 0 (Hazen-Williams);
  /// kinematic_viscosity_m2s > 0 for both: Hazen-Williams needs it near zero flow only.
  /// Throws std::invalid_argument outside that, and for a Hazen-Williams n outside 1 <= n < 3.
  PipeFriction(const FrictionLaw& law, double bore_m, double roughness_m, double hazen_c,
               double kinematic_viscosity_m2s);

  /// Loss per metre of pipe at a flow [m/m], with its slope [s/m3]. Darcy-Weisbach: friction_factor.h.
  /// Hazen-Williams: the pure power law k Q^n / (C^n D^m) down to Re 100 of this pipe, below it the odd
  /// cubic a Q + b Q^3 that joins its value and slope (the pure law has no slope at zero flow). [own]
  LossAndSlope per_metre(double flow_m3s) const;

  double bore_m() const { return bore_m_; }
  double area_m2() const { return area_m2_; }
  Law law() const { return law_; }
  /// Whether the worse of two laws counts in the transition.
  bool worse_transition() const { return worse_; }

 private:
  friend class FrictionBatch;  // many at once, from the same constants
  Law law_;
  double bore_m_, area_m2_;
  DarcyFactor factor_;              ///< Darcy-Weisbach only
  double reynolds_per_flow_ = 0.0;  ///< Re = this * Q
  double scale_ = 0.0;              ///< Darcy: loss = scale * f * Q^2; Hazen-Williams: scale * Q^n
  double exponent_ = 0.0;           ///< Hazen-Williams only
  bool worse_ = false;              ///< FrictionLaw::worse_transition
  double relative_roughness_ = 0.0;
  double switch_flow_ = 0.0;        ///< up to here: linear * Q + cubic * Q^3
  double linear_ = 0.0, cubic_ = 0.0;
};

}  // namespace runnel::losses
