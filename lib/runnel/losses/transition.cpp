#include "runnel/losses/transition.h"

#include <cmath>
#include <stdexcept>

#include "runnel/base/constants.h"

namespace runnel::losses {

namespace {

double to_the_4th(double x) {
  const double square = x * x;
  return square * square;
}

double to_the_16th(double x) { return to_the_4th(to_the_4th(x)); }

}  // namespace

FactorAndSlope churchill_factor(double reynolds, double relative_roughness) {
  // Every *_slope here is Re d/dRe. Whole powers are multiplied out, which is several times quicker.
  const double eighth = to_the_4th(8.0 / reynolds), laminar = eighth * eighth * eighth;
  const double smooth = std::pow(7.0 / reynolds, 0.9), sum = smooth + 0.27 * relative_roughness;
  const double root = 2.457 * std::log(sum), root_slope = -2.457 * 0.9 * smooth / sum;
  const double a = to_the_16th(root), a_slope = 16.0 * a / root * root_slope;
  const double b = to_the_16th(37530.0 / reynolds);
  const double turbulent = 1.0 / ((a + b) * std::sqrt(a + b));
  const double turbulent_slope = -1.5 * turbulent * (a_slope - 16.0 * b) / (a + b);
  const double factor = 8.0 * std::pow(laminar + turbulent, 1.0 / 12.0);
  return {factor, factor / 12.0 * (turbulent_slope - 12.0 * laminar) / (laminar + turbulent)};
}

double churchill(double reynolds, double relative_roughness) {
  return churchill_factor(reynolds, relative_roughness).factor;
}

FactorAndSlope worse_factor(const DarcyFactor& join, double relative_roughness, double reynolds) {
  const FactorAndSlope ours = join.at(reynolds), other = churchill_factor(reynolds, relative_roughness);
  return ours.factor >= other.factor ? ours : other;
}

double worse_excess(double reynolds, double relative_roughness) {
  const DarcyFactor join(relative_roughness);
  return worse_factor(join, relative_roughness, reynolds).factor / join.at(reynolds).factor - 1.0;
}

WorseFriction::WorseFriction(double bore_m, double roughness_m, double kinematic_viscosity_m2s)
    : join_(roughness_m / bore_m), relative_roughness_(roughness_m / bore_m) {
  if (!(bore_m > 0.0 && kinematic_viscosity_m2s > 0.0))
    throw std::invalid_argument("WorseFriction: bore and viscosity must be above zero");
  if (!(roughness_m >= 0.0 && roughness_m <= 0.2 * bore_m))
    throw std::invalid_argument(
        "WorseFriction: the roughness must lie between nothing and a fifth of the bore");
  const double area_m2 = 0.25 * pi * bore_m * bore_m;
  reynolds_per_flow_ = bore_m / (area_m2 * kinematic_viscosity_m2s);
  scale_ = 1.0 / (2.0 * gravity_ms2 * area_m2 * area_m2 * bore_m);
}

LossAndSlope WorseFriction::per_metre(double flow_m3s) const {
  const double size_m3s = std::fabs(flow_m3s), reynolds = size_m3s * reynolds_per_flow_;
  if (reynolds <= churchill_from_re) {
    const double linear = scale_ * 64.0 / reynolds_per_flow_;  // 128 nu / (pi g D^4), Hagen-Poiseuille
    return {linear * flow_m3s, linear};
  }
  const FactorAndSlope f = worse_factor(join_, relative_roughness_, reynolds);
  const double scaled_m3s = scale_ * size_m3s;
  return {f.factor * scaled_m3s * flow_m3s, (2.0 * f.factor + f.re_slope) * scaled_m3s};
}

}  // namespace runnel::losses
