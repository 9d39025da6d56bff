#pragma once
// One link's law at one flow: which control governs, and the linear model of the flow there.
#include <algorithm>
#include <cmath>
#include <cstdint>

#include "runnel/steady/kernel.h"

namespace runnel::steady {

/// A link at given heads: the linear model of its flow.
struct LinkStep {
  double flow_m3s = 0.0;    ///< the flow its law predicts at these heads (linearised at the present flow)
  double alpha = 0.0;       ///< d flow / d H_a
  double beta = 0.0;        ///< - d flow / d H_b
  double residual_m = 0.0;  ///< energy that the governing control has left over at the present flow
  double loss_m = 0.0, slope_sm2 = 0.0;  ///< of the governing control; no loss: it has another law
  int control = -1;  ///< governing one of Kernel::controls; -1: still, shut or held by a float valve
};

/// The model at one flow and two heads, every term evaluated by itself. The solver evaluates many links at
/// once (steady/plain_links.h, steady/mixed_links.h) to the same figures.
LinkStep linearise(const Kernel& kernel, const Link& link, double flow_m3s, double head_a_m, double head_b_m);

/// Whether a link that is no two-way law stands still at these heads because neither direction has room at
/// every control. The same as `linearise` finds at no flow, but without computing friction.
bool stands_still(const Kernel& kernel, const Link& link, double head_a_m, double head_b_m);

/// Loss of a control's stretch at a flow >= 0, with its slope.
losses::LossAndSlope stretch_loss(const Kernel& kernel, const Link& link, const Control& control,
                                  double flow_m3s);

/// A head in two parts, the second holding what the first rounds away, so that differences are good to 1e-16
/// of themselves: less than 1e-14 m decides the flow of a link with a great conductance.
struct Head {
  double m = 0.0, low_m = 0.0;
  double above(const Head& other) const { return (m - other.m) + (low_m - other.low_m); }
};

/// Flatter than any pipe: half a metre of bore over a tenth of a metre of length has 1e-5 s/m2 at rest.
inline constexpr double least_slope_sm2 = 1e-12;

/// Whether a flow that a step takes from `flow_m3s` to `to_m3s` is a trickle that should come to rest. A
/// quadratic law only halves it from step to step: where there is no room at all, a step takes a flow Q under
/// a law Q^n to (1 - 1/n) Q. Such a flow is judged by its energy and stopped at the end
/// (NewtonSteps::polish).
inline bool dies(double flow_m3s, double to_m3s) {
  constexpr double dying_share = 0.5000001;
  return std::abs(to_m3s) <= dying_share * std::abs(flow_m3s);
}

/// A law at a flow, and on the way to another.
struct LawOnTheWay {
  double flow_m3s, by_m3s;  ///< where it is linearised, and how far the flow moves along the tangent
  double loss_m, slope_sm2;
  double came_m3s, slope_change_sm2;  ///< since where it was linearised before
};

/// How far the flow of a law bends away from its tangent. Its curvature is that of the slopes found last; if
/// those lie too far apart, or so near that rounding decides, the law is taken for a power of the flow, which
/// every law nearly is. Nothing where the flow moves far, since there the law may be another one.
inline double bend_m3s(const LawOnTheWay& law) {
  constexpr double far_share = 0.25, near_share = 1e-7;
  const double size_m3s = std::abs(law.flow_m3s), came_m3s = std::abs(law.came_m3s);
  if (!(std::abs(law.by_m3s) < far_share * size_m3s)) return 0.0;
  const bool known = came_m3s > near_share * size_m3s && came_m3s < far_share * size_m3s;
  const double per_flow = known ? law.slope_change_sm2 / (law.came_m3s * law.slope_sm2)
                                : law.slope_sm2 / law.loss_m - 1.0 / law.flow_m3s;
  return -0.5 * per_flow * law.by_m3s * law.by_m3s;
}

/// One control at a flow.
struct Standing {
  double residual_m = unbounded;  ///< room it has left
  double slope_sm2 = 0.0;         ///< d loss / d flow
  double per_sink = 1.0;          ///< d (source head it needs) / d sink head
  int control = -1;
  double loss_m = 0.0;  ///< none for the law of a mouth or of a column

