#include "runnel/steady/capacity.h"

#include <algorithm>
#include <cmath>

#include "runnel/steady/link_law.h"

namespace runnel::steady {
namespace {

/// The flow whose loss over a control's stretch is `room` (> 0): Newton kept inside a bracket.
double flow_with_loss(const Kernel& kernel, const Link& link, const Control& control, double room_m) {
  double low = 0.0, high = std::max(link.start_m3s, 1e-9);
  while (stretch_loss(kernel, link, control, high).head_m < room_m && high < 1e6) high *= 2.0;
  double q = 0.5 * high;
  for (int i = 0; i < 200; ++i) {
    const losses::LossAndSlope loss = stretch_loss(kernel, link, control, q);
    (loss.head_m < room_m ? low : high) = q;
    double next = loss.slope_sm2 > 0.0 ? q + (room_m - loss.head_m) / loss.slope_sm2 : -1.0;
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::abs(next - q) <= 1e-15 * q || high - low <= 1e-15 * high) return next;
    q = next;
  }
  return q;
}

}  // namespace

Capacity carries(const Kernel& kernel, const Link& link, double head_a_m, double head_b_m, bool forward) {
  Capacity least{forward ? link.most_m3s : unbounded, -1};
  const std::uint32_t first = forward ? link.forward : link.backward,
                      count = forward ? link.forwards : link.backwards;
  if (link.shut || count == 0) return {0.0, -1};
  const double source = forward ? head_a_m : head_b_m, sink = forward ? head_b_m : head_a_m;
  for (std::uint32_t c = first; c < first + count; ++c) {
    const Control& control = kernel.controls[c];
    const double room =
        (control.from_node ? source : control.source_head_m) - (control.to_node ? sink : control.sink_head_m);
    if (room == unbounded) continue;  // idle
    if (control.mouth >= 0) {
      const losses::Mouth& mouth = kernel.mouths[static_cast<std::size_t>(control.mouth)].law;
      const double flow = mouth.flow_at(room - mouth.over_axis(0.0).head_m).flow_m3s;
      if (flow < least.flow_m3s) least = {flow, static_cast<int>(c)};
      continue;
    }
    if (room <= 0.0) return {0.0, static_cast<int>(c)};
    // A control that leaves room at the least flow so far cannot govern.
    if (std::isfinite(least.flow_m3s) && stretch_loss(kernel, link, control, least.flow_m3s).head_m <= room)
      continue;
    const double flow = flow_with_loss(kernel, link, control, room);
    if (flow < least.flow_m3s) least = {flow, static_cast<int>(c)};
  }
  return least;
}

}  // namespace runnel::steady
