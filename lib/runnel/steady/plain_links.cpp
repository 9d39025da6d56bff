#include "runnel/steady/plain_links.h"

#include <algorithm>
#include <cmath>

namespace runnel::steady {
namespace {

bool same_length(double one_m, double other_m) {
  return std::abs(one_m - other_m) <= rounding_of_lengths * std::max(one_m, other_m);
}

}  // namespace

void PlainLinks::sort(const Kernel& kernel) {
  const std::size_t count = kernel.links.size();
  if (places_.capacity() < count) {
    batch_.reserve(count);
    places_.reserve(count);
    locals_.reserve(count);
    start_m3s_.reserve(count);
    for (auto& controls : controls_) controls.reserve(count);
    const std::size_t padded = count + losses::FrictionBatch::most_lanes;
    for (auto* all : {&at_m3s_, &loss_m_, &slope_sm2_, &was_at_m3s_, &was_slope_sm2_}) all->reserve(padded);
  }
  batch_.clear();
  places_.clear();
  locals_.clear();
  start_m3s_.clear();
  for (auto& controls : controls_) controls.clear();
  others_.clear();
  if (keeps_slots_) slot_.assign(count, -1);
  any_local_ = known_ = false;
  crossing_.clear();
  crossings_.clear();
  Crossings both;
  for (std::uint32_t k = 0; k < count; ++k) {
    const Kind is = kind(kernel, kernel.links[k], both);
    if (is == Kind::crossing) {
      crossing_.push_back(k);
      crossings_.push_back(both);
    } else if (is == Kind::other || !take(kernel, k)) {
      others_.push_back(k);
    }
  }
  take_crossing(kernel);
  for (auto* flows : {&at_m3s_, &was_at_m3s_}) flows->assign(batch_.padded_size(), 0.0);
  loss_m_.assign(batch_.padded_size(), 0.0);
  for (auto* slopes : {&slope_sm2_, &was_slope_sm2_}) slopes->assign(batch_.padded_size(), 1.0);
}

void PlainLinks::take_crossing(const Kernel& kernel) {
  crossing_from_ = places_.size();
  std::size_t taken = 0;
  for (std::size_t i = 0; i < crossing_.size(); ++i) {
    if (take(kernel, crossing_[i]))
      crossings_[taken++] = crossings_[i];
    else
      others_.push_back(crossing_[i]);
  }
  crossings_.resize(taken);
  left_.assign(taken, 0);
}

void PlainLinks::prepare(const Kernel& kernel) {
  keeps_slots_ = true;
  const std::size_t count = kernel.links.size();
  for (auto* links : {&others_, &crossing_, &leaving_}) links->reserve(count);
  left_.reserve(count);
  crossings_.reserve(count);
  sort(kernel);
}

/// `both` is set for a link of the crossing kind.
PlainLinks::Kind PlainLinks::kind(const Kernel& kernel, const Link& link, Crossings& both) {
  if (link.shut || link.b < 0 || link.terms != 1 || link.most_m3s < unbounded) return Kind::other;
  if (link.forwards == 0 || link.backwards == 0 || link.behind_valves > 0) return Kind::other;
  if (link.forward_column >= 0 || link.backward_column >= 0) return Kind::other;
  const Control& there = kernel.controls[link.forward];
  const Control& back = kernel.controls[link.backward];
  if (!there.from_node || !there.to_node || !back.from_node || !back.to_node) return Kind::other;
  const double length_m = kernel.lengths_m[there.lengths];
  if (!(length_m > 0.0)) return Kind::other;
  const bool one_stretch = there.lengths == back.lengths;
  if (!one_stretch && !same_length(kernel.lengths_m[back.lengths], length_m)) return Kind::other;
  if (link.forwards == 1 && link.backwards == 1) return Kind::plain;
  const auto forward = Crossing::of(kernel, link, true);
  const auto backward = forward ? Crossing::of(kernel, link, false) : std::nullopt;
  if (!backward) return Kind::other;
  both = {*forward, *backward};
  return Kind::crossing;
}

bool PlainLinks::take(const Kernel& kernel, std::uint32_t k) {
  const Link& link = kernel.links[k];
  if (!batch_.add(kernel.terms[link.term], kernel.lengths_m[kernel.controls[link.forward].lengths]))
    return false;
  const std::size_t slot = places_.size();
  if (keeps_slots_) slot_[k] = static_cast<int>(slot);
  places_.push_back({k, static_cast<std::uint32_t>(link.a), static_cast<std::uint32_t>(link.b)});
  locals_.emplace_back();
  start_m3s_.emplace_back();
  controls_[0].push_back(link.forward);
  controls_[1].push_back(link.backward);
  put(kernel, slot);
  return true;
}

/// Takes over the figures of a link but for its friction and its crossings.
void PlainLinks::put(const Kernel& kernel, std::size_t slot) {
  const Link& link = kernel.links[places_[slot].link];
  const Control& there = kernel.controls[link.forward];
  const Control& back = kernel.controls[link.backward];
  locals_[slot] = {there.quadratic_s2m5, back.quadratic_s2m5, link.smooth_m3s};
  any_local_ = any_local_ || there.quadratic_s2m5 != 0.0 || back.quadratic_s2m5 != 0.0;
  start_m3s_[slot] = link.start_m3s;
}

bool PlainLinks::update(const Kernel& kernel, std::uint32_t k) {
  const Link& link = kernel.links[k];
  Crossings both;
  const Kind now = kind(kernel, link, both);
  if (slot_[k] < 0) return now == Kind::other;
  const auto slot = static_cast<std::size_t>(slot_[k]);
  if (now != (slot < crossing_from_ ? Kind::plain : Kind::crossing)) return false;
  known_ = known_ && (changed_slot_ < 0 || changed_slot_ == slot_[k]);
  changed_slot_ = slot_[k];
  was_at_m3s_[slot] = 0.0;  // its slope before is another pipe's
  const Control& there = kernel.controls[link.forward];
  if (!batch_.set(slot, kernel.terms[link.term], kernel.lengths_m[there.lengths])) return false;
  put(kernel, slot);
  if (now == Kind::crossing) crossings_[slot - crossing_from_] = both;
  return true;
}

void PlainLinks::add_local_losses(std::size_t first, std::size_t end) {
  for (std::size_t i = first; i < end; ++i) {
    const double q = at_m3s_[i], squared = q * q, s2 = locals_[i].smooth_m3s * locals_[i].smooth_m3s;
    const double k = q >= 0.0 ? locals_[i].forward_s2m5 : locals_[i].backward_s2m5;
    const double root = std::sqrt(squared + s2);
    loss_m_[i] += k * q * root;
    slope_sm2_[i] += k * (2.0 * squared + s2) / std::max(root, 1e-300);
  }
}

void PlainLinks::evaluate_losses() {
  std::size_t first = 0, end = places_.size();
  if (!known_) {
    batch_.evaluate(at_m3s_.data(), loss_m_.data(), slope_sm2_.data());
  } else if (changed_slot_ >= 0) {
    const auto slot = static_cast<std::size_t>(changed_slot_);
    batch_.evaluate_around(slot, at_m3s_.data(), loss_m_.data(), slope_sm2_.data());
    first = slot / losses::FrictionBatch::most_lanes * losses::FrictionBatch::most_lanes;
    end = std::min(end, first + losses::FrictionBatch::most_lanes);
  } else {
    return;
  }
  if (any_local_) add_local_losses(first, end);
  known_ = true;
  changed_slot_ = -1;
}

void PlainLinks::linearise(Workspace& work, LinkTally& tally) {
  const double* flow_m3s = work.state.flow_m3s.data();
  const auto evaluate_at = [&](std::size_t i) {
    const double q = flow_m3s[places_[i].link];
    return q == 0.0 ? start_m3s_[i] : q;
  };
  std::size_t same = 0;
  while (same < places_.size() && evaluate_at(same) == at_m3s_[same]) ++same;
  if (!known_ || same < places_.size()) {
    known_ = false;
    was_at_m3s_.swap(at_m3s_);
    was_slope_sm2_.swap(slope_sm2_);
    for (std::size_t i = 0; i < places_.size(); ++i) at_m3s_[i] = evaluate_at(i);
  }
  evaluate_losses();
  tally_up(work, tally);
}

double PlainLinks::bend(Workspace& work, const std::vector<double>& flow_m3s) const {
  double most_m3s = 0.0;
  for (std::size_t i = 0; i < places_.size(); ++i) {
    if (i >= crossing_from_ && left_[i - crossing_from_]) continue;
    const std::uint32_t k = places_[i].link;
    const double q = work.state.flow_m3s[k], by_m3s = flow_m3s[k] - q;
    const double bend = bend_m3s(
        {q, by_m3s, loss_m_[i], slope_sm2_[i], q - was_at_m3s_[i], slope_sm2_[i] - was_slope_sm2_[i]});
    work.predicted_m3s[k] += bend;
    most_m3s = std::max(most_m3s, std::abs(bend));
  }
  return most_m3s;
}

/// Whether the end-to-end control alone decides at this flow and these heads. At rest the high points may
/// decide which way water can go at all.
bool PlainLinks::stays(const Workspace& work, std::size_t slot, double flow_m3s, double head_a_m,
                       double head_b_m) const {
  if (work.ends_only) return true;
  if (flow_m3s == 0.0) return false;
  const bool forward = flow_m3s > 0.0;
  const Crossings& both = crossings_[slot - crossing_from_];
  const Crossing& crossing = forward ? both.forward : both.backward;
  const double size_m3s = std::abs(flow_m3s);
  return crossing.clear(size_m3s, locals_[slot].smooth_m3s, forward ? head_b_m : head_a_m) &&
         (work.past_mouths || crossing.drowned(size_m3s, forward ? head_a_m : head_b_m));
}

void PlainLinks::tally_up(Workspace& work, LinkTally& tally) {
  leaving_.clear();
  const std::size_t count = places_.size();
  work.fine() ? tally_up<true, false>(work, 0, crossing_from_, tally)
              : tally_up<false, false>(work, 0, crossing_from_, tally);
  if (crossing_from_ == count) return;
  work.fine() ? tally_up<true, true>(work, crossing_from_, count, tally)
              : tally_up<false, true>(work, crossing_from_, count, tally);
}

template <bool fine, bool crossing>
void PlainLinks::tally_up(Workspace& work, std::size_t first, std::size_t end, LinkTally& tally) {
  const double* flow_m3s = work.state.flow_m3s.data();
  const double *head_m = work.state.head_m.data(), *low_m = work.low_m.data();
  LinkTally all = tally;
  for (std::size_t i = first; i < end; ++i) {
    const auto [k, a, b] = places_[i];
    const double q = flow_m3s[k];
    if constexpr (crossing) {
      char& left = left_[i - crossing_from_];
      if (!left && !stays(work, i, q, head_m[a], head_m[b])) left = 1, leaving_.push_back(k);
      if (left) continue;
    }
    const bool rest = q == 0.0;  // then the slope is that of the chord to the start flow
    const double conductance = rest ? at_m3s_[i] / loss_m_[i] : 1.0 / slope_sm2_[i];
    double room_m = head_m[a] - head_m[b];
    if constexpr (fine) room_m += low_m[a] - low_m[b];
    const double left_m = room_m - (rest ? 0.0 : loss_m_[i]);
    const double off_m3s = left_m * conductance;
    work.predicted_m3s[k] = q + off_m3s;
    work.alpha[k] = work.beta[k] = conductance;
    work.state.control[k] = static_cast<int>(controls_[q < 0.0][i]);
    const double size_m = std::abs(left_m);
    all.worst_m = size_m > all.worst_m || size_m != size_m ? size_m : all.worst_m;
    all.sum_m += size_m;
    if (!crossing || !dies(q, q + off_m3s)) all.worst_m3s = std::max(all.worst_m3s, std::abs(off_m3s));
    all.flow_m3s += std::abs(q);
    all.steepest = std::max(all.steepest, conductance);
  }
  tally = all;
}

}  // namespace runnel::steady
