#include "runnel/losses/part_full.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/base/roots.h"

namespace runnel::losses {
namespace {

/// x - sin x without cancellation near zero, x in 0 .. 2 pi.
double less_sine(double x) {
  if (x > 0.5) return x - std::sin(x);
  const double q = x * x;
  return x * q / 6.0 * (1.0 - q / 20.0 * (1.0 - q / 42.0 * (1.0 - q / 72.0 * (1.0 - q / 110.0))));
}

/// The velocity at which the law's loss per metre equals the slope, in a pipe of bore 4R.
double velocity_by_law(const PipeFriction& pipe, double slope) {
  // The loss is convex from the laminar side and rises at least linearly: doubling finds the bracket.
  double high = slope / pipe.per_metre(0.0).slope_sm2;
  while (pipe.per_metre(high).head_m < slope) high *= 2.0;
  const double flow = bracketed_root([&](double q) { return pipe.per_metre(q).head_m - slope; }, 0.0, high);
  return flow / pipe.area_m2();
}

/// Flow at a depth, from the velocity by hydraulic radius.
template <class Velocity>
double flow_at(double bore_m, double depth_m, const Velocity& velocity) {
  if (depth_m <= 0.0) return 0.0;
  const Segment wet = wetted_segment(bore_m, depth_m);
  return wet.area_m2 * velocity(wet.hydraulic_radius_m);
}

/// Depth of the highest part-full flow: golden section on the top fifth, where the flow has one hump.
template <class Velocity>
double fullest_depth(double bore_m, const Velocity& velocity) {
  constexpr double golden = 0.6180339887498949;
  double low = 0.8 * bore_m, high = bore_m;
  while (high - low > 1e-8 * bore_m) {
    const double a = high - golden * (high - low), b = low + golden * (high - low);
    if (flow_at(bore_m, a, velocity) < flow_at(bore_m, b, velocity))
      low = a;
    else
      high = b;
  }
  return 0.5 * (low + high);
}

template <class Velocity>
std::optional<PartFull> normal_flow_with(double bore_m, double flow_m3s, const Velocity& velocity) {
  if (flow_m3s == 0.0) return PartFull{};
  PartFull result;
  result.near_full = flow_m3s > flow_at(bore_m, bore_m, velocity);
  // Up to 0.85 of the bore the flow rises with depth under every law; the hump is looked for only if needed.
  double top = 0.85 * bore_m;
  if (flow_m3s > flow_at(bore_m, top, velocity)) top = fullest_depth(bore_m, velocity);
  if (flow_m3s > flow_at(bore_m, top, velocity)) return std::nullopt;
  result.depth_m =
      bracketed_root([&](double depth) { return flow_at(bore_m, depth, velocity) - flow_m3s; }, 0.0, top);
  const Segment wet = wetted_segment(bore_m, result.depth_m);
  result.velocity_ms = flow_m3s / wet.area_m2;
  result.froude = result.velocity_ms / std::sqrt(gravity_ms2 * wet.area_m2 / wet.top_width_m);
  result.critical_depth_m = critical_depth(bore_m, flow_m3s);
  return result;
}

/// Critical depth from the wetted angle a, A^3/T = Q^2/g, by Newton on the logarithm of both: a straight line
/// for a shallow stream, so that a few steps settle it. Nothing towards the crown, where it turns upright.
std::optional<double> critical_depth_by_newton(double bore_m, double flow_m3s) {
  constexpr double highest_rad = 4.7;  // 0.85 of the bore
  const double target = std::log(512.0 * flow_m3s * flow_m3s / (gravity_ms2 * std::pow(bore_m, 5.0)));
  // (a^3/6)^3 / (a/2) for a small angle.
  double angle = std::exp((target + 3.0 * std::log(6.0) - std::log(2.0)) / 8.0);
  for (int step = 0; step < 20; ++step) {
    if (!(angle > 0.0 && angle < highest_rad)) return std::nullopt;
    const double segment = less_sine(angle), s = std::sin(0.5 * angle), c = std::cos(0.5 * angle);
    const double over = 3.0 * std::log(segment) - std::log(s) - target;
    const double change = over / (angle * (6.0 * s * s / segment - 0.5 * c / s));
    angle *= std::exp(-change);
    if (std::fabs(change) < 1e-13) {  // the step after it would be next to its square
      const double quarter = std::sin(0.25 * angle);
      return bore_m * quarter * quarter;
    }
  }
  return std::nullopt;
}

}  // namespace

Segment wetted_segment(double bore_m, double depth_m) {
  const double angle = 4.0 * std::asin(std::sqrt(std::clamp(depth_m / bore_m, 0.0, 1.0)));
  Segment wet;
  wet.area_m2 = 0.125 * bore_m * bore_m * less_sine(angle);
  wet.wetted_m = 0.5 * bore_m * angle;
  wet.hydraulic_radius_m = angle > 0.0 ? wet.area_m2 / wet.wetted_m : 0.0;
  wet.top_width_m = bore_m * std::sin(0.5 * angle);
  return wet;
}

std::optional<PartFull> normal_flow(const FrictionLaw& law, double bore_m, double roughness_m, double hazen_c,
                                    double kinematic_viscosity_m2s, double slope, double flow_m3s) {
  if (flow_m3s > 0.0 && !(slope > 0.0)) return std::nullopt;
  return normal_flow_with(bore_m, flow_m3s, [&](double hydraulic_radius_m) {
    const double diameter_m = 4.0 * hydraulic_radius_m;
    // A film thinner than its wall's roughness has no law; the flow there is next to nothing.
    const double capped_m = std::min(roughness_m, 0.2 * diameter_m);
    const PipeFriction pipe(law, diameter_m, capped_m, hazen_c, kinematic_viscosity_m2s);
    return velocity_by_law(pipe, slope);
  });
}

std::optional<PartFull> normal_flow_manning(double bore_m, double manning_n, double slope, double flow_m3s) {
  if (flow_m3s > 0.0 && !(slope > 0.0)) return std::nullopt;
  const double factor = std::sqrt(std::max(slope, 0.0)) / manning_n;
  return normal_flow_with(bore_m, flow_m3s, [factor](double hydraulic_radius_m) {
    return factor * std::pow(hydraulic_radius_m, 2.0 / 3.0);
  });
}

double critical_depth(double bore_m, double flow_m3s) {
  if (!(flow_m3s > 0.0)) return 0.0;
  const auto excess = [&](double depth) {
    const Segment wet = wetted_segment(bore_m, depth);
    return wet.area_m2 > 0.0
               ? std::sqrt(gravity_ms2 * wet.area_m2 * wet.area_m2 * wet.area_m2 / wet.top_width_m) - flow_m3s
               : -flow_m3s;
  };
  if (const auto quick = critical_depth_by_newton(bore_m, flow_m3s)) return *quick;
  // The top width vanishes at the crown, so the flow has no bound there; stop just short of it.
  return bracketed_root(excess, 0.0, bore_m * (1.0 - 1e-12));
}

}  // namespace runnel::losses
