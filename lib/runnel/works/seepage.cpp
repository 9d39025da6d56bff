#include "runnel/works/seepage.h"

namespace runnel::works {

namespace {

FlowRange over(const Conductivity& ground, double area_m2) {
  return {Flow::from_si(ground.low.si() * area_m2), Flow::from_si(ground.high.si() * area_m2)};
}

}  // namespace

Velocity hazen(Length d10, double c) {
  const double d10_cm = d10.metres() * 100.0;
  return Velocity::metres_per_second(0.01 * c * d10_cm * d10_cm);
}

std::optional<Conductivity> hazen_range(Length d10) {
  if (d10 < Length::millimetres(0.1) || d10 > Length::millimetres(2.5)) return std::nullopt;
  return Conductivity{hazen(d10, least_hazen), hazen(d10, greatest_hazen)};
}

FlowRange darcy_seepage(const Conductivity& ground, double slope, Length width, Length height) {
  return over(ground, slope * width.metres() * height.metres());
}

FlowRange dupuit_seepage(const Conductivity& ground, const DrainInLayer& drain) {
  const double far_m = drain.water_far.metres(), near_m = drain.water_near.metres();
  const double per_side_m = (far_m * far_m - near_m * near_m) / (2.0 * drain.distance.metres());
  return over(ground, per_side_m * drain.sides * drain.drain.metres());
}

}  // namespace runnel::works
