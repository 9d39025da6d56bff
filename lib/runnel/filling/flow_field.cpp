#include "runnel/filling/flow_field.h"

#include <algorithm>
#include <cmath>

namespace runnel::filling {
namespace {

using steady::Kernel;
using steady::KernelNode;
using steady::Link;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

// A flow this small a share of the largest is none: the solver settles to 1e-10 of the total.
constexpr double still_share = 1e-10;
// A held level is met to this share of it: the rounding of sums of flows, so that it does not drift.
constexpr double held_share = 1e-13;
// One for each tank of a chain of held ones is plenty; what is off then is told by the levels that drift.
constexpr int most_rounds = 40;

Law law(const Link& link, int control, double flow_m3s, double still_m3s) {
  if (std::abs(flow_m3s) <= still_m3s) return {};
  if (control < 0) return {link.most_m3s < steady::unbounded ? Law::Kind::held : Law::Kind::still};
  const auto index = static_cast<std::uint32_t>(control);
  return flow_m3s > 0.0 ? Law{Law::Kind::forward, index - link.forward}
                        : Law{Law::Kind::backward, index - link.backward};
}

}  // namespace

FlowField::FlowField(const network::System& system) : assembly_(steady::assemble(system, {.for_filling = true})) {
  find_storages(system);
  const Kernel& kernel = assembly_.kernel;
  for (const Link& link : kernel.links) shut_anyway_.push_back(link.shut);
  for (const KernelNode& node : kernel.nodes) scale_m3s_ = std::max(scale_m3s_, node.inflow_m3s);
  cut();
}

void FlowField::find_storages(const network::System& system) {
  storage_of_node_.assign(assembly_.kernel.nodes.size(), -1);
  owner_.assign(assembly_.kernel.links.size(), -1);
  auto add = [&](int node) {
    assembly_.kernel.nodes[at(node)].fixed = true;
    storage_of_node_[at(node)] = static_cast<int>(node_.size());
    node_.push_back(node);
    float_links_.emplace_back();
  };
  for (std::size_t t = 0; t < system.tanks().size(); ++t) {
    add(assembly_.tank_node[t]);
    if (!system.tanks()[t].float_valve) continue;
    const int place = system.tank_place(static_cast<int>(t));
    for (const int number : system.lines_at(place)) {
      const auto l = at(number);
      if (system.lines()[l].to != place) continue;
      float_links_.back().push_back(assembly_.line_link[l]);
      owner_[at(assembly_.line_link[l])] = static_cast<int>(node_.size()) - 1;
    }
  }
  for (std::size_t b = 0; b < system.boxes().size(); ++b)
    if (system.boxes()[b].plan_length.metres() > 0.0 && system.boxes()[b].plan_width.metres() > 0.0)
      add(assembly_.box_node[b]);
  follows_.assign(node_.size(), false);
  mouth_m_.assign(node_.size(), 0.0);
  valve_.assign(node_.size(), Valve::open);
  need_.assign(node_.size(), 0.0);
  cap_.assign(node_.size(), 0.0);
}

void FlowField::cut() {
  for (std::size_t s = 0; s < node_.size(); ++s) assembly_.kernel.nodes[at(node_[s])].fixed = !follows_[s];
  parts_ = cut_apart(assembly_.kernel);
  place_of_link_.resize(assembly_.kernel.links.size());
  for (std::size_t p = 0; p < parts_.size(); ++p) {
    Part& part = parts_[p];
    for (std::size_t l = 0; l < part.links.size(); ++l)
      place_of_link_[at(part.links[l])] = {static_cast<int>(p), static_cast<int>(l)};
    for (std::size_t v = 0; v < part.nodes.size(); ++v) {
      const int s = storage_of_node_[at(part.nodes[v])];
      if (s < 0) continue;
      KernelNode& node = part.kernel.nodes[v];
      if (!node.fixed) {
        part.followers.emplace_back(static_cast<int>(v), at(s));
        continue;
      }
      part.borders.emplace_back(static_cast<int>(v), at(s));
      node.inflow_m3s = 0.0;  // a spring in a storage feeds no part
    }
  }
}

void FlowField::set_follows(std::size_t s, bool follows, double mouth_m) {
  if (follows_[s] == follows && mouth_m_[s] == mouth_m) return;
  follows_[s] = follows;
  mouth_m_[s] = mouth_m;
  cut();
}

/// A storage that follows at once gives its draw what comes, as far as its water stands at the mouth.
void FlowField::apply_draws() {
  for (Part& part : parts_)
    for (const auto& [v, s] : part.followers) {
      KernelNode& node = part.kernel.nodes[at(v)];
      if (node.draw_m3s == need_[s] && node.draw_floor_m == mouth_m_[s]) continue;
      node.draw_m3s = need_[s];
      node.draw_floor_m = mouth_m_[s];
      part.fresh = false;
    }
}

void FlowField::apply_valves() {
  for (std::size_t s = 0; s < node_.size(); ++s) {
    for (int k : float_links_[s]) {
      const auto [p, l] = place_of_link_[at(k)];
      Link& link = parts_[at(p)].kernel.links[at(l)];
      const double share = 1.0 / static_cast<double>(float_links_[s].size());
      const double most = valve_[s] == Valve::held ? cap_[s] * share : steady::unbounded;
      const bool shut = shut_anyway_[at(k)] || valve_[s] == Valve::shut || !(most > 0.0);
      if (link.shut == shut && link.most_m3s == most) continue;
      link.shut = shut;
      link.most_m3s = most;
      parts_[at(p)].fresh = false;
    }
  }
}

/// Over a mouth that is about to run dry a film of a nanometre carries water: heads are settled to less than
/// `steady` asks of an answer; where that cannot be had, to just what it asks.
steady::KernelState FlowField::settle(const Kernel& kernel, const steady::KernelState& near) {
  steady::KernelState state = steady::solve(
      kernel, {.max_iterations = 120, .energy_m = 1e-12, .continuity_share = 1e-12, .near = &near});
  work_ += static_cast<long>(state.history.size());
  if (state.outcome == steady::Outcome::settled) return state;
  state = steady::solve(kernel);
  work_ += static_cast<long>(state.history.size());
  return state;
}

bool FlowField::solve(Part& part, const std::vector<double>& level_m, bool again) {
  bool same = part.fresh && !again;
  part.level_m.resize(part.borders.size());
  for (std::size_t i = 0; i < part.borders.size(); ++i) {
    const auto [v, s] = part.borders[i];
    same = same && part.level_m[i] == level_m[s];
    part.level_m[i] = level_m[s];
    part.kernel.nodes[at(v)].head_m = level_m[s];
  }
  if (same) return true;
  part.state = settle(part.kernel, part.state);
  part.fresh = part.state.outcome == steady::Outcome::settled;
  return part.fresh;
}

bool FlowField::solve_all(const std::vector<double>& level_m) {
  bool settled = true;
  for (Part& part : parts_) settled = solve(part, level_m, false) && settled;
  return settled;
}

void FlowField::gather_part(const Part& part, Instant& out) const {
  for (std::size_t i = 0; i < part.nodes.size(); ++i) {
    const std::size_t v = at(part.nodes[i]);
    if (assembly_.kernel.nodes[v].fixed) continue;
    out.head_m[v] = part.state.head_m[i];
    out.hold[v] = part.state.hold[i];
    out.surplus_m3s[v] = part.state.surplus_m3s[i];
  }
  for (std::size_t i = 0; i < part.links.size(); ++i) {
    const std::size_t k = at(part.links[i]);
    const Link &own = part.kernel.links[i], &whole = assembly_.kernel.links[k];
    const double flow = part.state.flow_m3s[i];
    out.flow_m3s[k] = flow;
    if (const int s = storage_of_node_[at(whole.a)]; s >= 0) out.net_m3s[at(s)] -= flow;
    if (const int s = whole.b >= 0 ? storage_of_node_[at(whole.b)] : -1; s >= 0) out.net_m3s[at(s)] += flow;
    out.law[k] = law(own, part.state.control[i], flow, still_share * scale_m3s_);
  }
}

void FlowField::gather(Instant& out) {
  const Kernel& kernel = assembly_.kernel;
  out.net_m3s.resize(node_.size());
  out.flow_m3s.resize(kernel.links.size());
  out.head_m.resize(kernel.nodes.size());
  out.surplus_m3s.assign(kernel.nodes.size(), 0.0);
  out.hold.assign(kernel.nodes.size(), steady::Hold::free);
  out.law.assign(kernel.links.size(), Law{});
  out.holding.assign(node_.size(), Holding::holds);
  for (std::size_t s = 0; s < node_.size(); ++s) out.net_m3s[s] = kernel.nodes[at(node_[s])].inflow_m3s;
  for (const Part& part : parts_) gather_part(part, out);
  for (double flow : out.flow_m3s) scale_m3s_ = std::max(scale_m3s_, std::abs(flow));
}

Holding FlowField::holding(std::size_t s, const Instant& out) const {
  const double missing = need_[s] - out.net_m3s[s];
  if (std::abs(missing) <= held_share * scale_m3s_) return Holding::holds;
  if (missing < 0.0) return cap_[s] > 0.0 ? Holding::holds : Holding::too_much;
  for (int k : float_links_[s])
    if (out.law[at(k)].kind == Law::Kind::held || (cap_[s] <= 0.0 && !shut_anyway_[at(k)]))
      return Holding::holds;
  return Holding::too_little;
}

/// Only lines that stand at their share of the cap answer to it. What they let through more, the tank gets,
/// less what other lines then bring less: raising the cap by what is missing never overshoots, and hits at
/// once where no other line answers.
double FlowField::cap_step(std::size_t s, const Instant& out, double missing) const {
  double answering = 0.0;
  for (int k : float_links_[s]) answering += out.law[at(k)].kind == Law::Kind::held ? 1.0 : 0.0;
  return missing * static_cast<double>(float_links_[s].size()) / std::max(answering, 1.0);
}

bool FlowField::hold_levels(const std::vector<double>& level_m, Instant& out) {
  for (int round = 0; round < most_rounds; ++round) {
    bool changed = false;
    for (std::size_t s = 0; s < node_.size(); ++s) {
      if (valve_[s] != Valve::held) continue;
      const double missing = need_[s] - out.net_m3s[s];
      out.holding[s] = holding(s, out);
      if (out.holding[s] != Holding::holds || std::abs(missing) <= held_share * scale_m3s_) continue;
      cap_[s] = std::max(0.0, cap_[s] + cap_step(s, out, missing));
      changed = true;
    }
    if (!changed) return true;
    apply_valves();
    if (!solve_all(level_m)) return false;
    const std::vector<Holding> found = out.holding;
    gather(out);
    out.holding = found;
  }
  return true;
}

bool FlowField::evaluate(const std::vector<double>& level_m, Instant& out) {
  bool any_held = false;
  for (std::size_t s = 0; s < node_.size(); ++s) {
    if (valve_[s] == Valve::held) any_held = true;
    if (valve_[s] == Valve::held && cap_[s] <= 0.0) cap_[s] = std::max(0.0, need_[s]);
  }
  apply_valves();
  apply_draws();
  out.settled = solve_all(level_m);
  if (!out.settled) return false;
  gather(out);
  if (any_held) out.settled = hold_levels(level_m, out);
  for (std::size_t s = 0; s < node_.size(); ++s)
    if (!follows_[s]) out.head_m[at(node_[s])] = level_m[s];
  return out.settled;
}

void FlowField::slopes(const std::vector<double>& level_m, Eigen::MatrixXd& out) {
  // A micrometre: far above the solver's rounding of heads (1e-13 m), far below the film over a mouth.
  constexpr double lift_m = 1e-6;
  out.setZero(static_cast<Eigen::Index>(node_.size()), static_cast<Eigen::Index>(node_.size()));
  for (Part& part : parts_) {
    if (part.borders.empty() || !solve(part, level_m, false)) continue;
    const steady::KernelState before = part.state;
    for (const auto& [moved, column] : part.borders) {
      part.kernel.nodes[at(moved)].head_m = level_m[column] + lift_m;
      const steady::KernelState after = settle(part.kernel, part.state);
      part.kernel.nodes[at(moved)].head_m = level_m[column];
      if (after.outcome != steady::Outcome::settled) continue;
      for (std::size_t i = 0; i < part.links.size(); ++i) {
        const Link& link = part.kernel.links[i];
        const double slope = (after.flow_m3s[i] - before.flow_m3s[i]) / lift_m;
        for (const auto& [v, row] : part.borders) {
          const auto r = static_cast<Eigen::Index>(row), c = static_cast<Eigen::Index>(column);
          if (link.a == v) out(r, c) -= slope;
          if (link.b == v) out(r, c) += slope;
        }
      }
    }
  }
}

}  // namespace runnel::filling
