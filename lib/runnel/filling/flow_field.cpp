#include "runnel/filling/flow_field.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace runnel::filling {
namespace {

using steady::Kernel;
using steady::KernelNode;
using steady::Link;

// Over a mouth that is about to run dry a film of a nanometre carries water: heads are settled to less than
// `steady` asks of an answer; where that cannot be had, to just what it asks.
steady::KernelState solve_finely(const Kernel& kernel, const steady::KernelState& near) {
  steady::KernelState state =
      steady::solve(kernel, {.max_iterations = 120, .energy_m = 1e-12, .continuity_share = 1e-12, .near = &near});
  return state.outcome == steady::Outcome::settled ? state : steady::solve(kernel);
}

std::size_t at(int i) { return static_cast<std::size_t>(i); }

// A flow this small a share of the largest is none: the solver settles to 1e-10 of the total.
constexpr double still_share = 1e-10;

}  // namespace

network::System prepared(const network::System& system) {
  network::System copy = system;
  for (network::Tank& tank : copy.tanks)
    if (tank.float_valve) tank.level = tank.float_valve->shuts_at - Length::metres(1.0);
  for (network::Pipeline& line : copy.pipelines) {
    // Within the tolerance that `validate` allows a survey may start below the floor it leaves from.
    if (const auto* tank = copy.tank(line.from))
      line.survey.front().elevation = std::max(line.survey.front().elevation, tank->floor);
    if (const auto* tank = copy.tank(line.to))
      line.survey.back().elevation = std::max(line.survey.back().elevation, tank->floor);
  }
  return copy;
}

FlowField::FlowField(const network::System& system) : assembly_(steady::assemble(prepared(system))) {
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
  for (std::size_t t = 0; t < system.tanks.size(); ++t) {
    add(assembly_.tank_node[t]);
    if (!system.tanks[t].float_valve) continue;
    for (std::size_t l = 0; l < system.pipelines.size(); ++l) {
      if (system.pipelines[l].to != system.tanks[t].name) continue;
      float_links_.back().push_back(assembly_.line_link[l]);
      owner_[at(assembly_.line_link[l])] = static_cast<int>(node_.size()) - 1;
    }
  }
  for (std::size_t b = 0; b < system.boxes.size(); ++b)
    if (system.boxes[b].plan_length.metres() > 0.0 && system.boxes[b].plan_width.metres() > 0.0)
      add(assembly_.box_node[b]);
  valve_.assign(node_.size(), Valve::open);
  need_.assign(node_.size(), 0.0);
  cap_.assign(node_.size(), 0.0);
}

void FlowField::cut() {
  const Kernel& kernel = assembly_.kernel;
  const std::size_t n = kernel.nodes.size();
  std::vector<int> leader(n);
  std::iota(leader.begin(), leader.end(), 0);
  auto find = [&](int v) {
    while (leader[at(v)] != v) v = leader[at(v)] = leader[at(leader[at(v)])];
    return v;
  };
  auto free = [&](int v) { return v >= 0 && !kernel.nodes[at(v)].fixed; };
  for (const Link& link : kernel.links)
    if (free(link.a) && free(link.b)) leader[at(find(link.a))] = find(link.b);
  std::vector<std::vector<int>> links(n), nodes(n);
  std::vector<int> alone;
  for (std::size_t k = 0; k < kernel.links.size(); ++k) {
    const Link& link = kernel.links[k];
    const int end = free(link.a) ? link.a : free(link.b) ? link.b : -1;
    if (end >= 0)
      links[at(find(end))].push_back(static_cast<int>(k));
    else
      alone.push_back(static_cast<int>(k));
  }
  for (std::size_t v = 0; v < n; ++v)
    if (!kernel.nodes[v].fixed) nodes[at(find(static_cast<int>(v)))].push_back(static_cast<int>(v));
  place_of_link_.resize(kernel.links.size());
  for (std::size_t v = 0; v < n; ++v)
    if (!nodes[v].empty()) add_part(links[v], nodes[v]);
  for (int k : alone) add_part({k}, {});
}

void FlowField::add_part(const std::vector<int>& links, const std::vector<int>& nodes) {
  const Kernel& whole = assembly_.kernel;
  Part part;
  part.links = links;
  std::vector<int> local(whole.nodes.size(), -1);
  auto take = [&](int v) {
    if (v < 0 || local[at(v)] >= 0) return;
    local[at(v)] = static_cast<int>(part.nodes.size());
    part.nodes.push_back(v);
    part.kernel.nodes.push_back(whole.nodes[at(v)]);
    if (storage_of_node_[at(v)] >= 0) {
      part.borders.emplace_back(local[at(v)], at(storage_of_node_[at(v)]));
      part.kernel.nodes.back().inflow_m3s = 0.0;  // a spring in a storage feeds no part
    }
  };
  for (int v : nodes) take(v);
  for (int k : links) take(whole.links[at(k)].a), take(whole.links[at(k)].b);
  for (int k : links) {
    place_of_link_[at(k)] = {static_cast<int>(parts_.size()), static_cast<int>(part.kernel.links.size())};
    copy_link(part, k, local);
  }
  parts_.push_back(std::move(part));
}

