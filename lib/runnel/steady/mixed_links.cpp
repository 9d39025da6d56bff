#include "runnel/steady/mixed_links.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace runnel::steady {
namespace {

// It is quicker to evaluate so few controls behind the first than to compute a bound.
constexpr std::uint32_t few_controls = 2;

/// A lower bound of the room left at a control that had `margin_m` when last evaluated: since then the source
/// may have sunk, the sink risen and the loss grown.
double bound_m(double margin_m, double source_rise_m, double sink_rise_m, double loss_rise_m) {
  return margin_m + std::min(source_rise_m, 0.0) - std::max(sink_rise_m, 0.0) - std::max(loss_rise_m, 0.0);
}

}  // namespace

void MixedLinks::prepare(const Kernel& kernel) {
  entries_.reserve(kernel.links.size());
  entry_of_.reserve(kernel.links.size());
  longest_m_.reserve(kernel.terms.size());
  batch_.reserve(kernel.terms.size());
  if (!kernel.terms.empty()) batch_.clear(), batch_.add(kernel.terms.front(), 1.0);  // allocates its memory
  const std::size_t padded = kernel.terms.size() + losses::FrictionBatch::most_lanes;
  for (auto* all : {&at_m3s_, &per_metre_m_, &per_metre_slope_}) all->reserve(padded);
}

void MixedLinks::take(const Kernel& kernel, const std::vector<std::uint32_t>& links) {
  entries_.clear();
  entry_of_.clear();
  longest_m_.clear();
  batch_.clear();
  one_law_ = true;
  add(kernel, links);
}

void MixedLinks::add(const Kernel& kernel, const std::vector<std::uint32_t>& links) {
  if (links.empty()) return;
  if (entry_of_.empty()) {
    entry_of_.assign(kernel.links.size(), -1);
    entries_.reserve(links.size());
  }
  for (const std::uint32_t k : links) {
    const Link& link = kernel.links[k];
    entry_of_[k] = static_cast<int>(entries_.size());
    entries_.push_back({.link = k, .slot = static_cast<std::uint32_t>(longest_m_.size())});
    longest_m_.resize(longest_m_.size() + link.terms);
    for (std::uint32_t t = 0; t < link.terms && one_law_; ++t)
      one_law_ = batch_.add(kernel.terms[link.term + t], 1.0);
    measure(kernel, entries_.back());
  }
  const std::size_t padded = longest_m_.size() + losses::FrictionBatch::most_lanes;
  at_m3s_.resize(padded, 0.0);
  per_metre_m_.resize(padded, 0.0);
  per_metre_slope_.resize(padded, 0.0);
  known_ = false;
}

void MixedLinks::measure(const Kernel& kernel, Entry& entry) {
  const Link& link = kernel.links[entry.link];
  double* longest = longest_m_.data() + entry.slot;
  std::fill(longest, longest + link.terms, 0.0);
  entry.most_quadratic_s2m5 = 0.0;
  const auto look = [&](std::uint32_t first, std::uint32_t count) {
    for (std::uint32_t c = first; c < first + count; ++c) {
      const Control& control = kernel.controls[c];
      if (control.mouth >= 0) continue;  // evaluated by itself
      entry.most_quadratic_s2m5 = std::max(entry.most_quadratic_s2m5, control.quadratic_s2m5);
      for (std::uint32_t t = 0; t < link.terms; ++t)
        longest[t] = std::max(longest[t], kernel.lengths_m[control.lengths + t]);
    }
  };
  look(link.forward, link.forwards);
  look(link.backward, link.backwards);
  for (Watch& watch : entry.watch) watch.known = false;
  for (MouthAtFlow& mouth : entry.mouth) mouth = {};
  entry.now = entry.before = {};
}

void MixedLinks::update(const Kernel& kernel, std::uint32_t k) {
  if (entry_of_.empty() || entry_of_[k] < 0) return;
  Entry& entry = entries_[static_cast<std::size_t>(entry_of_[k])];
  known_ = false;
  const Link& link = kernel.links[k];
  for (std::uint32_t t = 0; t < link.terms && one_law_; ++t)
    one_law_ = batch_.set(entry.slot + t, kernel.terms[link.term + t], 1.0);
  measure(kernel, entry);
}

