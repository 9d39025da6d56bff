#include "runnel/filling/check_vessel.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"

namespace runnel::filling {
namespace {

struct Shape {
  double h;
  double operator()(const network::UprightCylinder& s) const {
    return pi * std::pow(s.diameter.metres() / 2.0, 2) * h;
  }
  double operator()(const network::Cuboid& s) const { return s.length.metres() * s.width.metres() * h; }
  double operator()(const network::LyingCylinder& s) const {
    const double r = s.diameter.metres() / 2.0, x = std::clamp(h, 0.0, 2.0 * r);
    return s.length.metres() *
           (r * r * std::acos((r - x) / r) - (r - x) * std::sqrt(std::max(0.0, 2.0 * r * x - x * x)));
  }
  double operator()(const network::Frustum& s) const {
    const double a = s.bottom_diameter.metres() / 2.0;
    const double b = a + (s.top_diameter.metres() / 2.0 - a) * h / s.height.metres();
    return pi * h / 3.0 * (a * a + a * b + b * b);
  }
  double operator()(const network::DepthVolumeTable& s) const {
    std::size_t i = 1;
    while (i + 1 < s.depth.size() && s.depth[i].metres() < h) ++i;
    const double t = (h - s.depth[i - 1].metres()) / (s.depth[i] - s.depth[i - 1]).metres();
    return s.volume[i - 1].si() + t * (s.volume[i] - s.volume[i - 1]).si();
  }
};

}  // namespace

double Vessel::volume_m3(double level_m) const { return std::visit(Shape{level_m - floor_m}, shape); }

double Vessel::asked_m3s(double time_s, double start_hour) const {
  return draws ? filling::asked_m3s(*draws, time_s, start_hour) : 0.0;
}

double asked_m3s(const std::vector<network::Draw>& draws, double time_s, double start_hour) {
  double sum = 0.0;
  const double hour = std::fmod(time_s / 3600.0 + start_hour, 24.0);
  for (const network::Draw& draw : draws) {
    const double from = draw.from_hour, to = draw.to_hour;
    const bool over_midnight = to <= from;
    const double length = over_midnight ? to + 24.0 - from : to - from;
    const bool now = over_midnight ? hour >= from || hour < to : hour >= from && hour < to;
    if (now || length >= 24.0) sum += draw.flow.si() * 24.0 / length;
  }
  return sum;
}

std::vector<Vessel> vessels_of(const network::System& system) {
  std::vector<Vessel> all;
  int place = system.tank_place(0);
  for (const auto& t : system.tanks())
    all.push_back({place++, t.shape, t.floor.metres(), t.lip.metres(), 0.0, &t.draws});
  place = system.box_place(0);
  for (const auto& b : system.boxes()) {
    const int here = place++;
    if (b.stores())
      all.push_back({here, network::Cuboid{b.plan_length, b.plan_width}, b.floor.value_or(b.outlet).metres(),
                     b.lip.metres(), b.yield.si(), nullptr});
  }
  return all;
}

}  // namespace runnel::filling
