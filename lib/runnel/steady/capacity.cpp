#include "runnel/steady/capacity.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "runnel/steady/link_law.h"
#include "runnel/steady/per_metre.h"

namespace runnel::steady {
namespace {

/// The flow, below `most_m3s`, whose loss over a control's stretch is `room_m` (> 0). Newton's method kept
/// inside a bracket, begun from the flow that a purely quadratic loss would give.
double flow_with_loss(const Kernel& kernel, const Link& link, const Control& control, double room_m,
                      double most_m3s) {
  double low = 0.0, high = std::isfinite(most_m3s) ? most_m3s : std::max(link.start_m3s, 1e-9);
  double most_m = stretch_loss(kernel, link, control, high).head_m;
  while (most_m < room_m && high < 1e6) {
    low = high;
    high *= 2.0;
    most_m = stretch_loss(kernel, link, control, high).head_m;
  }
  double q = std::clamp(high * std::sqrt(room_m / most_m), low, high);
  for (int i = 0; i < 200; ++i) {
    const losses::LossAndSlope loss = stretch_loss(kernel, link, control, q);
    (loss.head_m < room_m ? low : high) = q;
    const double next = loss.slope_sm2 > 0.0 ? q + (room_m - loss.head_m) / loss.slope_sm2 : -1.0;
    if (!(next > low && next < high)) {
      if (high - low <= 1e-15 * high) return q;
      q = 0.5 * (low + high);
      continue;
    }
    if (std::abs(next - q) <= 1e-8 * q) return next;  // the next relative step would be of the order 1e-16
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
  std::optional<PerMetre> at_least;  // friction per metre at the least flow so far
  const auto leaves_room = [&](const Control& control, double room_m) {
    if (!at_least) at_least.emplace(kernel, link, least.flow_m3s);
    return LinkAtFlow(kernel, link, least.flow_m3s, at_least->head, at_least->slope)
               .loss(kernel.lengths_m.data() + control.lengths, control.quadratic_s2m5)
               .head_m <= room_m;
  };
  const auto take = [&](double flow_m3s, std::uint32_t control) {
    if (!(flow_m3s < least.flow_m3s)) return;
    least = {flow_m3s, static_cast<int>(control)};
    at_least.reset();
  };
  for (std::uint32_t c = first; c < first + count; ++c) {
    const Control& control = kernel.controls[c];
    const double room =
        (control.from_node ? source : control.source_head_m) - (control.to_node ? sink : control.sink_head_m);
    if (room == unbounded) continue;  // idle
    if (control.mouth >= 0) {
      const losses::Mouth& mouth = kernel.mouths[static_cast<std::size_t>(control.mouth)].law;
      take(mouth.flow_at(room - mouth.over_axis(0.0).head_m).flow_m3s, c);
      continue;
    }
    if (room <= 0.0) return {0.0, static_cast<int>(c)};
    // A control that leaves room at the least flow so far cannot govern.
    if (std::isfinite(least.flow_m3s) && leaves_room(control, room)) continue;
    take(flow_with_loss(kernel, link, control, room, least.flow_m3s), c);
  }
  return least;
}

}  // namespace runnel::steady
