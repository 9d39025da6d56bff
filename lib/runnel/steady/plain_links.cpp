#include "runnel/steady/plain_links.h"

#include <algorithm>
#include <cmath>

namespace runnel::steady {

PlainLinks::PlainLinks(const Kernel& kernel) {
  const std::size_t count = kernel.links.size();
  batch_.reserve(count);
  places_.reserve(count);
  locals_.reserve(count);
  start_m3s_.reserve(count);
  for (auto& controls : controls_) controls.reserve(count);
  for (std::uint32_t k = 0; k < kernel.links.size(); ++k)
    if (!take(kernel, k)) others_.push_back(k);
  at_m3s_.assign(batch_.padded_size(), 0.0);
  loss_m_.assign(batch_.padded_size(), 0.0);
  slope_sm2_.assign(batch_.padded_size(), 1.0);
}

bool PlainLinks::take(const Kernel& kernel, std::uint32_t k) {
  const Link& link = kernel.links[k];
  if (link.shut || link.b < 0 || link.terms != 1 || link.most_m3s < unbounded) return false;
  if (link.forwards != 1 || link.backwards != 1) return false;
  const Control& there = kernel.controls[link.forward];
  const Control& back = kernel.controls[link.backward];
  if (!there.from_node || !there.to_node || !back.from_node || !back.to_node) return false;
  const double length_m = kernel.lengths_m[there.lengths];
  if (!(length_m > 0.0) || kernel.lengths_m[back.lengths] != length_m) return false;
  if (!batch_.add(kernel.terms[link.term], length_m)) return false;
  places_.push_back({k, static_cast<std::uint32_t>(link.a), static_cast<std::uint32_t>(link.b)});
  locals_.push_back({there.quadratic_s2m5, back.quadratic_s2m5, link.smooth_m3s});
  any_local_ = any_local_ || there.quadratic_s2m5 != 0.0 || back.quadratic_s2m5 != 0.0;
  start_m3s_.push_back(link.start_m3s);
  controls_[0].push_back(link.forward);
  controls_[1].push_back(link.backward);
  return true;
}

void PlainLinks::add_local_losses() {
  for (std::size_t i = 0; i < places_.size(); ++i) {
    const double q = at_m3s_[i], squared = q * q, s2 = locals_[i].smooth_m3s * locals_[i].smooth_m3s;
    const double k = q >= 0.0 ? locals_[i].forward_s2m5 : locals_[i].backward_s2m5;
    const double root = std::sqrt(squared + s2);
    loss_m_[i] += k * q * root;
    slope_sm2_[i] += k * (2.0 * squared + s2) / std::max(root, 1e-300);
  }
}

void PlainLinks::linearise(const std::vector<double>& flow_m3s, const std::vector<double>& head_m,
                           std::vector<double>& predicted_m3s, std::vector<double>& alpha,
                           std::vector<double>& beta, std::vector<int>& control, LinkTally& tally) {
  const std::size_t count = places_.size();
  for (std::size_t i = 0; i < count; ++i) {
    const double q = flow_m3s[places_[i].link];
    at_m3s_[i] = q == 0.0 ? start_m3s_[i] : q;
  }
  batch_.evaluate(at_m3s_.data(), loss_m_.data(), slope_sm2_.data());
  if (any_local_) add_local_losses();
  LinkTally all = tally;
  for (std::size_t i = 0; i < count; ++i) {
    const auto [k, a, b] = places_[i];
    const double q = flow_m3s[k];
    const bool rest = q == 0.0;  // the slope is the chord to the start flow then
    const double conductance = rest ? at_m3s_[i] / loss_m_[i] : 1.0 / slope_sm2_[i];
    const double left_m = head_m[a] - head_m[b] - (rest ? 0.0 : loss_m_[i]);
    predicted_m3s[k] = q + left_m * conductance;
    alpha[k] = beta[k] = conductance;
    control[k] = static_cast<int>(controls_[q < 0.0][i]);
    const double size_m = std::abs(left_m);
    all.worst_m = size_m > all.worst_m || size_m != size_m ? size_m : all.worst_m;
    all.sum_m += size_m;
    all.flow_m3s += std::abs(q);
    all.steepest = std::max(all.steepest, conductance);
  }
  tally = all;
}

}  // namespace runnel::steady