void MixedLinks::evaluate_friction(const Workspace& work) {
  for (const Entry& entry : entries_) {
    const Link& link = work.kernel.links[entry.link];
    const double flow = LinkAtFlow::friction_flow(link, work.state.flow_m3s[entry.link]);
    for (std::uint32_t t = 0; t < link.terms; ++t) {
      known_ = known_ && at_m3s_[entry.slot + t] == flow;
      at_m3s_[entry.slot + t] = flow;
    }
  }
  if (std::exchange(known_, true)) return;
  if (one_law_) {
    if (batch_.size() > 0) batch_.evaluate(at_m3s_.data(), per_metre_m_.data(), per_metre_slope_.data());
    return;
  }
  for (const Entry& entry : entries_) {
    const Link& link = work.kernel.links[entry.link];
    for (std::uint32_t t = 0; t < link.terms; ++t) {
      const losses::LossAndSlope loss = work.kernel.terms[link.term + t].per_metre(at_m3s_[entry.slot + t]);
      per_metre_m_[entry.slot + t] = loss.head_m;
      per_metre_slope_[entry.slot + t] = loss.slope_sm2;
    }
  }
}

Standing MixedLinks::look_at_all(Watch& watch, std::uint32_t first, std::uint32_t count,
                                 const LinkAtFlow& here, const Head& source, const Head& sink,
                                 Standing least) {
  double lowest_m = unbounded, next_m = unbounded;
  int lowest = -1;
  watch.chosen = -1;
  for (std::uint32_t c = first + 1; c < first + count; ++c) {
    const Standing other = here.standing(c, source, sink);
    if (other.residual_m < lowest_m) {
      next_m = lowest_m;
      lowest_m = other.residual_m;
      lowest = other.control;
    } else {
      next_m = std::min(next_m, other.residual_m);
    }
    if (other.before(least)) {
      least = other;
      watch.chosen = other.control;
    }
  }
  looked_at_ += count - 1;
  watch.margin_m = lowest == watch.chosen ? next_m : lowest_m;
  return least;
}

Standing MixedLinks::governing(const Workspace& work, Entry& entry, const LinkAtFlow& here, bool forward) {
  const Link& link = work.kernel.links[entry.link];
  const Head a = work.head(link.a), b = link.b >= 0 ? work.head(link.b) : Head{};
  const Standing least =
      forward ? without_mouth(work, entry, here, true, a, b) : without_mouth(work, entry, here, false, b, a);
  return work.ends_only || work.past_mouths
             ? least
             : here.with_mouth(forward, least, forward ? a : b, entry.mouth[forward ? 0 : 1]);
}

Standing MixedLinks::without_mouth(const Workspace& work, Entry& entry, const LinkAtFlow& here, bool forward,
                                   const Head& source, const Head& sink) {
  const Link& link = work.kernel.links[entry.link];
  const std::uint32_t first = forward ? link.forward : link.backward;
  const std::uint32_t count = (forward ? link.forwards : link.backwards) - (link.mouth(forward) >= 0 ? 1 : 0);
  Standing least = here.end_to_end(forward, source, sink);
  if (work.ends_only || count <= 1) return least;
  Watch& watch = entry.watch[forward ? 0 : 1];
  if (count <= 1 + few_controls) return look_at_all(watch, first, count, here, source, sink, least);
  // No control loses more than all the lengths and the greatest quadratic together.
  const losses::LossAndSlope most = here.loss(longest_m_.data() + entry.slot, entry.most_quadratic_s2m5);
  if (watch.known) {
    Standing best = least;
    if (watch.chosen >= 0) {
      const Standing chosen = here.standing(static_cast<std::uint32_t>(watch.chosen), source, sink);
      ++looked_at_;
      if (chosen.before(best)) best = chosen;
    }
    const Standing rest{
        bound_m(watch.margin_m, source.m - watch.source_m, sink.m - watch.sink_m, most.head_m - watch.loss_m),
        most.slope_sm2, 1.0, 0};
    if (!rest.before(best)) return best;
  }
  watch.known = true;
  watch.source_m = source.m;
  watch.sink_m = sink.m;
  watch.loss_m = most.head_m;
  return look_at_all(watch, first, count, here, source, sink, least);
}