  /// Whether to follow this one rather than `other`. If either is breached, the one breached more is
  /// followed, since the flow, or the head that drives it, must give way to it. If both have room, it is the
  /// one that by its slope stops the flow first.
  bool before(const Standing& other) const {
    if (other.control < 0) return true;
    if (residual_m < 0.0) return residual_m < other.residual_m;
    return other.residual_m >= 0.0 && residual_m * other.slope_sm2 < other.residual_m * slope_sm2;
  }
};

/// What a mouth needs at the flow asked for last. To find it takes a critical depth, and a box gives its line
/// the same flow from step to step.
struct MouthAtFlow {
  double flow_m3s = 0.0;
  losses::HeadAndSlope need;

  const losses::HeadAndSlope& at(const losses::Mouth& law, double asked_m3s) {
    if (asked_m3s != flow_m3s) flow_m3s = asked_m3s, need = law.over_axis(asked_m3s);
    return need;
  }
};

/// A link at one flow >= 0 with its friction per metre known, so that each of its controls costs little.
class LinkAtFlow {
 public:
  /// The flow at which friction per metre is needed: at rest the start flow, because the slope at rest is
  /// that of the chord to it, which makes the first step the linear one.
  static double friction_flow(const Link& link, double flow_m3s) {
    return flow_m3s == 0.0 ? link.start_m3s : std::abs(flow_m3s);
  }

  /// `per_metre_m`, `per_metre_slope`: one a term, at the `friction_flow` of `flow_m3s`.
  LinkAtFlow(const Kernel& kernel, const Link& link, double flow_m3s, const double* per_metre_m,
             const double* per_metre_slope)
      : kernel_(kernel),
        link_(link),
        head_(per_metre_m),
        slope_(per_metre_slope),
        rest_(flow_m3s == 0.0),
        flow_m3s_(friction_flow(link, flow_m3s)) {
    const double s2 = link.smooth_m3s * link.smooth_m3s, q2 = flow_m3s_ * flow_m3s_;
    const double root = std::sqrt(q2 + s2);
    local_ = flow_m3s_ * root;
    local_slope_ = root > 0.0 ? (2.0 * q2 + s2) / root : 0.0;
  }

  /// Loss over lengths, one a term, and a quadratic term; at rest zero, with the slope of the chord.
  losses::LossAndSlope loss(const double* lengths_m, double quadratic_s2m5) const {
    losses::LossAndSlope loss{quadratic_s2m5 * local_, quadratic_s2m5 * local_slope_};
    for (std::uint32_t t = 0; t < link_.terms; ++t) {
      loss.head_m += head_[t] * lengths_m[t];
      loss.slope_sm2 += slope_[t] * lengths_m[t];
    }
    if (rest_) return {0.0, loss.head_m / flow_m3s_};
    return loss;
  }

  Standing standing(std::uint32_t control, const Head& source, const Head& sink) const {
    const Control& c = kernel_.controls[control];
    const losses::LossAndSlope lost = loss(kernel_.lengths_m.data() + c.lengths, c.quadratic_s2m5);
    const Head from = c.from_node ? source : Head{c.source_head_m},
               to = c.to_node ? sink : Head{c.sink_head_m};
    return {from.above(to) - lost.head_m, lost.slope_sm2, 1.0, static_cast<int>(control), lost.head_m};
  }

  /// The first control of a direction or the law in its place, unless one behind a reducing valve governs.
  Standing end_to_end(bool forward, const Head& source, const Head& sink) const {
    const std::uint32_t control = forward ? link_.forward : link_.backward;
    const int column = forward ? link_.forward_column : link_.backward_column;
    Standing least =
        column < 0 ? standing(control, source, sink) : column_standing(column, control, source, sink);
    for (std::uint32_t i = 0; forward && i < link_.behind_valves; ++i) {
      const BehindValve& behind = kernel_.behind_valves[link_.behind_valve + i];
      const Head held{kernel_.controls[behind.control].source_head_m};
      const Standing other = column_standing(behind.column, behind.control, held, sink);
      if (other.before(least)) least = other;
    }
    return least;
  }

