#include "runnel/losses/overflow.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/base/roots.h"

namespace runnel::losses {
namespace {

FlowAndSlope flow_over(const WeirLip& lip, double head_m) {
  const double cw = 2.0 / 3.0 * weir_cd_from_us(lip.us_coefficient) * std::sqrt(2.0 * gravity_ms2);
  const double root = std::sqrt(head_m);
  const bool pinching = head_m < lip.length_m;
  const double pinched_m = 0.1 * lip.pinched_ends * std::min(head_m, lip.length_m);
  const double length_m = std::max(lip.length_m - pinched_m, 0.0);
  FlowAndSlope over{cw * length_m * head_m * root, 1.5 * cw * length_m * root};
  if (pinching) over.slope_m2s -= cw * 0.1 * lip.pinched_ends * head_m * root;
  return over;
}

FlowAndSlope flow_over(const Standpipe& standpipe, double head_m) {
  return standpipe_flow(standpipe, head_m).flow;
}

FlowAndSlope flow_over(const DrilledRiser& riser, double head_m) {
  double lowest_m = 0.0;
  bool first = true;
  for (const HoleRow& row : riser.rows) {
    const double bottom_m = row.centre_m - 0.5 * row.bore_m;
    lowest_m = first ? bottom_m : std::min(lowest_m, bottom_m);
    first = false;
  }
  return drilled_riser_flow(riser.rows, lowest_m + head_m, riser.cd);
}

FlowAndSlope flow_over(const WallPipe& pipe, double head_m) {
  return Mouth(pipe.edge, pipe.bore_m, pipe.slope).flow_at(head_m);
}

}  // namespace

Standpipe gutter_outlet(double bore_m) {
  // Converts L/s and mm to m3/s and m, and the printed constants to Cw on pi D and Cd on pi D^2/4.
  const double cw = std::pow(1e3, 2.5) / 7000.0 * 1e-3 / pi;
  const double co = std::pow(1e3, 2.5) / 13200.0 * 1e-3 / (0.25 * pi * std::sqrt(2.0 * gravity_ms2));
  Standpipe outlet;
  outlet.bore_m = bore_m;
  outlet.weir_cd = cw / (2.0 / 3.0 * std::sqrt(2.0 * gravity_ms2));
  outlet.orifice_cd = co;
  return outlet;
}

FlowAndSlope overflow_flow(const Overflow& overflow, double head_m) {
  if (!(head_m > 0.0)) return {};
  return std::visit([head_m](const auto& works) { return flow_over(works, head_m); }, overflow);
}

std::optional<HeadAndSlope> overflow_head(const Overflow& overflow, double flow_m3s) {
  if (!(flow_m3s > 0.0)) return HeadAndSlope{};
  if (const auto* pipe = std::get_if<WallPipe>(&overflow)) {
    return Mouth(pipe->edge, pipe->bore_m, pipe->slope).over_invert(flow_m3s);
  }
  constexpr double most_head_m = 100.0;  // far above any wall
  double low = 1e-6;
  while (low > 1e-30 && overflow_flow(overflow, low).flow_m3s > flow_m3s) low *= 1e-3;
  double high = low;
  while (high < most_head_m && overflow_flow(overflow, high).flow_m3s < flow_m3s) high *= 2.0;
  if (overflow_flow(overflow, high).flow_m3s < flow_m3s) return std::nullopt;
  HeadAndSlope needed;
  needed.head_m = bracketed_root(
      [&](double head) { return overflow_flow(overflow, head).flow_m3s - flow_m3s; }, low, high);
  needed.slope_sm2 = 1.0 / overflow_flow(overflow, needed.head_m).slope_m2s;
  return needed;
}

}  // namespace runnel::losses
