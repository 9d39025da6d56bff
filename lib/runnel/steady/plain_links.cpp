#include "runnel/steady/plain_links.h"

#include <algorithm>
#include <cmath>

namespace runnel::steady {

void PlainLinks::sort(const Kernel& kernel) {
  const std::size_t count = kernel.links.size();
  if (places_.capacity() < count) {
    batch_.reserve(count);
    places_.reserve(count);
    locals_.reserve(count);
    start_m3s_.reserve(count);
    for (auto& controls : controls_) controls.reserve(count);
    const std::size_t padded = count + losses::FrictionBatch::most_lanes;
    for (auto* all : {&at_m3s_, &loss_m_, &slope_sm2_, &was_at_m3s_, &was_slope_sm2_, &next_m3s_})
      all->reserve(padded);
  }
  batch_.clear();
  places_.clear();
  locals_.clear();
  start_m3s_.clear();
  for (auto& controls : controls_) controls.clear();
  others_.clear();
  if (keeps_slots_) slot_.assign(count, -1);
  any_local_ = known_ = false;
  for (std::uint32_t k = 0; k < count; ++k)
    if (!take(kernel, k)) others_.push_back(k);
  for (auto* flows : {&at_m3s_, &was_at_m3s_, &next_m3s_}) flows->assign(batch_.padded_size(), 0.0);
  loss_m_.assign(batch_.padded_size(), 0.0);
  for (auto* slopes : {&slope_sm2_, &was_slope_sm2_}) slopes->assign(batch_.padded_size(), 1.0);
}

void PlainLinks::prepare(const Kernel& kernel) {
  keeps_slots_ = true;
  others_.reserve(kernel.links.size());
  sort(kernel);
}

bool PlainLinks::plain(const Kernel& kernel, const Link& link) {
  if (link.shut || link.b < 0 || link.terms != 1 || link.most_m3s < unbounded) return false;
  if (!link.two_way_law(kernel)) return false;
  const Control& there = kernel.controls[link.forward];
  const Control& back = kernel.controls[link.backward];
  if (!back.from_node || !back.to_node) return false;
  const double length_m = kernel.lengths_m[there.lengths];
  return length_m > 0.0 && kernel.lengths_m[back.lengths] == length_m;
}

bool PlainLinks::take(const Kernel& kernel, std::uint32_t k) {
  const Link& link = kernel.links[k];
  if (!plain(kernel, link)) return false;
  const Control& there = kernel.controls[link.forward];
  const Control& back = kernel.controls[link.backward];
  if (!batch_.add(kernel.terms[link.term], kernel.lengths_m[there.lengths])) return false;
  if (keeps_slots_) slot_[k] = static_cast<int>(places_.size());
  places_.push_back({k, static_cast<std::uint32_t>(link.a), static_cast<std::uint32_t>(link.b)});
  locals_.push_back({there.quadratic_s2m5, back.quadratic_s2m5, link.smooth_m3s});
  any_local_ = any_local_ || there.quadratic_s2m5 != 0.0 || back.quadratic_s2m5 != 0.0;
  start_m3s_.push_back(link.start_m3s);
  controls_[0].push_back(link.forward);
  controls_[1].push_back(link.backward);
  return true;
}

bool PlainLinks::update(const Kernel& kernel, std::uint32_t k) {
  const Link& link = kernel.links[k];
  const bool now = plain(kernel, link);
  if (slot_[k] < 0) return !now;
  if (!now) return false;
  const auto slot = static_cast<std::size_t>(slot_[k]);
  known_ = known_ && (changed_slot_ < 0 || changed_slot_ == slot_[k]);
  changed_slot_ = slot_[k];
  was_at_m3s_[slot] = 0.0;  // its slope before is another pipe's
  const Control& there = kernel.controls[link.forward];
  const Control& back = kernel.controls[link.backward];
  if (!batch_.set(slot, kernel.terms[link.term], kernel.lengths_m[there.lengths])) return false;
  locals_[slot] = {there.quadratic_s2m5, back.quadratic_s2m5, link.smooth_m3s};
  any_local_ = any_local_ || there.quadratic_s2m5 != 0.0 || back.quadratic_s2m5 != 0.0;
  start_m3s_[slot] = link.start_m3s;
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
  const std::size_t count = places_.size();
  const double* flow_m3s = work.state.flow_m3s.data();
  bool same = true;
  for (std::size_t i = 0; i < count; ++i) {
    const double q = flow_m3s[places_[i].link];
    next_m3s_[i] = q == 0.0 ? start_m3s_[i] : q;
    same &= next_m3s_[i] == at_m3s_[i];
  }
  if (!known_ || !same) {
    known_ = false;
    was_at_m3s_.swap(at_m3s_);
    was_slope_sm2_.swap(slope_sm2_);
    at_m3s_.swap(next_m3s_);
  }
  evaluate_losses();
  work.fine() ? tally_up<true>(work, tally) : tally_up<false>(work, tally);
}

double PlainLinks::bend(Workspace& work, const std::vector<double>& flow_m3s) const {
  double most_m3s = 0.0;
  for (std::size_t i = 0; i < places_.size(); ++i) {
    const std::uint32_t k = places_[i].link;
    const double q = work.state.flow_m3s[k], by_m3s = flow_m3s[k] - q;
    const double bend = bend_m3s(
        {q, by_m3s, loss_m_[i], slope_sm2_[i], q - was_at_m3s_[i], slope_sm2_[i] - was_slope_sm2_[i]});
    work.predicted_m3s[k] += bend;
    most_m3s = std::max(most_m3s, std::abs(bend));
  }
  return most_m3s;
}

template <bool fine>
void PlainLinks::tally_up(Workspace& work, LinkTally& tally) {
  const std::size_t count = places_.size();
  const double* flow_m3s = work.state.flow_m3s.data();
  const double *head_m = work.state.head_m.data(), *low_m = work.low_m.data();
  LinkTally all = tally;
  for (std::size_t i = 0; i < count; ++i) {
    const auto [k, a, b] = places_[i];
    const double q = flow_m3s[k];
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
    all.worst_m3s = std::max(all.worst_m3s, std::abs(off_m3s));
    all.flow_m3s += std::abs(q);
    all.steepest = std::max(all.steepest, conductance);
  }
  tally = all;
}

}  // namespace runnel::steady
