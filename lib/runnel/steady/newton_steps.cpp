#include "runnel/steady/newton_steps.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"
#include "runnel/steady/holds.h"

namespace runnel::steady {
namespace {

// Polishing adds a step to some ten, which takes time on a large system and is not noticed on a small one.
constexpr std::size_t small_system = 2000;
// An error below this, summed over a system, may be the rounding of flows at great conductances, so steps
// are not shortened for it.
constexpr double rounding_m = 1e-5;
// Full steps settle nearly every system within a dozen; only one that has not settled by then is damped.
constexpr int undamped_steps = 15;
// Steps are shortened to no less than this: shorter ones have never been seen to free a system that circles.
constexpr double least_share = 0.01;
// The least pivot, as a share of the steepest conductance. No conductance that matters is so small, and a
// place whose links do not respond moves far at any inflow, to the bounds of heads (Workspace::lowest_m).
constexpr double leak_share = 1e-20;
// A matrix whose conductances are off by this share makes a step that leaves as much of the error.
constexpr double matrix_share = 1e-5;
// Below this, energies and flows are as good as doubles make them.
constexpr double round_off_m = 1e-13, round_off_share = 1e-13;
// A state so much closer than the limits ask is very close. A system in which only 1e-6 m3/s flows may be off
// by far more and still be within `continuity_floor_m3s`.
constexpr double closer = 0.01, closer_than_continuity = 0.1;

}  // namespace

NewtonSteps::NewtonSteps(const Kernel& kernel, const NewtonOptions& options)
    : options_(options), work_(kernel), system_(static_cast<int>(work_.free.size()), work_.ends) {
  const std::size_t places = work_.free.size();
  ground_.assign(places, 0.0);
  for (auto* all : {&rhs_, &change_}) all->assign(places + 1, 0.0);
  pinned_.assign(places, 0);
  const auto place_of = [&](int end) { return static_cast<std::uint32_t>(end < 0 ? places : at(end)); };
  ends_.reserve(work_.ends.size());
  for (const auto& [a, b] : work_.ends) ends_.push_back({place_of(a), place_of(b)});
  target_flow_.assign(kernel.links.size(), 0.0);
  sort_links();
  if (small()) work_.carry_low();  // on a large system only from `undamped_steps` on
}

bool NewtonSteps::small() const { return options_.polish && work_.free.size() <= small_system; }

void NewtonSteps::prepare() {
  keeps_factors_ = true;
  work_.make_state();
  work_.low_m.reserve(work_.state.head_m.size());
  for (auto* low : {&from_low_, &kept_low_}) low->reserve(work_.state.head_m.size());
  system_.prepare();
  plain_.prepare(work_.kernel);
  mixed_.prepare(work_.kernel);
  sort_links();
  close_continuity_.prepare(work_);
  stranded_.prepare(work_);
  keep();
  from_head_ = work_.state.head_m;
  from_flow_ = work_.state.flow_m3s;
  for (auto* all : {&factor_alpha_, &factor_beta_}) all->reserve(work_.alpha.size());
  factor_pinned_.reserve(pinned_.size());
}

void NewtonSteps::sort_links() {
  plain_.sort(work_.kernel);
  mixed_.take(work_.kernel, plain_.others());
}

void NewtonSteps::update(const std::vector<std::uint32_t>& links) {
  for (const std::uint32_t k : links) {
    if (!plain_.update(work_.kernel, k)) return sort_links();
    mixed_.update(work_.kernel, k);
  }
}

void NewtonSteps::linearise() {
  work_.tally = {};
  plain_.linearise(work_, work_.tally);
  mixed_.add(work_.kernel, plain_.leaving());
  mixed_.linearise(work_, work_.tally);
  work_.total_flow_m3s = std::max(work_.tally.flow_m3s, work_.most_inflow_m3s);
}

void NewtonSteps::evaluate() {
  linearise();
  balance_places(work_);
}

bool NewtonSteps::close() const {
  return work_.tally.worst_m <= options_.energy_m &&
         work_.tally.worst_m3s <=
             std::max(options_.flow_share * work_.total_flow_m3s, options_.continuity_floor_m3s) &&
         worst_hold_m(work_) <= options_.energy_m;
}

/// What is left open of the balance of a place.
double NewtonSteps::imbalance_m3s() const {
  return std::max(options_.continuity_share * work_.total_flow_m3s, options_.continuity_floor_m3s);
}

bool NewtonSteps::continuous() const { return work_.worst_net_m3s <= imbalance_m3s(); }

void NewtonSteps::record() {
  auto& history = work_.state.history;
  history.push_back(
      {static_cast<int>(history.size()) + 1, work_.worst_net_m3s, work_.tally.worst_m, work_.step});
}

bool NewtonSteps::iterate(int steps) {
  double wrong_before = unbounded;
  for (int step = 0;; ++step) {
    evaluate();
    if (step > undamped_steps) damp(wrong_before);
    if (step >= undamped_steps) {
      work_.carry_low();  // steps may be circling because heads are rounded
      wrong_before = wrong_m(work_);
    }
    if (close() && !continuous()) {
      close_continuity_.run(work_);
      evaluate();
    }
    if (!std::isfinite(work_.worst_net_m3s) || !std::isfinite(work_.tally.worst_m)) {
      work_.state.outcome = Outcome::not_finite;
      return false;
    }
    record();
    if (close() && continuous()) return true;
    if (step >= steps || exhausted() || !take_step(true)) return false;
  }
}

bool NewtonSteps::stands_with_all_controls() {
  work_.ends_only = work_.past_mouths = false;
  evaluate();
  if (!close() || !continuous()) return false;
  record();
  return true;
}

bool NewtonSteps::iterate_near(int steps) {
  near_ = true;
  const bool settled = iterate(steps);
  near_ = false;
  return settled;
}

double NewtonSteps::pinned_at_m(int node) const {
  const KernelNode& at_node = work_.kernel.nodes[at(node)];
  return work_.state.hold[at(node)] == Hold::lip ? at_node.lip_m : at_node.draw_floor_m;
}

void NewtonSteps::set_up_places() {
  const std::size_t places = work_.free.size();
  std::fill(pinned_.begin(), pinned_.end(), 0);
  for (std::size_t i = 0; i < places; ++i) rhs_[i] = work_.asked_m3s[at(work_.free[i])];
  if (ground_m2s_ != work_.storage_m2s) {
    ground_m2s_ = work_.storage_m2s;
    std::fill(ground_.begin(), ground_.end(), ground_m2s_);
  }
  if (work_.storage_m2s != 0.0)
    for (std::size_t i = 0; i < places; ++i) rhs_[i] -= stored_m3s(work_, at(work_.free[i]));
  for (int v : work_.held) {
    const KernelNode& node = work_.kernel.nodes[at(v)];
    const Hold hold = work_.state.hold[at(v)];
    const std::size_t i = at(work_.index[at(v)]);
    pinned_[i] = hold == Hold::lip || hold == Hold::draw_short;
    if (hold != Hold::free) rhs_[i] += node.draw_m3s;
    if (!pinned_[i]) continue;
    change_[i] = Head{pinned_at_m(v)}.above(work_.head(v));
  }
  for (std::size_t k = 0; k < ends_.size(); ++k) {
    const auto [a, b] = ends_[k];
    rhs_[a] -= work_.predicted_m3s[k];
    rhs_[b] += work_.predicted_m3s[k];
  }
}

bool NewtonSteps::solve_for_heads() {
  if (near_ && work_.state.history.size() == 1 && factors_hold()) {
    system_.solve_again(factor_alpha_, factor_beta_, rhs_, pinned_, change_);
    return true;
  }
  if (keeps_factors_ || near_) {
    factor_alpha_ = work_.alpha;
    factor_beta_ = work_.beta;
    factor_pinned_ = pinned_;
    factor_storage_m2s_ = work_.storage_m2s;
  }
  const double leak = leak_share * (work_.tally.steepest > 0.0 ? work_.tally.steepest : 1.0);
  if (system_.solve(work_.alpha, work_.beta, ground_, rhs_, pinned_, leak, change_)) return true;
  factor_alpha_.clear();
  return false;
}

/// Whether the matrix of this step is nearly the one factorised last, as it is where only given heads or
/// inflows have changed since a state was settled.
bool NewtonSteps::factors_hold() const {
  if (factor_alpha_.empty() || factor_storage_m2s_ != work_.storage_m2s || factor_pinned_ != pinned_)
    return false;
  bool hold = true;
  for (std::size_t k = 0; k < factor_alpha_.size(); ++k) {
    hold &= std::abs(work_.alpha[k] - factor_alpha_[k]) <= matrix_share * factor_alpha_[k];
    hold &= std::abs(work_.beta[k] - factor_beta_[k]) <= matrix_share * factor_beta_[k];
  }
  return hold;
}

/// A Newton step goes along tangents and leaves what the laws bend away from them. Where flows change little
/// that is known beforehand, and by the same factors the step is taken anew with it: its error is then of the
/// third order and no friction had to be evaluated for it.
void NewtonSteps::follow_bends() {
  aim();
  const double bend_m3s = std::max(plain_.bend(work_, target_flow_), mixed_.bend(work_, target_flow_));
  if (bend_m3s <= round_off_share * work_.total_flow_m3s) return;
  set_up_places();
  system_.solve_again(factor_alpha_, factor_beta_, rhs_, pinned_, change_);
}

bool NewtonSteps::take_step(bool open_stranded) {
  if (work_.state.history.size() > 1) choose_holds(work_);  // the first step asks what the springs ask
  if (open_stranded) stranded_.open(work_, mixed_, imbalance_m3s());
  set_up_places();
  if (!solve_for_heads()) return false;
  if (near_) follow_bends();
  from_head_ = work_.state.head_m;
  from_low_ = work_.low_m;
  from_flow_ = work_.state.flow_m3s;
  for (std::size_t i = 0; i < work_.free.size(); ++i) {
    const double head = from_head_[at(work_.free[i])];
    const double to = head + change_[i];
    if (to < work_.lowest_m) change_[i] = work_.lowest_m - head;
    if (to > work_.highest_m) change_[i] = work_.highest_m - head;
  }
  aim();
  move(1.0);
  return true;
}

/// The flows that follow from the changes of heads.
void NewtonSteps::aim() {
  for (std::size_t k = 0; k < ends_.size(); ++k) {
    const auto [a, b] = ends_[k];
    target_flow_[k] = work_.predicted_m3s[k] + work_.alpha[k] * change_[a] - work_.beta[k] * change_[b];
  }
}

void NewtonSteps::move_heads(double share) {
  if (!work_.fine()) {
    for (std::size_t i = 0; i < work_.free.size(); ++i) {
      const std::size_t v = at(work_.free[i]);
      work_.state.head_m[v] = from_head_[v] + share * change_[i];
    }
  } else {
    for (std::size_t i = 0; i < work_.free.size(); ++i) {
      const std::size_t v = at(work_.free[i]);
      work_.move_head(v, from_head_[v], from_low_[v], share * change_[i]);
    }
  }
  if (share != 1.0) return;
  for (int v : work_.held)
    if (pinned_[at(work_.index[at(v)])]) work_.set_head(at(v), pinned_at_m(v));
}

/// Goes a share of the way from where the step began to the solution of the linear model.
void NewtonSteps::move(double share) {
  work_.step = share;
  move_heads(share);
  if (share == 1.0 && work_.all_turn_freely) {
    work_.state.flow_m3s = target_flow_;
    return;
  }
  for (std::size_t k = 0; k < work_.kernel.links.size(); ++k) {
    const double before = from_flow_[k];
    double flow = share == 1.0 ? target_flow_[k] : before + share * (target_flow_[k] - before);
    if (work_.two_way[k] && !work_.capped[k]) {
      work_.state.flow_m3s[k] = flow;
      continue;
    }
    const Link& link = work_.kernel.links[k];
    // A link that cannot simply turn comes to rest first; the next step decides from there.
    const double goes = before != 0.0 ? before : work_.predicted_m3s[k];
    const bool turns = goes > 0.0 ? flow < 0.0 : goes < 0.0 && flow > 0.0;
    if (turns && !work_.two_way[k] && !(work_.ends_only && link.backwards > 0)) flow = 0.0;
    work_.state.flow_m3s[k] = std::min(flow, link.most_m3s);
  }
}

/// The laws are nearly convex, so full steps settle almost always. Where the bend between laminar and
/// turbulent flow makes them circle, steps are shortened until the error falls.
void NewtonSteps::damp(double wrong_before_m) {
  const double enough_m = std::max(wrong_before_m, rounding_m);
  for (double share = 0.5; share > least_share && !(wrong_m(work_) < enough_m); share *= 0.5) {
    move(share);
    evaluate();
  }
}

void NewtonSteps::keep() {
  kept_head_ = work_.state.head_m;
  kept_low_ = work_.low_m;
  kept_flow_ = work_.state.flow_m3s;
  kept_hold_ = work_.state.hold;
}

void NewtonSteps::give_back() {
  work_.state.head_m = kept_head_;
  work_.low_m = kept_low_;
  work_.state.flow_m3s = kept_flow_;
  work_.state.hold = kept_hold_;
  evaluate();
}

bool NewtonSteps::balanced() {
  close_continuity_.run(work_);
  evaluate();
  return close() && continuous();
}

bool NewtonSteps::very_close() const {
  double energy_m = round_off_m, share = round_off_share;
  if (!options_.to_round_off) {
    energy_m = std::max(energy_m, closer * options_.energy_m);
    share = std::max(share, closer_than_continuity * options_.continuity_share);
  }
  return work_.tally.worst_m < energy_m && work_.tally.worst_m3s <= share * work_.total_flow_m3s &&
         work_.worst_net_m3s <= round_off_share * work_.total_flow_m3s;
}

void NewtonSteps::step_closer() {
  keep();
  const bool stepped = take_step(false);
  if (stepped) balance_places(work_);  // the conductances of the step before serve to choose by
  if (balanced()) {
    if (stepped) record();
  } else {
    give_back();
  }
}

void NewtonSteps::polish() {
  if (!small()) return;
  if (!very_close()) step_closer();
  if (!stop_trickles() || balanced()) return;
  // What a trickle fed stops with it, as soon as continuity is asked.
  const bool follows = take_step(false);
  evaluate();
  if (!follows || !balanced()) give_back();
}

/// Near rest a quadratic law only halves its flow from step to step. A link in which the water would stand
/// still at the heads found, and flows only within the tolerance of energy, is set to rest.
bool NewtonSteps::stop_trickles() {
  bool any = false;
  for (std::size_t k = 0; k < work_.kernel.links.size(); ++k) {
    const Link& link = work_.kernel.links[k];
    if (work_.two_way[k] || work_.state.flow_m3s[k] == 0.0) continue;
    const double ha = work_.state.head_m[at(link.a)], hb = link.b >= 0 ? work_.state.head_m[at(link.b)] : 0.0;
    if (!stands_still(work_.kernel, link, ha, hb)) continue;
    if (!any) keep();
    work_.state.flow_m3s[k] = 0.0;
    any = true;
  }
  if (any) evaluate();
  return any;
}

}  // namespace runnel::steady
