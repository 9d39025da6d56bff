#include "runnel/steady/newton.h"

#include <algorithm>
#include <cmath>

#include "runnel/linear/node_system.h"
#include "runnel/steady/balance.h"
#include "runnel/steady/plain_links.h"

namespace runnel::steady {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

constexpr std::size_t small_system = 2000;
constexpr double rounding_m = 1e-5;
constexpr int near_steps = 10, undamped_steps = 15, plain_steps = 40, slow_steps = 25;

class Newton {
 public:
  Newton(const Kernel& kernel, const NewtonOptions& options)
      : kernel_(kernel),
        options_(options),
        place_count_(places()),
        ends_(ends()),
        system_(place_count_, ends_),
        plain_(kernel) {
    const std::size_t n = kernel.nodes.size(), m = kernel.links.size();
    state_.head_m.resize(n);
    state_.hold.assign(n, Hold::free);
    state_.surplus_m3s.assign(n, 0.0);
    state_.flow_m3s.assign(m, 0.0);
    state_.control.assign(m, -1);
    two_way_.reserve(m);
    capped_.reserve(m);
    asked_.reserve(n);
    for (const Link& link : kernel.links) {
      two_way_.push_back(link.two_way_law(kernel));
      capped_.push_back(link.most_m3s < unbounded);
      if (link.forwards > 1 || link.backwards > 1 || (link.backwards > 0 && !two_way_.back()))
        ends_suffice_ = false;
    }
    for (std::size_t v = 0; v < n; ++v) {
      const KernelNode& node = kernel.nodes[v];
      asked_.push_back(node.inflow_m3s - node.draw_m3s);
      most_inflow_ = std::max(most_inflow_, std::abs(node.inflow_m3s));
      if (!node.fixed && (node.lip_m < unbounded || node.draw_m3s > 0.0))
        held_.push_back(static_cast<int>(v));
    }
    alpha_.assign(m, 0.0);
    beta_.assign(m, 0.0);
    predicted_.assign(m, 0.0);
    ground_.assign(free_.size(), 0.0);
    rhs_.assign(free_.size(), 0.0);
    change_.assign(free_.size(), 0.0);
    pinned_.assign(free_.size(), 0);
    net_.assign(n, 0.0);
    state_.history.reserve(32);
    first_guess();
  }

  KernelState run() {
    // With every line full first: a convex problem. Then with crests, mouths of pipes and the rest.
    ends_only_ = !ends_suffice_;
    bool found = iterate(plain_steps);
    ends_only_ = false;
    if (!ends_suffice_) found = found && iterate(plain_steps);
    if (!found) found = settle_slowly();
    return found ? settled() : finish();
  }

  /// From a settled state of the same kernel at other heads: two or three steps, or nothing.
  std::optional<KernelState> run_from(const KernelState& near) {
    for (int v : free_) state_.head_m[at(v)] = near.head_m[at(v)];
    state_.flow_m3s = near.flow_m3s;
    state_.hold = near.hold;
    return iterate(near_steps) ? std::optional(settled()) : std::nullopt;
  }

 private:
  KernelState settled() {
    state_.outcome = Outcome::settled;
    if (options_.polish && free_.size() <= small_system) polish();
    return finish();
  }

  /// Newton steps until the state is settled; false if it is not after `steps` of them.
  bool iterate(int steps) {
    double wrong_before = unbounded;
    for (int step = 0;; ++step) {
      evaluate();
      if (step > undamped_steps) damp(wrong_before);
      if (step >= undamped_steps) wrong_before = wrong();
      if (close(worst_energy_) && !continuous()) {
        balance_flows(kernel_, two_way_, alpha_, beta_, state_, net_);
        evaluate();
      }
      if (!std::isfinite(worst_net_) || !std::isfinite(worst_energy_)) {
        state_.outcome = Outcome::not_finite;
        return false;
      }
      record();
      if (close(worst_energy_) && continuous()) return true;
      if (step >= steps || static_cast<int>(state_.history.size()) >= options_.max_iterations || !take_step())
        return false;
    }
  }

  void record() {
    state_.history.push_back({static_cast<int>(state_.history.size()) + 1, worst_net_, worst_energy_, step_});
  }