void FlowField::copy_link(Part& part, int k, const std::vector<int>& local) {
  const Kernel& whole = assembly_.kernel;
  Kernel& own = part.kernel;
  Link link = whole.links[at(k)];
  auto controls = [&](std::uint32_t first, std::uint32_t count) {
    const auto begin = static_cast<std::uint32_t>(own.controls.size());
    for (std::uint32_t c = first; c < first + count; ++c) {
      steady::Control control = whole.controls[c];
      const auto from = whole.lengths_m.begin() + control.lengths;
      control.lengths = static_cast<std::uint32_t>(own.lengths_m.size());
      own.lengths_m.insert(own.lengths_m.end(), from, from + link.terms);
      own.controls.push_back(control);
    }
    return begin;
  };
  link.forward = controls(link.forward, link.forwards);
  link.backward = controls(link.backward, link.backwards);
  const auto first = whole.terms.begin() + link.term;
  link.term = static_cast<std::uint32_t>(own.terms.size());
  own.terms.insert(own.terms.end(), first, first + link.terms);
  link.a = local[at(link.a)];
  if (link.b >= 0) link.b = local[at(link.b)];
  own.links.push_back(link);
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
  part.state = solve_finely(part.kernel, part.state);
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
    if (storage_of_node_[v] >= 0) continue;
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
    const auto control = static_cast<std::uint32_t>(part.state.control[i]);
    out.governs[k] = std::abs(flow) <= still_share * scale_m3s_ ? 0
                     : part.state.control[i] < 0 ? (own.most_m3s < steady::unbounded ? capped : 0)
                     : flow > 0.0                ? static_cast<int>(control - own.forward) + 1
                                                 : -static_cast<int>(control - own.backward) - 1;
  }
}

void FlowField::gather(Instant& out) {
  const Kernel& kernel = assembly_.kernel;
  out.net_m3s.resize(node_.size());
  out.flow_m3s.resize(kernel.links.size());
  out.head_m.resize(kernel.nodes.size());
  out.surplus_m3s.assign(kernel.nodes.size(), 0.0);
  out.hold.assign(kernel.nodes.size(), steady::Hold::free);
  out.governs.assign(kernel.links.size(), 0);
  out.held.assign(node_.size(), 0);
  for (std::size_t s = 0; s < node_.size(); ++s) out.net_m3s[s] = kernel.nodes[at(node_[s])].inflow_m3s;
  for (const Part& part : parts_) gather_part(part, out);
  for (double flow : out.flow_m3s) scale_m3s_ = std::max(scale_m3s_, std::abs(flow));
}

/// +1: the lines run as fully as they can and it is not enough; -1: too much comes by other ways.
int FlowField::shortfall(std::size_t s, const Instant& out) const {
  const double missing = need_[s] - out.net_m3s[s];
  if (std::abs(missing) <= 1e-13 * scale_m3s_) return 0;
  if (missing < 0.0) return cap_[s] > 0.0 ? 0 : -1;
  for (int k : float_links_[s])
    if (out.governs[at(k)] == capped || (cap_[s] <= 0.0 && !shut_anyway_[at(k)])) return 0;
  return 1;
}

/// What a line lets through more, the tank gets, less what other lines then bring less: raising the cap by
/// what is missing never overshoots, and hits at once where no other line answers.
bool FlowField::hold_levels(const std::vector<double>& level_m, Instant& out) {
  for (int round = 0; round < 200; ++round) {
    bool changed = false;
    for (std::size_t s = 0; s < node_.size(); ++s) {
      if (valve_[s] != Valve::held) continue;
      const double missing = need_[s] - out.net_m3s[s];
      out.held[s] = shortfall(s, out);
      if (out.held[s] != 0 || std::abs(missing) <= 1e-13 * scale_m3s_) continue;
      cap_[s] = std::max(0.0, cap_[s] + missing);
      changed = true;
    }
    if (!changed) return true;
    apply_valves();
    if (!solve_all(level_m)) return false;
    const std::vector<int> held = out.held;
    gather(out);
    out.held = held;
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
  out.settled = solve_all(level_m);
  if (!out.settled) return false;
  gather(out);
  for (std::size_t s = 0; s < node_.size(); ++s) out.head_m[at(node_[s])] = level_m[s];
  if (any_held) out.settled = hold_levels(level_m, out);
  for (std::size_t s = 0; s < node_.size(); ++s) out.head_m[at(node_[s])] = level_m[s];
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
      const steady::KernelState after = solve_finely(part.kernel, part.state);
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
