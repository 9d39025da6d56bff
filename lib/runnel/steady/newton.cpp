#include "runnel/steady/newton.h"

#include <algorithm>
#include <cmath>

#include "runnel/linear/node_system.h"

namespace runnel::steady {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

class Newton {
 public:
  Newton(const Kernel& kernel, const NewtonOptions& options)
      : kernel_(kernel), options_(options), place_count_(places()), system_(place_count_, ends()) {
    const std::size_t n = kernel.nodes.size(), m = kernel.links.size();
    state_.head_m.resize(n);
    state_.hold.assign(n, Hold::free);
    state_.surplus_m3s.assign(n, 0.0);
    state_.flow_m3s.assign(m, 0.0);
    state_.control.assign(m, -1);
    for (const Link& link : kernel.links) two_way_.push_back(link.two_way_law(kernel));
    alpha_.assign(m, 0.0);
    beta_.assign(m, 0.0);
    predicted_.assign(m, 0.0);
    ground_.assign(free_.size(), 0.0);
    rhs_.assign(free_.size(), 0.0);
    change_.assign(free_.size(), 0.0);
    pinned_.assign(free_.size(), 0);
    net_.assign(n, 0.0);
    first_guess();
  }

  KernelState run() {
    ends_only_ = true;
    for (int number = 1; number <= options_.max_iterations; ++number) {
      linearise_links();
      balance_places();
      Iteration iteration{number, worst_continuity(), worst_energy_, step_};
      state_.history.push_back(iteration);
      if (!std::isfinite(iteration.continuity_m3s) || !std::isfinite(iteration.energy_m)) {
        state_.outcome = Outcome::not_finite;
        return finish();
      }
      if (settled(iteration)) {
        if (!ends_only_) {
          state_.outcome = Outcome::settled;
          return finish();
        }
        ends_only_ = false;  // it holds with every line full; now with crests, lips of pipes and the rest
        state_.history.pop_back();
        --number;
        continue;
      }
      if (!take_step()) {
        state_.outcome = Outcome::not_finite;
        return finish();
      }
    }
    return finish();
  }

 private:
  int places() {
    index_.assign(kernel_.nodes.size(), -1);
    for (std::size_t v = 0; v < kernel_.nodes.size(); ++v)
      if (!kernel_.nodes[v].fixed) {
        index_[v] = static_cast<int>(free_.size());
        free_.push_back(static_cast<int>(v));
      }
    return static_cast<int>(free_.size());
  }

  std::vector<linear::Ends> ends() const {
    std::vector<linear::Ends> ends;
    ends.reserve(kernel_.links.size());
    for (const Link& link : kernel_.links)
      ends.push_back({index_[at(link.a)], link.b >= 0 ? index_[at(link.b)] : -1});
    return ends;
  }

  /// Heads between the lowest and the highest that can be; flows zero.
  void first_guess() {
    highest_ = -unbounded;
    lowest_ = unbounded;
    bool always_met = false;
    auto source = [&](double h) { highest_ = std::max(highest_, h), lowest_ = std::min(lowest_, h); };
    for (const KernelNode& node : kernel_.nodes) {
      if (node.fixed) source(node.head_m);
      if (node.lip_m < unbounded) source(node.lip_m);
      if (node.draw_floor_m > -unbounded) lowest_ = std::min(lowest_, node.draw_floor_m);
      if (node.inflow_m3s < 0.0 || (node.draw_m3s > 0.0 && node.draw_floor_m == -unbounded)) always_met = true;
    }
    for (const Control& c : kernel_.controls) {
      if (!c.from_node) highest_ = std::max(highest_, c.source_head_m);
      if (!c.to_node) lowest_ = std::min(lowest_, c.sink_head_m);
    }
    if (!(highest_ > -unbounded)) highest_ = lowest_ < unbounded ? lowest_ : 0.0;
    for (std::size_t v = 0; v < kernel_.nodes.size(); ++v)
      state_.head_m[v] = kernel_.nodes[v].fixed ? kernel_.nodes[v].head_m
                         : kernel_.nodes[v].lip_m < unbounded ? kernel_.nodes[v].lip_m : highest_;
    lowest_ = std::min(lowest_, highest_) - (always_met ? 1e7 : 10.0);
    highest_ += 10.0;
  }