  /// Newton squares the error: on a small system one more step costs little and ends at round-off.
  void polish() {
    KernelState before = state_;
    const bool stepped = worst_energy_ >= 1e-13 && take_step();
    if (stepped) balance_places();  // the conductances of the step before serve to choose by
    if (balanced()) {
      if (stepped) record();
    } else {
      state_ = before;
      evaluate();
    }
    before = state_;
    if (stop_trickles() && !balanced()) {
      state_ = before;
      evaluate();
    }
  }

  bool balanced() {
    balance_flows(kernel_, two_way_, alpha_, beta_, state_, net_);
    evaluate();
    return close(worst_energy_) && continuous();
  }

  /// Towards rest a quadratic law only halves its flow from step to step. What would stand still at the heads
  /// found, and flows within the tolerance of energy, stands still.
  bool stop_trickles() {
    bool any = false;
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      const Link& link = kernel_.links[k];
      if (two_way_[k] || state_.flow_m3s[k] == 0.0) continue;
      const double ha = state_.head_m[at(link.a)], hb = link.b >= 0 ? state_.head_m[at(link.b)] : 0.0;
      if (linearise(kernel_, link, 0.0, ha, hb).control >= 0) continue;
      state_.flow_m3s[k] = 0.0;
      any = true;
    }
    if (any) evaluate();
    return any;
  }

  /// For the rare system on which plain steps circle (many crests, dry places and valves at once): every
  /// place gets a little open storage and the water is let settle in time, by implicit steps that grow.
  /// Such a system only ever comes closer to its rest (its flow is a contraction, since what leaves one place
  /// enters another and rises with the head there: [crandall-liggett1971]), and a step is as easy as it is
  /// short.
  bool settle_slowly() {
    first_guess();
    std::fill(state_.flow_m3s.begin(), state_.flow_m3s.end(), 0.0);
    evaluate();
    storage_m2s_ = std::max(total_flow_, 1e-6);  // a metre in the time all the inflow takes: short
    reference_ = state_.head_m;
    double shrink = 0.2;  // of the storage from step to step: the steps grow as long as they succeed
    for (int stage = 0; stage < 400 && static_cast<int>(state_.history.size()) < options_.max_iterations;
         ++stage) {
      const KernelState before = state_;
      if (iterate(slow_steps)) {
        reference_ = state_.head_m;
        storage_m2s_ *= shrink;
        shrink = std::max(0.1, 0.8 * shrink);
        if (storage_m2s_ > 1e-15 && stage % 4 != 3) continue;
        const double kept = storage_m2s_;
        const KernelState settled_stage = state_;
        storage_m2s_ = 0.0;
        if (iterate(plain_steps)) return true;
        storage_m2s_ = kept;
        if (storage_m2s_ <= 1e-15) return false;
        const auto history = state_.history;
        state_ = settled_stage;
        state_.history = history;
      } else {
        const auto history = state_.history;
        state_ = before;
        state_.history = history;
        state_.outcome = Outcome::iteration_limit;
        storage_m2s_ *= 3.0;
        shrink = std::min(0.7, std::sqrt(shrink));
      }
    }
    storage_m2s_ = 0.0;
    return false;
  }

  int places() {
    index_.assign(kernel_.nodes.size(), -1);
    free_.reserve(kernel_.nodes.size());
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
    bool always_met = false, pushed = false;
    auto source = [&](double h) { highest_ = std::max(highest_, h), lowest_ = std::min(lowest_, h); };
    for (const KernelNode& node : kernel_.nodes) {
      if (node.inflow_m3s > 0.0 && node.lip_m == unbounded)
        pushed = true;  // its head may stand above all others
      if (node.fixed) source(node.head_m);
      if (node.lip_m < unbounded) source(node.lip_m);
      if (node.draw_floor_m > -unbounded) lowest_ = std::min(lowest_, node.draw_floor_m);
      if (node.inflow_m3s < 0.0 || (node.draw_m3s > 0.0 && node.draw_floor_m == -unbounded))
        always_met = true;
    }
    for (const Control& c : kernel_.controls) {
      if (!c.from_node) highest_ = std::max(highest_, c.source_head_m);
      if (!c.to_node) lowest_ = std::min(lowest_, c.sink_head_m);
    }
    if (!(highest_ > -unbounded)) highest_ = lowest_ < unbounded ? lowest_ : 0.0;
    for (std::size_t v = 0; v < kernel_.nodes.size(); ++v)
      state_.head_m[v] = kernel_.nodes[v].fixed               ? kernel_.nodes[v].head_m
                         : kernel_.nodes[v].lip_m < unbounded ? kernel_.nodes[v].lip_m
                                                              : highest_;
    lowest_ = std::min(lowest_, highest_) - (always_met ? 1e7 : 10.0);
    highest_ += pushed ? 1e7 : 10.0;
  }

