#include "runnel/losses/opening.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "runnel/base/constants.h"

namespace runnel::losses {
namespace {

struct Node {
  double at, weight;
};
// Gauss-Legendre, 20 points on [-1, 1]; the other half is its mirror image. [computed: numpy leggauss(20)]
constexpr Node half_rule[] = {
    {0.07652652113349734, 0.15275338713072578}, {0.22778585114164510, 0.14917298647260366},
    {0.37370608871541955, 0.14209610931838187}, {0.51086700195082713, 0.13168863844917653},
    {0.63605368072651502, 0.11819453196151825}, {0.74633190646015080, 0.10193011981724026},
    {0.83911697182221878, 0.08327674157670467}, {0.91223442825132584, 0.06267204833410944},
    {0.96397192727791381, 0.04060142980038622}, {0.99312859918509488, 0.01761400713915327}};

/// Integral over 0 .. pi/2.
template <class Function>
double over_quarter_turn(Function&& f) {
  double sum = 0.0;
  for (const Node& node : half_rule) {
    sum += node.weight * (f(0.25 * pi * (1.0 + node.at)) + f(0.25 * pi * (1.0 - node.at)));
  }
  return 0.25 * pi * sum;
}

}  // namespace

double measured_sharp_hole_cd(double head_m) {
  struct Point {
    double head_ft, cd;
  };
  static constexpr Point points[] = {{1, .620},  {2, .613},  {4, .608},  {6, .607},  {8, .606}, {10, .605},
                                     {12, .604}, {14, .604}, {16, .603}, {18, .603}, {20, .603}};
  const double head_ft = head_m / 0.3048;
  if (!(head_ft > points[0].head_ft)) return points[0].cd;
  for (auto p = std::next(std::begin(points)); p != std::end(points); ++p) {
    if (head_ft > p->head_ft) continue;
    const Point& before = *std::prev(p);
    return before.cd + (p->cd - before.cd) * (head_ft - before.head_ft) / (p->head_ft - before.head_ft);
  }
  return std::rbegin(points)->cd;
}

FlowAndSlope orifice_flow(double head_m, double bore_m, double cd) {
  if (!(head_m > 0.0)) return {};
  const double flow = cd * 0.25 * pi * bore_m * bore_m * std::sqrt(2.0 * gravity_ms2 * head_m);
  return {flow, 0.5 * flow / head_m};
}

double orifice_loss(double hole_bore_m, double cd, double pipe_bore_m) {
  const double ratio = pipe_bore_m / hole_bore_m;
  return std::pow(ratio, 4.0) / (cd * cd);
}

FlowAndSlope hole_flow(double depth_m, double bore_m, double cd) {
  if (!(depth_m > 0.0)) return {};
  // With y = m sin^2 t, m the wetted height and M the larger of depth and bore, width(y) sqrt(depth - y)
  // dy is 4 m^2 sin^2 cos^2 sqrt(M - m sin^2) dt whether the hole is covered or not.
  const double factor = cd * std::sqrt(2.0 * gravity_ms2);
  const double wetted = std::min(depth_m, bore_m), larger = std::max(depth_m, bore_m);
  const double flow = over_quarter_turn([&](double t) {
    const double s = std::sin(t), c = std::cos(t);
    return 4.0 * wetted * wetted * s * s * c * c * std::sqrt(larger - wetted * s * s);
  });
  const double slope = over_quarter_turn([&](double t) {
    const double s = std::sin(t), c = std::cos(t);
    const double root = std::sqrt(larger - wetted * s * s);
    return depth_m < bore_m ? 2.0 * depth_m * s * s * root : 2.0 * bore_m * bore_m * s * s * c * c / root;
  });
  return {factor * flow, factor * slope};
}

FlowAndSlope drilled_riser_flow(const std::vector<HoleRow>& rows, double level_m, double cd) {
  FlowAndSlope sum;
  for (const HoleRow& row : rows) {
    const FlowAndSlope one = hole_flow(level_m - row.centre_m + 0.5 * row.bore_m, row.bore_m, cd);
    sum.flow_m3s += row.count * one.flow_m3s;
    sum.slope_m2s += row.count * one.slope_m2s;
  }
  return sum;
}

}  // namespace runnel::losses