Standing MixedLinks::at_rest(const Workspace& work, std::uint32_t k, bool forward) {
  Entry& entry = entries_[static_cast<std::size_t>(entry_of_[k])];
  const LinkAtFlow here(work.kernel, work.kernel.links[k], 0.0, per_metre_m_.data() + entry.slot,
                        per_metre_slope_.data() + entry.slot);
  return governing(work, entry, here, forward);
}

LinkStep MixedLinks::step_of(const Workspace& work, Entry& entry) {
  const Link& link = work.kernel.links[entry.link];
  const double flow = work.state.flow_m3s[entry.link];
  const LinkAtFlow here(work.kernel, link, flow, per_metre_m_.data() + entry.slot,
                        per_metre_slope_.data() + entry.slot);
  // With only its end-to-end controls a full pipe is one smooth law through zero, whatever crests it has, and
  // so has a slope at rest. Otherwise a whole chain at one head would not respond to the first step.
  const auto full = [&] {
    const Control& ends = work.kernel.controls[link.forward];
    return link.forwards > 0 && link.backwards > 0 && ends.from_node && ends.to_node;
  };
  const bool two_way = work.two_way[entry.link] != 0 || (work.ends_only && full());
  return link_step(work.kernel, link, two_way, flow,
                   [&](bool forward) { return governing(work, entry, here, forward); });
}

void MixedLinks::linearise(Workspace& work, LinkTally& tally) {
  if (entries_.empty()) return;
  evaluate_friction(work);
  for (Entry& entry : entries_) {
    const std::uint32_t k = entry.link;
    const double flow = work.state.flow_m3s[k];
    const LinkStep step = step_of(work, entry);
    work.predicted_m3s[k] = step.flow_m3s;
    work.alpha[k] = step.alpha;
    work.beta[k] = step.beta;
    work.state.control[k] = step.control;
    if (flow != entry.now.flow_m3s) entry.before = entry.now;
    entry.now = {step.control, flow, step.loss_m, step.slope_sm2};
    tally.steepest = std::max({tally.steepest, step.alpha, step.beta});
    tally.flow_m3s += std::abs(flow);
    if (step.control < 0) ++tally.at_rest;
    // A still or capped link has no energy left over, but its flow must be what it says.
    const double energy = step.control >= 0 ? std::abs(step.residual_m) : step.flow_m3s == flow ? 0.0 : 1.0;
    if (energy > tally.worst_m || energy != energy) tally.worst_m = energy;  // one not a number is kept
    if (work.two_way[k] || !dies(flow, step.flow_m3s))
      tally.worst_m3s = std::max(tally.worst_m3s, std::abs(step.flow_m3s - flow));
    tally.sum_m += energy;
  }
}

double MixedLinks::bend(Workspace& work, const std::vector<double>& flow_m3s) const {
  double most_m3s = 0.0;
  for (const Entry& entry : entries_) {
    const Entry::Governed &now = entry.now, &before = entry.before;
    if (now.control < 0 || now.loss_m == 0.0) continue;
    const double q = std::abs(now.flow_m3s), by_m3s = flow_m3s[entry.link] - now.flow_m3s;
    const double came_m3s = before.control == now.control ? q - std::abs(before.flow_m3s) : 0.0;
    const double bend =
        std::copysign(1.0, now.flow_m3s) *
        bend_m3s({q, by_m3s, now.loss_m, now.slope_sm2, came_m3s, now.slope_sm2 - before.slope_sm2});
    work.predicted_m3s[entry.link] += bend;
    most_m3s = std::max(most_m3s, std::abs(bend));
  }
  return most_m3s;
}

}  // namespace runnel::steady
