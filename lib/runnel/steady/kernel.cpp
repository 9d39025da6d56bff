#include "runnel/steady/kernel.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "runnel/base/constants.h"

namespace runnel::steady {
namespace {

using losses::LossAndSlope;

constexpr std::size_t most_terms = 16;  ///< terms evaluated on the stack; more are rare and slower

/// Friction per metre of every term of a link at a flow >= 0.
struct PerMetre {
  std::array<LossAndSlope, most_terms> fixed;
  std::vector<LossAndSlope> more;
  LossAndSlope* data;

  PerMetre(const Kernel& kernel, const Link& link, double flow_m3s) : data(fixed.data()) {
    if (link.terms > most_terms) {
      more.resize(link.terms);
      data = more.data();
    }
    for (std::uint32_t t = 0; t < link.terms; ++t) data[t] = kernel.terms[link.term + t].per_metre(flow_m3s);
  }
  PerMetre(const PerMetre&) = delete;
  PerMetre& operator=(const PerMetre&) = delete;
};

LossAndSlope stretch(const Kernel& kernel, const Link& link, const Control& control,
                     const LossAndSlope* per_metre, double flow_m3s) {
  LossAndSlope loss;
  const double* lengths = kernel.lengths_m.data() + control.lengths;
  for (std::uint32_t t = 0; t < link.terms; ++t) {
    loss.head_m += per_metre[t].head_m * lengths[t];
    loss.slope_sm2 += per_metre[t].slope_sm2 * lengths[t];
  }
  if (control.quadratic_s2m5 != 0.0) {
    const double s2 = link.smooth_m3s * link.smooth_m3s, q2 = flow_m3s * flow_m3s;
    const double root = std::sqrt(q2 + s2);
    loss.head_m += control.quadratic_s2m5 * flow_m3s * root;
    if (root > 0.0) loss.slope_sm2 += control.quadratic_s2m5 * (2.0 * q2 + s2) / root;
  }
  return loss;
}

struct Governing {
  double residual_m = unbounded, slope = 0.0;
  int control = -1;
};

/// The control to follow from a flow >= 0. If some are breached, the one breached most: the flow, or the head
/// that drives it, must give way to that. If all have room, the one that by its slope stops the flow first.
/// At rest the slope is the chord to the start flow, so that the first step is the linear one.
Governing governing(const Kernel& kernel, const Link& link, std::uint32_t first, std::uint32_t count,
                    double flow_m3s, double source_m, double sink_m) {
  const bool rest = flow_m3s == 0.0;
  const double slope_flow = rest ? link.start_m3s : flow_m3s;
  PerMetre per_metre(kernel, link, slope_flow);
  Governing least;
  for (std::uint32_t c = first; c < first + count; ++c) {
    const Control& control = kernel.controls[c];
    LossAndSlope loss = stretch(kernel, link, control, per_metre.data, slope_flow);
    if (rest) loss = {0.0, loss.head_m / slope_flow};
    const double room = (control.from_node ? source_m : control.source_head_m) -
                        (control.to_node ? sink_m : control.sink_head_m);
    const double residual = room - loss.head_m;
    const bool first_breach = residual < 0.0 && least.residual_m >= 0.0;
    const bool more = residual < 0.0 ? residual < least.residual_m
                                     : least.residual_m >= 0.0 &&
                                           residual * least.slope < least.residual_m * loss.slope_sm2;
    if (least.control < 0 || first_breach || more) least = {residual, loss.slope_sm2, static_cast<int>(c)};
  }
  return least;
}

}  // namespace

LossAndSlope stretch_loss(const Kernel& kernel, const Link& link, const Control& control, double flow_m3s) {
  PerMetre per_metre(kernel, link, flow_m3s);
  return stretch(kernel, link, control, per_metre.data, flow_m3s);
}

LinkStep linearise(const Kernel& kernel, const Link& link, double flow_m3s, double head_a_m,
                   double head_b_m) {
  if (link.shut) return {};
  auto model = [&](bool forward) {
    const double q = std::abs(flow_m3s);
    const Governing least =
        forward ? governing(kernel, link, link.forward, link.forwards, q, head_a_m, head_b_m)
                : governing(kernel, link, link.backward, link.backwards, q, head_b_m, head_a_m);
    const Control& control = kernel.controls[static_cast<std::size_t>(least.control)];
    const double sign = forward ? 1.0 : -1.0;
    const double source = control.from_node ? 1.0 / least.slope : 0.0,
                 sink = control.to_node ? 1.0 / least.slope : 0.0;
    LinkStep step;
    step.residual_m = least.residual_m;
    step.flow_m3s = sign * (q + least.residual_m / least.slope);
    step.alpha = forward ? source : sink;
    step.beta = forward ? sink : source;
    step.control = least.control;
    return step;
  };
  if (flow_m3s > 0.0 || link.two_way_law(kernel)) {
    LinkStep step = model(flow_m3s >= 0.0);
    if (step.flow_m3s > link.most_m3s && flow_m3s >= link.most_m3s) return {.flow_m3s = link.most_m3s};
    return step;
  }
  if (flow_m3s < 0.0 && link.backwards > 0) return model(false);
  if (link.forwards > 0)
    if (LinkStep step = model(true); step.residual_m > 0.0) return step;
  if (link.backwards > 0)
    if (LinkStep step = model(false); step.residual_m > 0.0) return step;
  return {};  // it stands still
}

bool Link::two_way_law(const Kernel& kernel) const {
  return forwards == 1 && backwards == 1 && kernel.controls[forward].from_node &&
         kernel.controls[forward].to_node;
}

int Kernel::add_pipe(int a, int b, const losses::PipeFriction& friction, double length_m, double loss_k) {
  Link link;
  link.a = a;
  link.b = b;
  link.term = static_cast<std::uint32_t>(terms.size());
  link.terms = 1;
  terms.push_back(friction);
  const auto lengths = static_cast<std::uint32_t>(lengths_m.size());
  lengths_m.push_back(length_m);
  Control control;
  control.lengths = lengths;
  control.quadratic_s2m5 = loss_k / (2.0 * gravity_ms2 * friction.area_m2() * friction.area_m2());
  link.forward = static_cast<std::uint32_t>(controls.size());
  link.forwards = 1;
  controls.push_back(control);
  link.backward = link.forward;  // the same stretch either way
  link.backwards = 1;
  link.start_m3s = 0.3 * friction.area_m2();
  links.push_back(link);
  return static_cast<int>(links.size()) - 1;
}

int Kernel::add_opening(int node, double elevation_m, double bore_m, double loss_k,
                        double kinematic_viscosity_m2s) {
  const double area_m2 = pi * bore_m * bore_m / 4.0;
  Link link;
  link.a = node;
  Control control;
  control.to_node = false;
  control.sink_head_m = elevation_m;
  control.quadratic_s2m5 = loss_k / (2.0 * gravity_ms2 * area_m2 * area_m2);
  control.lengths = static_cast<std::uint32_t>(lengths_m.size());
  link.forward = static_cast<std::uint32_t>(controls.size());
  link.forwards = 1;
  controls.push_back(control);
  link.start_m3s = 0.3 * area_m2;
  link.smooth_m3s = 0.1 * kinematic_viscosity_m2s * pi * bore_m / 4.0;  // Re = 0.1: linear below it
  links.push_back(link);
  return static_cast<int>(links.size()) - 1;
}

}  // namespace runnel::steady
