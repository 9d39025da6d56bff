#pragma once
// The grain sizes of a soil or a stone, from sieves. The curve says what share of the weight passes a sieve;
// 15 % of the weight is finer than D15. The few fine grains decide how a layer drains and what it holds back,
// the coarse ones what can hold it back, so a curve of a few points is enough. Sizes are read on a
// logarithmic scale, as every grading sheet is drawn.
#include <optional>
#include <vector>

#include "runnel/units/quantity.h"

namespace runnel::works {

/// US sieves named by the rules [astm-e11].
inline constexpr Length sieve_no_4 = Length::millimetres(4.75);
inline constexpr Length sieve_no_200 = Length::millimetres(0.075);

struct SievePoint {
  Length size;
  double finer_percent = 0.0;  ///< of the weight, 0 to 100
};

class GradingCurve {
 public:
  /// None unless there are at least two points, of different sizes above zero, whose shares lie within 0 to
  /// 100 and do not fall as the size rises. Points may be in any order.
  static std::optional<GradingCurve> from_sieves(std::vector<SievePoint> points);

  /// D of that percent, linear in ln size between the points; none beyond the ends of the curve.
  std::optional<Length> size_at(double percent) const;
  /// Percent finer than a size. Beyond an end it is known only if that end is 0 or 100 %.
  std::optional<double> finer_than(Length size) const;

  /// Cu = D60 / D10.
  std::optional<double> uniformity() const;
  /// Cc = D30^2 / (D10 D60).
  std::optional<double> curvature() const;

  /// The part that passes a sieve, as a grading of its own: finer sizes stay, each share divided by that at
  /// the sieve. None if the share at the sieve is unknown or nothing passes.
  std::optional<GradingCurve> passing(Length sieve) const;

  const std::vector<SievePoint>& points() const { return points_; }

 private:
  GradingCurve() = default;

  std::vector<SievePoint> points_;  // by rising size
};

/// A pit or a quarry gives a band of curves; a single sample is a band of one.
struct GradingBand {
  GradingCurve finest, coarsest;

  static GradingBand of(const GradingCurve& curve) { return {curve, curve}; }
};

}  // namespace runnel::works
