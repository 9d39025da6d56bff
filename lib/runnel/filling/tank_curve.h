#pragma once
// The volume in a tank at a depth, and the depth of a volume.
#include <vector>

#include "runnel/network/place.h"

namespace runnel::filling {

/// Depth [m] and volume [m3] count from the floor. Between the floor and the top of the shape all three
/// functions are exact to rounding: closed forms, and their inverse by Newton's method. Beyond, the walls are
/// taken to go straight up (and down) from where the shape ends, so that a trial step of the integrator may
/// overshoot; a lying cylinder, whose surface vanishes there, holds no more.
class TankCurve {
 public:
  /// Precondition: `shape` passed `network::validate`.
  explicit TankCurve(const network::TankShape& shape)
      : shape_(shape), top_m_(top()), full_m3_(inside(top_m_)) {}

  double volume_m3(double depth_m) const;
  double depth_m(double volume_m3) const;
  /// Area of the water's surface, dV/dh [m2].
  double area_m2(double depth_m) const;

  /// Volumes at which the area jumps (rows of a table), where rates of change have a kink.
  std::vector<double> bends_m3() const;

 private:
  double top() const;
  double inside(double depth_m) const;
  double inverse(double volume_m3) const;

  network::TankShape shape_;
  double top_m_, full_m3_;  ///< where the shape ends; upright walls never do
};

}  // namespace runnel::filling