  LinkStep linearise_one(const Link& link, double flow, double ha, double hb) const {
    if (!ends_only_ || link.shut) return linearise(kernel_, link, flow, ha, hb);
    Link ends = link;
    ends.forwards = std::min<std::uint32_t>(1, link.forwards);
    ends.backwards = std::min<std::uint32_t>(1, link.backwards);
    return linearise(kernel_, ends, flow, ha, hb);
  }

  void linearise_links() {
    worst_energy_ = 0.0;
    total_flow_ = 0.0;
    double steepest = 0.0;
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      const Link& link = kernel_.links[k];
      const double ha = state_.head_m[at(link.a)], hb = link.b >= 0 ? state_.head_m[at(link.b)] : 0.0;
      const LinkStep step = linearise_one(link, state_.flow_m3s[k], ha, hb);
      predicted_[k] = step.flow_m3s;
      alpha_[k] = step.alpha;
      beta_[k] = step.beta;
      state_.control[k] = step.control;
      steepest = std::max({steepest, step.alpha, step.beta});
      total_flow_ += std::abs(state_.flow_m3s[k]);
      // A still or capped link has no energy left over, but its flow must be what it says.
      const double energy = step.control >= 0 ? std::abs(step.residual_m)
                            : step.flow_m3s == state_.flow_m3s[k] ? 0.0 : 1.0;
      worst_energy_ = std::max(worst_energy_, energy);
    }
    leak_ = 1e-14 * (steepest > 0.0 ? steepest : 1.0);
  }

