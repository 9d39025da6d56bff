#pragma once
// The Darcy friction factor of a full pipe, f in h = f (L/D) V^2/(2g), from the Reynolds number and the
// relative roughness (roughness / bore).
//
//   Re <= 2000         64/Re                                                        [darcy-weisbach]
//   2000 < Re < 4000   cubic Hermite in Re that joins value and slope of both sides [own]
//   Re >= 4000         Colebrook-White, 1/sqrt f = -2 log10(rel/3.7 + 2.51/(Re sqrt f)) [colebrook1939]
//
// An abrupt switch would leave heads that no flow satisfies, on which Newton cycles; with the Hermite
// join the head loss, proportional to f Re^2, is C1 and strictly rising for 0 <= rel <= 0.2 (tested).
#include <bit>
#include <cmath>
#include <cstdint>

namespace runnel::losses {

inline constexpr double laminar_end_re = 2000.0;
inline constexpr double turbulent_start_re = 4000.0;

/// A friction factor and how it changes with the flow.
struct FactorAndSlope {
  double factor = 0.0;
  double re_slope = 0.0;  ///< Re df/dRe, dimensionless: what the slope of a head loss needs

  /// df/dRe at the Reynolds number this was worked out for.
  double slope(double reynolds) const { return re_slope / reynolds; }
};

/// Natural logarithm to 7e-5 absolute, for positive normal numbers: the exponent from the bits, the rest by
/// a minimax polynomial. Good enough for a start, and several times quicker than std::log. [own]
inline double rough_log(double x) {
  constexpr double ln2 = 0.69314718055994530942;
  const auto bits = std::bit_cast<std::uint64_t>(x);
  const int exponent = static_cast<int>(bits >> 52) - 1023;
  const double u = std::bit_cast<double>((bits & 0x000FFFFFFFFFFFFFu) | 0x3FF0000000000000u) - 1.0;
  const double mantissa =
      6.07140953e-05 + u * (0.996540742 + u * (-0.467834762 + u * (0.22089154 - u * 0.0565717675)));
  return ln2 * exponent + mantissa;
}

/// Colebrook-White with constants 3.7 and 2.51, solved to about 1e-15 by two third-order steps
/// [clamond2009], with the exact derivative. Validity: Re >= 1000, 0 <= relative_roughness <= 0.2.
///
/// With F = (ln 10 / 2) / sqrt f the equation reads F + ln((X + F) / W) = 0, W = Re ln10 / 5.02 and
/// X = W rel / 3.7. Differentiating it gives Re dF/dRe = F / (X + F + 1), so Re df/dRe = -2 f / (X + F + 1).
/// A step reduces an error e of F to about 3e-5 e^4, so the first can do with rough logarithms: it leaves
/// 1e-3 at most, the second 1e-16. Only the second pays for an exact logarithm. This is the hottest spot.
inline FactorAndSlope colebrook(double reynolds, double relative_roughness) {
  constexpr double ln10_over_5_02 = 0.458682289441044957;
  constexpr double quarter_ln10_squared = 1.3254745276195996026;  // (ln 10 / 2)^2
  const double w = reynolds * ln10_over_5_02;
  const double x = w * relative_roughness * (1.0 / 3.7);
  // The step of [clamond2009], rearranged to need one division: p = 1 + X + F, r the residual.
  const auto improve = [x](double big_f, double r) {
    const double sum = x + big_f, p = 1.0 + sum;
    return big_f - (p * p + 0.5 * r) * r * sum / (p * (p * p + r) + r * r * (1.0 / 3.0));
  };
  const double start = rough_log(w) - 0.2;  // as in [clamond2009]
  double big_f = improve(start, rough_log(x + start) - 0.2);
  big_f = improve(big_f, big_f + std::log((x + big_f) / w));
  const double p = x + big_f + 1.0;
  const double both = quarter_ln10_squared / (big_f * big_f * p);
  return {both * p, -2.0 * both};
}

/// 64/Re at Re 2000, and its df/dt, t measured in widths of the transition.
inline constexpr double laminar_end_factor = 64.0 / laminar_end_re;
inline constexpr double laminar_end_slope =
    -64.0 / (laminar_end_re * laminar_end_re) * (turbulent_start_re - laminar_end_re);

/// The transition, f = f0 + t (f1 + t (quadratic + t cubic)), t from 0 at Re 2000 to 1 at Re 4000.
inline FactorAndSlope hermite(double reynolds, double quadratic, double cubic) {
  constexpr double width = turbulent_start_re - laminar_end_re;
  const double t = (reynolds - laminar_end_re) / width;
  const double factor = laminar_end_factor + t * (laminar_end_slope + t * (quadratic + t * cubic));
  const double slope = laminar_end_slope + t * (2.0 * quadratic + t * 3.0 * cubic);
  return {factor, slope * reynolds / width};
}

/// The friction factor of one relative roughness over all Reynolds numbers. What the transition needs from
/// the turbulent side is computed once, in the constructor.
class DarcyFactor {
 public:
  /// 0 <= relative_roughness <= 0.2.
  explicit DarcyFactor(double relative_roughness = 0.0);

  /// Value and slope at reynolds > 0.
  FactorAndSlope at(double reynolds) const {
    if (reynolds <= laminar_end_re) return {64.0 / reynolds, -64.0 / reynolds};
    if (reynolds < turbulent_start_re) return hermite(reynolds, quadratic_, cubic_);
    return colebrook(reynolds, relative_roughness_);
  }

 private:
  friend class FrictionBatch;  // many at once, from the same constants
  double relative_roughness_;
  double quadratic_, cubic_;
};

/// The same for a single evaluation.
FactorAndSlope darcy_factor(double reynolds, double relative_roughness);

/// Churchill's formula for all regimes [churchill1977]: within about 2 % of Colebrook, and smooth through the
/// transition. For comparison; transition.h has it with its slope, for the bad end of what is not known.
/// Re > 0.
double churchill(double reynolds, double relative_roughness);

}  // namespace runnel::losses