  /// The control to follow one way, `least` being that without the mouth. The mouth counts only where it
  /// holds the flow to less than twice the present one: near rest its slope tells little about the flow.
  /// `known` is kept from call to call, one for each way of a link.
  Standing with_mouth(bool forward, const Standing& least, const Head& source, MouthAtFlow& known) const {
    const int mouth_control = link_.mouth(forward);
    if (mouth_control < 0 || rest_) return least;
    const auto number = static_cast<std::uint32_t>(mouth_control);
    const Control& control = kernel_.controls[number];
    const LinkMouth& mouth = kernel_.mouths[static_cast<std::size_t>(control.mouth)];
    const double level_m = source.above(Head{control.sink_head_m});
    if (flow_m3s_ <= mouth.easy_m3s && level_m >= mouth.easy_m) return least;
    const losses::HeadAndSlope& need = known.at(mouth.law, flow_m3s_);
    const Standing lets_in{level_m - need.head_m, need.slope_sm2, 1.0, mouth_control};
    return lets_in.residual_m < need.slope_sm2 * flow_m3s_ && lets_in.before(least) ? lets_in : least;
  }

 private:
  Standing column_standing(int column, std::uint32_t control, const Head& source, const Head& sink) const {
    const ColumnLaw& law = *kernel_.columns[static_cast<std::size_t>(column)];
    const Control& c = kernel_.controls[control];
    const double to = c.to_node ? sink.m + sink.low_m : c.sink_head_m;
    Need need = law.need(flow_m3s_, to);
    if (rest_) {
      const Need still = law.need(0.0, to);
      need = {still.head_m, (need.head_m - still.head_m) / flow_m3s_, still.sink_slope};
    }
    return {source.above(Head{need.head_m}), need.flow_slope_sm2, need.sink_slope, static_cast<int>(control)};
  }

  const Kernel& kernel_;
  const Link& link_;
  const double *head_, *slope_;
  bool rest_;
  double flow_m3s_, local_ = 0.0, local_slope_ = 0.0;
};

/// The linear model of the control that governs, which `governing(forward)` finds at the size of the flow.
template <class Governing>
LinkStep link_step(const Kernel& kernel, const Link& link, bool two_way, double flow_m3s,
                   Governing&& governing) {
  const auto model = [&](bool forward) {
    const Standing least = governing(forward);
    const Control& control = kernel.controls[static_cast<std::size_t>(least.control)];
    // A law that is flat at this flow, as a ColumnLaw may be at rest, must not make the conductance infinite.
    const double sign = forward ? 1.0 : -1.0, conductance = 1.0 / std::max(least.slope_sm2, least_slope_sm2);
    const double source = control.from_node ? conductance : 0.0,
                 sink = control.to_node ? conductance * least.per_sink : 0.0;
    LinkStep step;
    step.residual_m = least.residual_m;
    step.flow_m3s = sign * (std::abs(flow_m3s) + least.residual_m * conductance);
    step.alpha = forward ? source : sink;
    step.beta = forward ? sink : source;
    step.control = least.control;
    step.loss_m = least.loss_m;
    step.slope_sm2 = least.slope_sm2;
    return step;
  };
  if (link.shut) return {};
  if (flow_m3s > 0.0 || two_way) {
    LinkStep step = model(flow_m3s >= 0.0);
    if (step.flow_m3s > link.most_m3s && flow_m3s >= link.most_m3s) return {.flow_m3s = link.most_m3s};
    return step;
  }
  if (flow_m3s < 0.0 && link.backwards > 0) return model(false);
  if (link.forwards > 0)
    if (LinkStep step = model(true); !(step.residual_m <= 0.0))
      return step;  // also if the residual is not a number, so that this is seen
  if (link.backwards > 0)
    if (LinkStep step = model(false); !(step.residual_m <= 0.0)) return step;
  return {};  // the water stands still
}

}  // namespace runnel::steady
