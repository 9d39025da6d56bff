#include "runnel/losses/part_full.h"

#include <algorithm>
#include <cmath>
#include <limits>

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

/// What the flow loses per metre at a depth, from its velocity and hydraulic radius; infinite at depth zero.
template <class Loss>
double loss_at(double bore_m, double depth_m, double flow_m3s, const Loss& loss) {
  if (!(depth_m > 0.0)) return std::numeric_limits<double>::infinity();
  const Segment wet = wetted_segment(bore_m, depth_m);
  return loss(wet.hydraulic_radius_m, flow_m3s / wet.area_m2);
}

/// Depth at which a flow loses least: golden section over the top fifth, where the loss has a single minimum.
template <class Loss>
double easiest_depth(double bore_m, double flow_m3s, const Loss& loss) {
  constexpr double golden = 0.6180339887498949;
  double low = 0.8 * bore_m, high = bore_m;
  while (high - low > 1e-8 * bore_m) {
    const double a = high - golden * (high - low), b = low + golden * (high - low);
    if (loss_at(bore_m, a, flow_m3s, loss) > loss_at(bore_m, b, flow_m3s, loss))
      low = a;
    else
      high = b;
  }
  return 0.5 * (low + high);
}

/// The depth up to `top_m` at which the loss equals the slope, by bisection and false position.
template <class Loss>
double bracketed_depth(double bore_m, double slope, double flow_m3s, double top_m, const Loss& loss) {
  // About the share by which this depth could carry more than the flow, since a loss grows nearly with the
  // square of the flow.
  const auto spare = [&](double depth_m) {
    return std::sqrt(slope / loss_at(bore_m, depth_m, flow_m3s, loss)) - 1.0;
  };
  return bracketed_root(spare, 0.0, top_m);
}

/// The same in a few steps, on the logarithms of depth and loss: nearly a straight line for a shallow stream.
/// None if the steps leave the bracket or do not converge. `from_m` is the first guess.
template <class Loss>
std::optional<double> depth_by_secant(double bore_m, double slope, double flow_m3s, double top_m,
                                      double from_m, const Loss& loss) {
  const auto excess = [&](double log_depth) {
    return std::log(loss_at(bore_m, std::exp(log_depth), flow_m3s, loss) / slope);
  };
  const double top = std::log(top_m);
  double low = -std::numeric_limits<double>::infinity(), high = top;  // at `low` too much is lost
  double x = std::min(std::log(from_m), top), y = excess(x);
  double rate = -4.1 + 2.1 * from_m / bore_m;  // by the same geometry
  (y > 0.0 ? low : high) = x;
  for (int step = 0; step < 20; ++step) {
    const double change = -y / rate;
    const double next = x + change;
    if (std::fabs(change) < 1e-7) return std::exp(next);  // the next change would be under 1e-4 of it
    if (!(next > low && next <= high)) return std::nullopt;
    const double value = excess(next);
    (value > 0.0 ? low : high) = next;
    if (value == 0.0) return std::exp(next);
    rate = (value - y) / change;
    x = next;
    y = value;
    if (!(rate < 0.0)) return std::nullopt;
  }
  return std::nullopt;
}

/// The depth, in bores, at which a loss is likely to equal the slope, from the loss of the full pipe as a
/// multiple of the slope: to about two hundredths where the loss rises with Q^1.8 and the mean velocity with
/// R^0.7, as in smooth pipe (a polynomial fitted to the circle's geometry).
double likely_depth_ratio(double full_loss_in_slopes) {
  const double share = std::min(1.0, std::pow(full_loss_in_slopes, 0.55));
  return std::pow(share, 1.0 / 2.2) * (0.583 + share * (0.325 + share * (-0.384 + share * 0.289)));
}

/// A depth carries a flow at a slope if the flow loses no more than the slope there, so only the depth has to
/// be searched for, never the flow.
template <class Loss>
std::optional<PartFull> normal_flow_with(double bore_m, double slope, double flow_m3s, const Loss& loss) {
  if (flow_m3s == 0.0) return PartFull{};
  const auto too_much = [&](double depth_m) { return loss_at(bore_m, depth_m, flow_m3s, loss) > slope; };
  PartFull result;
  const double full = loss_at(bore_m, bore_m, flow_m3s, loss);
  result.near_full = full > slope;
  // Up to 0.85 of the bore the loss falls with depth under every law; its minimum is sought only if needed.
  double top = 0.85 * bore_m;
  // What the full pipe carries, this depth carries as well.
  if (result.near_full && too_much(top)) {
    top = easiest_depth(bore_m, flow_m3s, loss);
    if (too_much(top)) return std::nullopt;
  }
  const auto quick =
      depth_by_secant(bore_m, slope, flow_m3s, top, likely_depth_ratio(full / slope) * bore_m, loss);
  result.depth_m = quick ? *quick : bracketed_depth(bore_m, slope, flow_m3s, top, loss);
  const Segment wet = wetted_segment(bore_m, result.depth_m);
  result.velocity_ms = flow_m3s / wet.area_m2;
  result.froude = result.velocity_ms / std::sqrt(gravity_ms2 * wet.area_m2 / wet.top_width_m);
  return result;
}

/// Critical depth from the wetted angle a, A^3/T = Q^2/g, by Newton on the logarithm of both: a straight line
/// for a shallow stream, so that a few steps settle it. None near the crown, where the line turns vertical.
std::optional<double> critical_depth_by_newton(double bore_m, double flow_m3s) {
  constexpr double highest_rad = 4.7;  // 0.85 of the bore
  const double target = std::log(512.0 * flow_m3s * flow_m3s / (gravity_ms2 * std::pow(bore_m, 5.0)));
  // (a^3/6)^3 / (a/2) for a small angle.
  double angle = std::exp((target + 3.0 * std::log(6.0) - std::log(2.0)) / 8.0);
  for (int step = 0; step < 20; ++step) {
    if (!(angle > 0.0 && angle < highest_rad)) return std::nullopt;
    const double s = std::sin(0.5 * angle), c = std::cos(0.5 * angle);
    const double segment = angle > 0.5 ? angle - 2.0 * s * c : less_sine(angle);
    const double over = 3.0 * std::log(segment) - std::log(s) - target;
    const double change = over / (angle * (6.0 * s * s / segment - 0.5 * c / s));
    angle *= std::exp(-change);
    if (std::fabs(change) < 3e-8) {  // the next step would be about its square
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
  return normal_flow_with(bore_m, slope, flow_m3s, [&](double hydraulic_radius_m, double velocity_ms) {
    const double diameter_m = 4.0 * hydraulic_radius_m;
    // A film thinner than the roughness of the wall has no law; its flow is next to nothing.
    const double capped_m = std::min(roughness_m, 0.2 * diameter_m);
    const PipeFriction pipe(law, diameter_m, capped_m, hazen_c, kinematic_viscosity_m2s);
    return pipe.per_metre(velocity_ms * pipe.area_m2()).head_m;
  });
}

std::optional<PartFull> normal_flow_manning(double bore_m, double manning_n, double slope, double flow_m3s) {
  if (flow_m3s > 0.0 && !(slope > 0.0)) return std::nullopt;
  return normal_flow_with(bore_m, slope, flow_m3s, [&](double hydraulic_radius_m, double velocity_ms) {
    const double root = manning_n * velocity_ms / std::pow(hydraulic_radius_m, 2.0 / 3.0);
    return root * root;
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
  // The top width vanishes at the crown, where the flow is unbounded; stop just short of it.
  return bracketed_root(excess, 0.0, bore_m * (1.0 - 1e-12));
}

}  // namespace runnel::losses
