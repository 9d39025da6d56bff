#include "runnel/steady/stranded_places.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/base/index.h"

namespace runnel::steady {
namespace {

// What is just open carries next to nothing, in the direction in which it opens.
constexpr double next_to_nothing_m3s = std::numeric_limits<double>::min();

}  // namespace

void StrandedPlaces::prepare(const Workspace& work) {
  const std::size_t n = work.kernel.nodes.size();
  answer_.reserve(n);
  openings_.reserve(n);
}

bool StrandedPlaces::find_stranded(const Workspace& work) {
  answer_.assign(work.kernel.nodes.size(), 0.0);
  for (std::size_t k = 0; k < work.kernel.links.size(); ++k) {
    const Link& link = work.kernel.links[k];
    answer_[at(link.a)] += work.alpha[k];
    if (link.b >= 0) answer_[at(link.b)] += work.beta[k];
  }
  for (const int v : work.held) {
    const Hold hold = work.state.hold[at(v)];
    if (hold == Hold::lip || hold == Hold::draw_short) answer_[at(v)] = 1.0;
  }
  return std::any_of(work.free.begin(), work.free.end(), [&](int v) { return answer_[at(v)] == 0.0; });
}

void StrandedPlaces::offer(const Workspace& work, MixedLinks& mixed, std::uint32_t k, bool forward) {
  const Link& link = work.kernel.links[k];
  const int from = forward ? link.a : link.b, to = forward ? link.b : link.a;
  const auto wants = [&](int v, bool rising) {
    return v >= 0 && !work.kernel.nodes[at(v)].fixed && answer_[at(v)] == 0.0 &&
           rising == (work.net_m3s[at(v)] >= -nothing_m3s_);
  };
  const bool rises = wants(from, true), sinks = wants(to, false);
  if ((!rises && !sinks) || (forward ? link.forwards : link.backwards) == 0) return;
  const Standing rest = mixed.at_rest(work, k, forward);
  const Control& control = work.kernel.controls[at(rest.control)];
  const auto offer_to = [&](int v, bool rising) {
    if (!(rising ? control.from_node : control.to_node)) return;  // this place has no say in it
    const double per_head = rising ? 1.0 : rest.per_sink, move_m = std::max(-rest.residual_m, 0.0) / per_head;
    if (!std::isfinite(move_m) || !(move_m < openings_[at(v)].move_m)) return;
    openings_[at(v)] = {static_cast<int>(k), forward, move_m, rest.slope_sm2, per_head};
  };
  if (rises) offer_to(from, true);
  if (sinks) offer_to(to, false);
}

void StrandedPlaces::take(Workspace& work, std::size_t node, const Opening& opening) {
  const auto k = at(opening.link);
  if (work.alpha[k] != 0.0 || work.beta[k] != 0.0) return;  // it answers to the place at its other end
  const Link& link = work.kernel.links[k];
  const bool rising = at(opening.forward ? link.a : link.b) == node;
  work.move_head(node, work.state.head_m[node], work.low(node), rising ? opening.move_m : -opening.move_m);
  const double answer = opening.per_head / std::max(opening.slope_sm2, least_slope_sm2);
  (at(link.a) == node ? work.alpha : work.beta)[k] = answer;
  work.predicted_m3s[k] = opening.forward ? next_to_nothing_m3s : -next_to_nothing_m3s;
}

void StrandedPlaces::open(Workspace& work, MixedLinks& mixed, double nothing_m3s) {
  nothing_m3s_ = nothing_m3s;
  if (work.tally.at_rest == 0 || work.storage_m2s != 0.0 || !find_stranded(work)) return;
  openings_.assign(work.kernel.nodes.size(), {});
  for (std::uint32_t k = 0; k < work.kernel.links.size(); ++k) {
    if (work.state.control[k] >= 0 || work.state.flow_m3s[k] != 0.0 || work.kernel.links[k].shut) continue;
    offer(work, mixed, k, true);
    offer(work, mixed, k, false);
  }
  for (const int v : work.free)
    if (openings_[at(v)].link >= 0) take(work, at(v), openings_[at(v)]);
}

}  // namespace runnel::steady
