#include "runnel/losses/friction.h"

#include <cmath>
#include <stdexcept>

#include "runnel/base/constants.h"
#include "runnel/losses/transition.h"

namespace runnel::losses {
namespace {

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(what);
}

// Below this Reynolds number Hazen-Williams leaves its pure law. The pure law has no slope at zero flow,
// which would make the solver's matrix singular; at Re 100 the law is already outside its range by two orders
// of magnitude, and the losses there are too small to matter. [own]
constexpr double hazen_williams_switch_re = 100.0;

}  // namespace

PipeFriction::PipeFriction(const FrictionLaw& law, double bore_m, double roughness_m, double hazen_c,
                           double kinematic_viscosity_m2s)
    : law_(law.law), bore_m_(bore_m), area_m2_(0.25 * pi * bore_m * bore_m) {
  require(bore_m > 0.0, "PipeFriction: the bore must be above zero");
  require(kinematic_viscosity_m2s > 0.0, "PipeFriction: the viscosity must be above zero");
  reynolds_per_flow_ = bore_m / (area_m2_ * kinematic_viscosity_m2s);
  switch (law_) {
    case Law::darcy_weisbach:
      require(roughness_m >= 0.0, "PipeFriction: the roughness must not be negative");
      worse_ = law.worse_transition;
      relative_roughness_ = roughness_m / bore_m;
      factor_ = DarcyFactor(relative_roughness_);
      scale_ = 1.0 / (2.0 * gravity_ms2 * area_m2_ * area_m2_ * bore_m);
      linear_ = scale_ * 64.0 / reynolds_per_flow_;  // 128 nu / (pi g D^4), Hagen-Poiseuille
      switch_flow_ = (worse_ ? churchill_from_re : laminar_end_re) / reynolds_per_flow_;
      return;
    case Law::hazen_williams:
      break;
  }
  require(hazen_c > 0.0 && law.k > 0.0, "PipeFriction: C and k must be above zero");
  require(law.n >= 1.0 && law.n < 3.0, "PipeFriction: the exponent n must be 1 or more and below 3");
  exponent_ = law.n;
  scale_ = law.k / (std::pow(hazen_c, law.n) * std::pow(bore_m, law.m));
  // a Q + b Q^3 with the value and the slope of scale Q^n at the switch; neither coefficient is negative
  // for 1 <= n < 3, so the whole law is odd, C1 and strictly rising.
  switch_flow_ = hazen_williams_switch_re / reynolds_per_flow_;
  linear_ = scale_ * std::pow(switch_flow_, law.n - 1.0) * (3.0 - law.n) / 2.0;
  cubic_ = scale_ * std::pow(switch_flow_, law.n - 3.0) * (law.n - 1.0) / 2.0;
}

LossAndSlope PipeFriction::per_metre(double flow_m3s) const {
  const double size_m3s = std::fabs(flow_m3s);
  switch (law_) {
    case Law::darcy_weisbach: {
      if (size_m3s <= switch_flow_) return {linear_ * flow_m3s, linear_};
      const double reynolds = size_m3s * reynolds_per_flow_;
      const FactorAndSlope f =
          worse_ ? worse_factor(factor_, relative_roughness_, reynolds) : factor_.at(reynolds);
      const double scaled_m3s = scale_ * size_m3s;
      return {f.factor * scaled_m3s * flow_m3s, (2.0 * f.factor + f.re_slope) * scaled_m3s};
    }
    case Law::hazen_williams:
      break;
  }
  if (size_m3s <= switch_flow_) {
    const double cubic = cubic_ * flow_m3s * flow_m3s;
    return {(linear_ + cubic) * flow_m3s, linear_ + 3.0 * cubic};
  }
  const double power = scale_ * std::pow(size_m3s, exponent_ - 1.0);
  return {power * flow_m3s, exponent_ * power};
}

}  // namespace runnel::losses
