#include "runnel/filling/tank_curve.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/base/constants.h"

namespace runnel::filling {
namespace {

using network::Cuboid;
using network::DepthVolumeTable;
using network::Frustum;
using network::LyingCylinder;
using network::UprightCylinder;

constexpr double endless = std::numeric_limits<double>::infinity();

template <class... F>
struct Overloaded : F... {
  using F::operator()...;
};
template <class... F>
Overloaded(F...) -> Overloaded<F...>;

double plan_m2(const UprightCylinder& s) { return pi * s.diameter.metres() * s.diameter.metres() / 4.0; }
double plan_m2(const Cuboid& s) { return s.length.metres() * s.width.metres(); }

// t - sin t without cancellation for small t.
double less_sine(double t) {
  if (t > 0.5) return t - std::sin(t);
  double term = t * t * t / 6.0, sum = term;
  for (int k = 2; k < 9; ++k) sum += term *= -t * t / (2.0 * k * (2.0 * k + 1.0));
  return sum;
}

// A segment of a circle has the area r^2/2 (t - sin t), with t the angle that its chord subtends. Above the
// middle the segment of air is subtracted.
double lying_volume(const LyingCylinder& s, double depth_m) {
  const double d = s.diameter.metres(), r = d / 2.0, scale = s.length.metres() * r * r;
  const double low = std::min(depth_m, d - depth_m);
  const double part = 0.5 * scale * less_sine(4.0 * std::asin(std::sqrt(std::max(0.0, low) / d)));
  return depth_m <= r ? part : pi * scale - part;
}

double lying_depth(const LyingCylinder& s, double volume_m3) {
  const double d = s.diameter.metres(), r = d / 2.0, scale = s.length.metres() * r * r;
  const bool lower = volume_m3 <= 0.5 * pi * scale;
  const double x = 2.0 * std::max(0.0, lower ? volume_m3 : pi * scale - volume_m3) / scale;
  // t - sin t is convex up to pi and below t^3/6, so Newton starts below the root, jumps above it once and
  // then only descends.
  double t = std::cbrt(6.0 * x);
  for (int step = 0; step < 12 && t > 0.0; ++step) {
    const double sine = std::sin(0.5 * t);
    const double next = t - (less_sine(t) - x) / (2.0 * sine * sine);
    if (std::abs(next - t) <= 1e-16 * t) break;
    t = next;
  }
  const double low = d * std::pow(std::sin(0.25 * t), 2.0);
  return lower ? low : d - low;
}

double growth(const Frustum& s) {
  return (s.top_diameter.metres() - s.bottom_diameter.metres()) / 2.0 / s.height.metres();
}

double frustum_volume(const Frustum& s, double depth_m) {
  const double low = s.bottom_diameter.metres() / 2.0, here = low + growth(s) * depth_m;
  return pi * depth_m / 3.0 * (low * low + low * here + here * here);
}

double frustum_area(const Frustum& s, double depth_m) {
  const double here = s.bottom_diameter.metres() / 2.0 + growth(s) * depth_m;
  return pi * here * here;
}

double frustum_depth(const Frustum& s, double volume_m3) {
  const double low = s.bottom_diameter.metres() / 2.0, k = growth(s);
  double depth = volume_m3 / (pi * low * low);
  if (std::abs(k) > 1e-6) depth = (std::cbrt(low * low * low + 3.0 * k * volume_m3 / pi) - low) / k;
  for (int step = 0; step < 3; ++step)
    depth -= (frustum_volume(s, depth) - volume_m3) / frustum_area(s, depth);
  return depth;
}

// The row from which on `x` lies, before the next.
template <class Q>
std::size_t row(const std::vector<Q>& rising, double x) {
  std::size_t i = 0;
  while (i + 2 < rising.size() && rising[i + 1].si() <= x) ++i;
  return i;
}

template <class From, class To>
double between(const std::vector<From>& from, const std::vector<To>& to, double x) {
  const std::size_t i = row(from, x);
  const double share = (x - from[i].si()) / (from[i + 1].si() - from[i].si());
  return to[i].si() + share * (to[i + 1].si() - to[i].si());
}

}  // namespace

double TankCurve::top() const {
  return std::visit(
      Overloaded{[](const UprightCylinder&) { return endless; }, [](const Cuboid&) { return endless; },
                 [](const LyingCylinder& s) { return s.diameter.metres(); },
                 [](const Frustum& s) { return s.height.metres(); },
                 [](const DepthVolumeTable& s) { return s.depth.back().metres(); }},
      shape_);
}

double TankCurve::inside(double depth_m) const {
  return std::visit(
      Overloaded{[&](const UprightCylinder& s) { return plan_m2(s) * depth_m; },
                 [&](const Cuboid& s) { return plan_m2(s) * depth_m; },
                 [&](const LyingCylinder& s) { return lying_volume(s, depth_m); },
                 [&](const Frustum& s) { return frustum_volume(s, depth_m); },
                 [&](const DepthVolumeTable& s) { return between(s.depth, s.volume, depth_m); }},
      shape_);
}

double TankCurve::inverse(double volume_m3) const {
  return std::visit(
      Overloaded{[&](const UprightCylinder& s) { return volume_m3 / plan_m2(s); },
                 [&](const Cuboid& s) { return volume_m3 / plan_m2(s); },
                 [&](const LyingCylinder& s) { return lying_depth(s, volume_m3); },
                 [&](const Frustum& s) { return frustum_depth(s, volume_m3); },
                 [&](const DepthVolumeTable& s) { return between(s.volume, s.depth, volume_m3); }},
      shape_);
}

double TankCurve::area_m2(double depth_m) const {
  const double h = std::clamp(depth_m, 0.0, top_m_);
  return std::visit(
      Overloaded{[&](const UprightCylinder& s) { return plan_m2(s); },
                 [&](const Cuboid& s) { return plan_m2(s); },
                 [&](const LyingCylinder& s) {
                   return 2.0 * s.length.metres() * std::sqrt(std::max(0.0, h * (s.diameter.metres() - h)));
                 },
                 [&](const Frustum& s) { return frustum_area(s, h); },
                 [&](const DepthVolumeTable& s) {
                   const std::size_t i = row(s.depth, h);
                   return (s.volume[i + 1] - s.volume[i]).si() / (s.depth[i + 1] - s.depth[i]).si();
                 }},
      shape_);
}

double TankCurve::volume_m3(double depth_m) const {
  const double h = std::clamp(depth_m, 0.0, top_m_);
  return inside(h) + (depth_m == h ? 0.0 : area_m2(h) * (depth_m - h));
}

double TankCurve::depth_m(double volume_m3) const {
  const double v = std::clamp(volume_m3, 0.0, full_m3_);
  const double h = inverse(v);
  if (v == volume_m3) return h;
  const double area = area_m2(h);
  return area > 0.0 ? h + (volume_m3 - v) / area : h;
}

std::vector<double> TankCurve::bends_m3() const {
  std::vector<double> bends;
  if (const auto* table = std::get_if<DepthVolumeTable>(&shape_))
    for (std::size_t i = 1; i + 1 < table->volume.size(); ++i) bends.push_back(table->volume[i].si());
  return bends;
}

}  // namespace runnel::filling