  LinkStep linearise_one(const Link& link, double flow, double ha, double hb) const {
    if (!ends_only_ || link.shut) return linearise(kernel_, link, flow, ha, hb);
    Link ends = link;
    ends.forwards = std::min<std::uint32_t>(1, link.forwards);
    ends.backwards = std::min<std::uint32_t>(1, link.backwards);
    return linearise(kernel_, ends, flow, ha, hb);
  }

  void linearise_links() {
    LinkTally tally;
    plain_.linearise(state_.flow_m3s, state_.head_m, predicted_, alpha_, beta_, state_.control, tally);
    for (std::size_t k : plain_.others()) {
      const Link& link = kernel_.links[k];
      const double ha = state_.head_m[at(link.a)], hb = link.b >= 0 ? state_.head_m[at(link.b)] : 0.0;
      const LinkStep step = linearise_one(link, state_.flow_m3s[k], ha, hb);
      predicted_[k] = step.flow_m3s;
      alpha_[k] = step.alpha;
      beta_[k] = step.beta;
      state_.control[k] = step.control;
      tally.steepest = std::max({tally.steepest, step.alpha, step.beta});
      tally.flow_m3s += std::abs(state_.flow_m3s[k]);
      // A still or capped link has no energy left over, but its flow must be what it says.
      const double energy = step.control >= 0                     ? std::abs(step.residual_m)
                            : step.flow_m3s == state_.flow_m3s[k] ? 0.0
                                                                  : 1.0;
      tally.worst_m = std::max(energy, tally.worst_m);  // in this order what is not a number stays
      tally.sum_m += energy;
    }
    worst_energy_ = tally.worst_m;
    energy_sum_ = tally.sum_m;
    total_flow_ = tally.flow_m3s;
    leak_ = 1e-14 * (tally.steepest > 0.0 ? tally.steepest : 1.0);
  }

  void evaluate() {
    linearise_links();
    balance_places();
    worst_net_ = worst_continuity();
  }

  /// What the storage of `settle_slowly` takes in; none otherwise.
  double stored(std::size_t v) const {
    return storage_m2s_ == 0.0 || kernel_.nodes[v].fixed ? 0.0
                                                         : storage_m2s_ * (state_.head_m[v] - reference_[v]);
  }

  /// Net inflow of every place at the present flows.
  void balance_places() {
    net_ = asked_;
    for (int v : held_)
      if (state_.hold[at(v)] != Hold::free) net_[at(v)] += kernel_.nodes[at(v)].draw_m3s;
    if (storage_m2s_ != 0.0)
      for (std::size_t v = 0; v < net_.size(); ++v) net_[v] -= stored(v);
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      const Link& link = kernel_.links[k];
      net_[at(link.a)] -= state_.flow_m3s[k];
      if (link.b >= 0) net_[at(link.b)] += state_.flow_m3s[k];
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
    total_flow_ = std::max(total_flow_, most_inflow_);
    return worst;
  }

  /// How far a head stands beyond what holds it: above its lip, below the floor of a draw that it meets.
  double worst_hold() const {
    double worst = 0.0;
    for (int v : held_) {
      const KernelNode& node = kernel_.nodes[at(v)];
      const double head = state_.head_m[at(v)];
      if (state_.hold[at(v)] == Hold::free) worst = std::max(worst, head - node.lip_m);
      if (state_.hold[at(v)] == Hold::lip)
        worst = std::max(worst, node.lip_m - head);  // it spills: it stands there
      if (state_.hold[at(v)] == Hold::draw_short) worst = std::max(worst, std::abs(head - node.draw_floor_m));
      if (node.draw_m3s > 0.0 && state_.hold[at(v)] == Hold::free)
        worst = std::max(worst, node.draw_floor_m - head);
      if (state_.hold[at(v)] == Hold::draw_none) worst = std::max(worst, head - node.draw_floor_m);
    }
    return worst;
  }

