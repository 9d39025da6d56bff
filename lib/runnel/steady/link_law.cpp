#include "runnel/steady/link_law.h"

#include "runnel/steady/per_metre.h"

namespace runnel::steady {
losses::LossAndSlope stretch_loss(const Kernel& kernel, const Link& link, const Control& control,
                                  double flow_m3s) {
  // A flow this small stands for rest, where the slope of the law itself is wanted and not that of the chord.
  const double flow = std::max(flow_m3s, 1e-300);
  const PerMetre per_metre(kernel, link, flow);
  return LinkAtFlow(kernel, link, flow, per_metre.head, per_metre.slope)
      .loss(kernel.lengths_m.data() + control.lengths, control.quadratic_s2m5);
}

bool stands_still(const Kernel& kernel, const Link& link, double head_a_m, double head_b_m) {
  if (link.shut) return true;
  if (link.forward_column >= 0 || link.backward_column >= 0)
    return linearise(kernel, link, 0.0, head_a_m, head_b_m).control < 0;
  const auto has_room = [&](std::uint32_t first, std::uint32_t count, double source_m, double sink_m) {
    for (std::uint32_t c = first; c < first + count; ++c) {
      const Control& control = kernel.controls[c];
      const double from = control.from_node ? source_m : control.source_head_m,
                   to = control.to_node ? sink_m : control.sink_head_m;
      if (!(from - to > 0.0)) return false;
    }
    return count > 0;
  };
  return !has_room(link.forward, link.forwards, head_a_m, head_b_m) &&
         !has_room(link.backward, link.backwards, head_b_m, head_a_m);
}

LinkStep linearise(const Kernel& kernel, const Link& link, double flow_m3s, double head_a_m,
                   double head_b_m) {
  const PerMetre per_metre(kernel, link, LinkAtFlow::friction_flow(link, flow_m3s));
  const LinkAtFlow here(kernel, link, flow_m3s, per_metre.head, per_metre.slope);
  return link_step(kernel, link, link.two_way_law(kernel), flow_m3s, [&](bool forward) {
    const Head source{forward ? head_a_m : head_b_m}, sink{forward ? head_b_m : head_a_m};
    const std::uint32_t first = forward ? link.forward : link.backward,
                        count =
                            (forward ? link.forwards : link.backwards) - (link.mouth(forward) >= 0 ? 1 : 0);
    Standing least = here.end_to_end(forward, source, sink);
    for (std::uint32_t c = first + 1; c < first + count; ++c)
      if (const Standing other = here.standing(c, source, sink); other.before(least)) least = other;
    MouthAtFlow mouth;
    return here.with_mouth(forward, least, source, mouth);
  });
}

}  // namespace runnel::steady