  /// Net inflow of every place at the present flows, and whether it still is held as it was.
  void balance_places() {
    for (std::size_t v = 0; v < kernel_.nodes.size(); ++v)
      net_[v] = kernel_.nodes[v].inflow_m3s - (state_.hold[v] == Hold::free ? kernel_.nodes[v].draw_m3s : 0.0);
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      net_[at(kernel_.links[k].a)] -= state_.flow_m3s[k];
      if (kernel_.links[k].b >= 0) net_[at(kernel_.links[k].b)] += state_.flow_m3s[k];
    }
  }

  double worst_continuity() {
    double worst = 0.0;
    for (int v : free_) {
      const Hold hold = state_.hold[at(v)];
      if (hold == Hold::free || hold == Hold::draw_none)
        worst = std::max(worst, std::abs(net_[at(v)]));
      else  // a spill below zero, a draw below zero or above what is asked
        worst = std::max({worst, -net_[at(v)],
                          hold == Hold::draw_short ? net_[at(v)] - kernel_.nodes[at(v)].draw_m3s : 0.0});
    }
    for (const KernelNode& node : kernel_.nodes) total_flow_ = std::max(total_flow_, std::abs(node.inflow_m3s));
    return worst;
  }

  /// How far a head stands beyond what holds it: above its lip, below the floor of a draw that it meets.
  double worst_hold() const {
    double worst = 0.0;
    for (int v : free_) {
      const KernelNode& node = kernel_.nodes[at(v)];
      const double head = state_.head_m[at(v)];
      if (state_.hold[at(v)] == Hold::free) worst = std::max(worst, head - node.lip_m);
      if (node.draw_m3s > 0.0 && state_.hold[at(v)] == Hold::free) worst = std::max(worst, node.draw_floor_m - head);
      if (state_.hold[at(v)] == Hold::draw_none) worst = std::max(worst, head - node.draw_floor_m);
    }
    return worst;
  }

  bool settled(const Iteration& it) const {
    return worst_hold() <= options_.energy_m && it.energy_m <= options_.energy_m &&
           it.continuity_m3s <= std::max(options_.continuity_share * total_flow_, options_.continuity_floor_m3s);
  }

  /// Chooses what holds each place, by the present heads and surpluses.
  void choose_holds() {
    for (int v : free_) {
      const KernelNode& node = kernel_.nodes[at(v)];
      Hold& hold = state_.hold[at(v)];
      const double head = state_.head_m[at(v)];
      if (hold == Hold::lip && net_[at(v)] < 0.0) hold = Hold::free;
      else if (hold == Hold::free && head > node.lip_m) hold = Hold::lip;
      if (node.draw_m3s <= 0.0 || node.draw_floor_m == -unbounded) continue;
      if (hold == Hold::free && head < node.draw_floor_m) hold = Hold::draw_short;
      else if (hold == Hold::draw_short && net_[at(v)] > node.draw_m3s) hold = Hold::free;
      else if (hold == Hold::draw_short && net_[at(v)] < 0.0) hold = Hold::draw_none;
      else if (hold == Hold::draw_none && head > node.draw_floor_m) hold = Hold::draw_short;
    }
  }

  bool take_step() {
    choose_holds();
    for (std::size_t i = 0; i < free_.size(); ++i) {
      const std::size_t v = at(free_[i]);
      const KernelNode& node = kernel_.nodes[v];
      const Hold hold = state_.hold[v];
      pinned_[i] = hold == Hold::lip || hold == Hold::draw_short;
      change_[i] = hold == Hold::lip ? node.lip_m - state_.head_m[v]
                   : hold == Hold::draw_short ? node.draw_floor_m - state_.head_m[v] : 0.0;
      rhs_[i] = node.inflow_m3s - (hold == Hold::free ? node.draw_m3s : 0.0);
    }
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      const Link& link = kernel_.links[k];
      if (int a = index_[at(link.a)]; a >= 0) rhs_[at(a)] -= predicted_[k];
      if (int b = link.b >= 0 ? index_[at(link.b)] : -1; b >= 0) rhs_[at(b)] += predicted_[k];
      }
    if (!system_.solve(alpha_, beta_, ground_, rhs_, pinned_, leak_, change_)) return false;
    for (std::size_t i = 0; i < free_.size(); ++i) {
      const std::size_t v = at(free_[i]);
      const double head = std::clamp(state_.head_m[v] + change_[i], lowest_, highest_);
      change_[i] = head - state_.head_m[v];
      state_.head_m[v] = head;
    }
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      const Link& link = kernel_.links[k];
      const int a = index_[at(link.a)], b = link.b >= 0 ? index_[at(link.b)] : -1;
      double flow = predicted_[k];
      if (a >= 0) flow += alpha_[k] * change_[at(a)];
      if (b >= 0) flow -= beta_[k] * change_[at(b)];
      // A link that cannot simply turn comes to rest first; the next step decides from there.
      const double before = state_.flow_m3s[k];
      const bool turns = before > 0.0 ? flow < 0.0 : before < 0.0 ? flow > 0.0 : flow * predicted_[k] < 0.0;
      if (turns && !two_way_[k] && !(ends_only_ && link.backwards > 0)) flow = 0.0;
      if (flow > link.most_m3s) flow = link.most_m3s;
      state_.flow_m3s[k] = flow;
    }
    return true;
  }

  KernelState finish() {
    state_.surplus_m3s = net_;
    for (std::size_t v = 0; v < net_.size(); ++v)
      if (state_.hold[v] == Hold::free && !kernel_.nodes[v].fixed) state_.surplus_m3s[v] = kernel_.nodes[v].draw_m3s;
    return std::move(state_);
  }

  const Kernel& kernel_;
  NewtonOptions options_;
  std::vector<int> index_, free_;
  int place_count_;  ///< counted before `system_` is made: it needs the index
  linear::NodeSystem system_;
  KernelState state_;
  std::vector<double> alpha_, beta_, predicted_, ground_, rhs_, change_, net_;
  std::vector<char> pinned_, two_way_;
  double worst_energy_ = 0.0, total_flow_ = 0.0, leak_ = 0.0, step_ = 1.0;
  double highest_ = 0.0, lowest_ = 0.0;
  bool ends_only_ = false;
};

}  // namespace

KernelState solve(const Kernel& kernel, const NewtonOptions& options) { return Newton(kernel, options).run(); }

}  // namespace runnel::steady