  bool close(double energy_m) const {
    return energy_m <= options_.energy_m && worst_hold() <= options_.energy_m;
  }
  bool continuous() const {
    return worst_net_ <= std::max(options_.continuity_share * total_flow_, options_.continuity_floor_m3s);
  }

  double metres_per_flow() const { return std::min((highest_ - lowest_) / std::max(total_flow_, 1e-9), 1e6); }
  static bool limited_draw(const KernelNode& node) {
    return node.draw_m3s > 0.0 && node.draw_floor_m > -unbounded;
  }
  /// What comes to a place beyond what its lines and springs take and give: its draw, or its spill.
  double comes(int v) const {
    return net_[at(v)] + (state_.hold[at(v)] == Hold::free ? kernel_.nodes[at(v)].draw_m3s : 0.0);
  }

  /// Chooses what holds each place by the projection that complementarity means: spill = max(0, spill +
  /// (head - lip) / c), draw = its nearest in [0, asked] to draw + (head - floor) / c, for any c > 0.
  void choose_holds() {
    const double c = metres_per_flow();
    for (int v : held_) {
      const KernelNode& node = kernel_.nodes[at(v)];
      Hold& hold = state_.hold[at(v)];
      const double over_lip = comes(v) - node.draw_m3s + (state_.head_m[at(v)] - node.lip_m) / c;
      if (node.lip_m < unbounded && over_lip > 0.0) {
        hold = Hold::lip;
      } else if (limited_draw(node)) {
        const double draw = comes(v) + (state_.head_m[at(v)] - node.draw_floor_m) / c;
        hold = draw >= node.draw_m3s ? Hold::free : draw > 0.0 ? Hold::draw_short : Hold::draw_none;
      } else {
        hold = Hold::free;
      }
    }
  }

  bool take_step() {
    if (state_.history.size() > 1) choose_holds();  // the first step asks what the springs ask
    for (std::size_t i = 0; i < free_.size(); ++i) {
      const std::size_t v = at(free_[i]);
      pinned_[i] = 0;
      change_[i] = 0.0;
      rhs_[i] = asked_[v];
      ground_[i] = storage_m2s_;
    }
    if (storage_m2s_ != 0.0)
      for (std::size_t i = 0; i < free_.size(); ++i) rhs_[i] -= stored(at(free_[i]));
    for (int v : held_) {
      const KernelNode& node = kernel_.nodes[at(v)];
      const Hold hold = state_.hold[at(v)];
      const std::size_t i = at(index_[at(v)]);
      pinned_[i] = hold == Hold::lip || hold == Hold::draw_short;
      if (hold != Hold::free) rhs_[i] += node.draw_m3s;
      if (pinned_[i])
        change_[i] = (hold == Hold::lip ? node.lip_m : node.draw_floor_m) - state_.head_m[at(v)];
    }
    for (std::size_t k = 0; k < ends_.size(); ++k) {
      const auto [a, b] = ends_[k];
      if (a >= 0) rhs_[at(a)] -= predicted_[k];
      if (b >= 0) rhs_[at(b)] += predicted_[k];
    }
    if (!system_.solve(alpha_, beta_, ground_, rhs_, pinned_, leak_, change_)) return false;
    from_head_ = state_.head_m;
    from_flow_ = state_.flow_m3s;
    target_flow_.resize(kernel_.links.size());
    for (std::size_t i = 0; i < free_.size(); ++i) {
      const double head = state_.head_m[at(free_[i])];
      change_[i] = std::clamp(head + change_[i], lowest_, highest_) - head;
    }
    for (std::size_t k = 0; k < ends_.size(); ++k) {
      const auto [a, b] = ends_[k];
      double flow = predicted_[k];
      if (a >= 0) flow += alpha_[k] * change_[at(a)];
      if (b >= 0) flow -= beta_[k] * change_[at(b)];
      target_flow_[k] = flow;
    }
    move(1.0);
    return true;
  }

  /// Goes a share of the way from where the step began to where the linear model ends.
  void move(double share) {
    step_ = share;
    for (std::size_t i = 0; i < free_.size(); ++i)
      state_.head_m[at(free_[i])] = from_head_[at(free_[i])] + share * change_[i];
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      const double before = from_flow_[k];
      double flow = share == 1.0 ? target_flow_[k] : before + share * (target_flow_[k] - before);
      if (two_way_[k] && !capped_[k]) {
        state_.flow_m3s[k] = flow;
        continue;
      }
      const Link& link = kernel_.links[k];
      // A link that cannot simply turn comes to rest first; the next step decides from there.
      const bool turns = before > 0.0 ? flow < 0.0 : before < 0.0 ? flow > 0.0 : flow * predicted_[k] < 0.0;
      if (turns && !two_way_[k] && !(ends_only_ && link.backwards > 0)) flow = 0.0;
      state_.flow_m3s[k] = std::min(flow, link.most_m3s);
    }
  }

  /// What is wrong with the present state, in metres of head summed over links and places. Along a Newton
  /// direction it falls at first, whatever the laws.
  double wrong() const {
    double sum = energy_sum_;
    const double c = metres_per_flow();
    for (int v : free_) {
      const KernelNode& node = kernel_.nodes[at(v)];
      const double head = state_.head_m[at(v)], got = comes(v);
      double held = limited_draw(node) ? std::clamp(got + (head - node.draw_floor_m) / c, 0.0, node.draw_m3s)
                                       : node.draw_m3s;
      if (node.lip_m < unbounded) held += std::max(0.0, got - node.draw_m3s + (head - node.lip_m) / c);
      sum += std::abs(got - held) * c;
    }
    return sum;
  }

  /// The laws are nearly convex, so full steps settle almost always. Where a bend of the transition between
  /// laminar and turbulent makes them circle, steps are cut until they gain. What is wrong by less than the
  /// rounding of flows at great conductances says nothing.
  void damp(double wrong_before) {
    for (double share = 0.5; share > 0.01 && !(wrong() < std::max(wrong_before, rounding_m)); share *= 0.5) {
      move(share);
      evaluate();
    }
  }

  KernelState finish() {
    state_.surplus_m3s = net_;
    for (std::size_t v = 0; v < net_.size(); ++v)
      if (state_.hold[v] == Hold::free && !kernel_.nodes[v].fixed)
        state_.surplus_m3s[v] = kernel_.nodes[v].draw_m3s;
    return std::move(state_);
  }

  const Kernel& kernel_;
  NewtonOptions options_;
  std::vector<int> index_, free_;
  int place_count_;                 ///< counted before `system_` is made: it needs the index
  std::vector<linear::Ends> ends_;  ///< of every link, among the free places
  linear::NodeSystem system_;
  PlainLinks plain_;
  std::vector<int> held_;      ///< places with a lip or a draw: nothing else has a hold but its balance
  std::vector<double> asked_;  ///< one a node: inflow less draw
  double most_inflow_ = 0.0;
  bool ends_suffice_ = true;  ///< no link has more than its ends to say: one round of steps does
  KernelState state_;
  std::vector<double> alpha_, beta_, predicted_, ground_, rhs_, change_, net_;
  std::vector<double> from_head_, from_flow_, target_flow_;
  std::vector<char> pinned_, two_way_, capped_;
  double worst_energy_ = 0.0, energy_sum_ = 0.0, worst_net_ = 0.0, step_ = 1.0, total_flow_ = 0.0,
         leak_ = 0.0;
  double highest_ = 0.0, lowest_ = 0.0;
  double storage_m2s_ = 0.0;       ///< of every place, over the length of the step
  std::vector<double> reference_;  ///< heads at its beginning
  bool ends_only_ = false;
};

}  // namespace

KernelState solve(const Kernel& kernel, const NewtonOptions& options) {
  if (const KernelState* near = options.near; near && near->head_m.size() == kernel.nodes.size())
    if (auto state = Newton(kernel, options).run_from(*near)) return std::move(*state);
  return Newton(kernel, options).run();
}

}  // namespace runnel::steady
