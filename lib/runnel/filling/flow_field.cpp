#include "runnel/filling/flow_field.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"
#include "runnel/filling/storage.h"

namespace runnel::filling {
namespace {

using steady::Kernel;
using steady::KernelNode;
using steady::Link;

// A flow this small a share of the largest counts as none, since the solver settles to 1e-10 of the total.
constexpr double still_share = 1e-10;
// The inflow that holds a level is met to this share of the largest flow, which is the rounding of sums of
// flows, so that the level does not drift.
constexpr double held_share = 1e-13;
// One round for each tank of a chain of held ones is plenty. What is still off then shows as drifting levels.
constexpr int most_rounds = 40;

Law law(const Link& link, int control, double flow_m3s, double still_m3s) {
  if (std::abs(flow_m3s) <= still_m3s) return {};
  if (control < 0) return {link.most_m3s < steady::unbounded ? Law::Kind::held : Law::Kind::still};
  const auto index = static_cast<std::uint32_t>(control);
  return flow_m3s > 0.0 ? Law{Law::Kind::forward, index - link.forward}
                        : Law{Law::Kind::backward, index - link.backward};
}

}  // namespace

FlowField::FlowField(const network::System& system)
    : assembly_(steady::assemble(system, {.for_filling = true})) {
  find_storages(system);
  const Kernel& kernel = assembly_.kernel;
  for (const Link& link : kernel.links) shut_anyway_.push_back(link.shut);
  for (const KernelNode& node : kernel.nodes) scale_m3s_ = std::max(scale_m3s_, node.inflow_m3s);
  links_.resize(node_.size());
  for (std::size_t k = 0; k < kernel.links.size(); ++k)
    for (const int end : {kernel.links[k].a, kernel.links[k].b})
      if (end >= 0 && storage_of_node_[at(end)] >= 0)
        links_[at(storage_of_node_[at(end)])].push_back(static_cast<int>(k));
  cut();
}

void FlowField::find_storages(const network::System& system) {
  storage_of_node_.assign(assembly_.kernel.nodes.size(), -1);
  auto add = [&](int node) {
    assembly_.kernel.nodes[at(node)].fixed = true;
    storage_of_node_[at(node)] = static_cast<int>(node_.size());
    node_.push_back(node);
  };
  for (std::size_t t = 0; t < system.tanks().size(); ++t)
    add(assembly_.nodes_of(network::PlaceKind::tank)[t]);
  for (const FloatGroup& group : float_groups(system)) {
    hangs_in_.push_back(group.tank);
    float_links_.emplace_back();
    for (const std::size_t l : group.lines) float_links_.back().push_back(assembly_.line_link[l]);
  }
  for (std::size_t b = 0; b < system.boxes().size(); ++b)
    if (system.boxes()[b].stores()) add(assembly_.nodes_of(network::PlaceKind::box)[b]);
  follows_.assign(node_.size(), false);
  mouth_m_.assign(node_.size(), 0.0);
  need_.assign(node_.size(), 0.0);
  valve_.assign(hangs_in_.size(), Valve::open);
  cap_.assign(hangs_in_.size(), 0.0);
}

FlowField::Piece FlowField::piece_of(Part part) {
  std::vector<std::pair<int, std::size_t>> borders, followers;
  for (std::size_t v = 0; v < part.nodes.size(); ++v) {
    const int s = storage_of_node_[at(part.nodes[v])];
    if (s < 0) continue;
    KernelNode& node = part.kernel.nodes[v];
    (node.fixed ? borders : followers).emplace_back(static_cast<int>(v), at(s));
    if (node.fixed) node.inflow_m3s = 0.0;  // a spring in a storage feeds no part
  }
  return {SettledPart(std::move(part)), std::move(borders), std::move(followers)};
}

/// Cuts the system into parts. A part that has not changed keeps its solver.
void FlowField::cut() {
  for (std::size_t s = 0; s < node_.size(); ++s) assembly_.kernel.nodes[at(node_[s])].fixed = !follows_[s];
  std::vector<Piece> before = std::move(pieces_);
  pieces_.clear();
  place_of_link_.resize(assembly_.kernel.links.size());
  place_of_node_.assign(assembly_.kernel.nodes.size(), {-1, -1});
  const auto same_storages = [&](const Piece& piece) {
    return std::none_of(piece.borders.begin(), piece.borders.end(),
                        [&](auto b) { return follows_[b.second]; }) &&
           std::all_of(piece.followers.begin(), piece.followers.end(),
                       [&](auto f) { return follows_[f.second]; });
  };
  for (Part& part : cut_apart(assembly_.kernel)) {
    const auto kept = std::find_if(before.begin(), before.end(), [&](const Piece& piece) {
      return piece.part.links() == part.links && piece.part.nodes() == part.nodes && same_storages(piece);
    });
    for (std::size_t l = 0; l < part.links.size(); ++l)
      place_of_link_[at(part.links[l])] = {static_cast<int>(pieces_.size()), static_cast<int>(l)};
    for (std::size_t v = 0; v < part.nodes.size(); ++v)
      if (!part.kernel.nodes[v].fixed)
        place_of_node_[at(part.nodes[v])] = {static_cast<int>(pieces_.size()), static_cast<int>(v)};
    if (kept == before.end()) {
      pieces_.push_back(piece_of(std::move(part)));
    } else {
      pieces_.push_back(std::move(*kept));
      before.erase(kept);
    }
  }
}

void FlowField::set_follows(std::size_t s, bool follows, double mouth_m) {
  if (follows_[s] == follows && mouth_m_[s] == mouth_m) return;
  follows_[s] = follows;
  mouth_m_[s] = mouth_m;
  slopes_known_ = false;
  cut();
}

/// A storage that follows at once gives its draw what comes, as long as its water stands at the mouth.
void FlowField::apply_draws() {
  for (Piece& piece : pieces_)
    for (const auto& [v, s] : piece.followers) piece.part.set_draw(v, need_[s], mouth_m_[s]);
}

void FlowField::apply_valves() {
  for (std::size_t f = 0; f < valve_.size(); ++f) {
    for (int k : float_links_[f]) {
      const auto [p, l] = place_of_link_[at(k)];
      const double share = 1.0 / static_cast<double>(float_links_[f].size());
      const double most = valve_[f] == Valve::held ? cap_[f] * share : steady::unbounded;
      const bool shut = shut_anyway_[at(k)] || valve_[f] == Valve::shut || !(most > 0.0);
      pieces_[at(p)].part.set_valve(l, shut, most);
    }
  }
}

bool FlowField::held(std::size_t s) const {
  for (std::size_t f = 0; f < valve_.size(); ++f)
    if (hangs_in_[f] == s && valve_[f] == Valve::held) return true;
  return false;
}

/// Sets the draw in the whole kernel too, since pieces that are cut anew later are copied from it.
void FlowField::set_joint_draw(std::size_t joint, double m3s) {
  const std::size_t node = at(assembly_.nodes_of(network::PlaceKind::joint)[joint]);
  KernelNode& there = assembly_.kernel.nodes[node];
  if (there.draw_m3s == m3s) return;
  there.draw_m3s = m3s;
  slopes_known_ = false;
  const auto [p, v] = place_of_node_[node];
  pieces_[at(p)].part.set_draw(v, m3s, there.draw_floor_m);
}

void FlowField::set_outlet_most(std::size_t outlet, double m3s) {
  if (assembly_.outlet_link[outlet] < 0) return;
  const std::size_t k = at(assembly_.outlet_link[outlet]);
  Link& link = assembly_.kernel.links[k];
  const bool shut = shut_anyway_[k] || !(m3s > 0.0);
  if (link.shut == shut && link.most_m3s == m3s) return;
  link.shut = shut;
  link.most_m3s = m3s;
  slopes_known_ = false;
  const auto [p, l] = place_of_link_[k];
  pieces_[at(p)].part.set_valve(l, shut, m3s);
}

bool FlowField::solve_all(const std::vector<double>& level_m) {
  bool settled = true;
  for (Piece& piece : pieces_) {
    for (const auto& [v, s] : piece.borders) piece.part.set_level(v, level_m[s]);
    settled = piece.part.settle(work_) && settled;
  }
  return settled;
}

void FlowField::gather_piece(const Piece& piece, Instant& out) const {
  const SettledPart& part = piece.part;
  const steady::KernelState& state = part.state();
  for (std::size_t i = 0; i < part.nodes().size(); ++i) {
    const std::size_t v = at(part.nodes()[i]);
    if (assembly_.kernel.nodes[v].fixed) continue;
    out.head_m[v] = state.head_m[i];
    out.hold[v] = state.hold[i];
    out.surplus_m3s[v] = state.surplus_m3s[i];
  }
  for (std::size_t i = 0; i < part.links().size(); ++i) {
    const std::size_t k = at(part.links()[i]);
    const Link &own = part.kernel().links[i], &whole = assembly_.kernel.links[k];
    const double flow = state.flow_m3s[i];
    out.flow_m3s[k] = flow;
    if (const int s = storage_of_node_[at(whole.a)]; s >= 0) out.net_m3s[at(s)] -= flow;
    if (const int s = whole.b >= 0 ? storage_of_node_[at(whole.b)] : -1; s >= 0) out.net_m3s[at(s)] += flow;
    out.law[k] = law(own, state.control[i], flow, still_share * scale_m3s_);
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
  for (const Piece& piece : pieces_) gather_piece(piece, out);
  for (double flow : out.flow_m3s) scale_m3s_ = std::max(scale_m3s_, std::abs(flow));
}

/// Whether a line through the float valve carries its whole share of the cap, so that a greater cap would let
/// more through. A cap so small that the flow through it counts as none still limits that flow.
bool FlowField::at_cap(std::size_t f, int link, const Instant& out) const {
  if (out.law[at(link)].kind == Law::Kind::held) return true;
  const double share_m3s = cap_[f] / static_cast<double>(float_links_[f].size());
  return !shut_anyway_[at(link)] && share_m3s <= still_share * scale_m3s_ &&
         out.flow_m3s[at(link)] >= 0.5 * share_m3s;
}

Holding FlowField::holding(std::size_t f, const Instant& out) const {
  const std::size_t s = hangs_in_[f];
  const double missing = need_[s] - out.net_m3s[s];
  if (std::abs(missing) <= held_share * scale_m3s_) return Holding::holds;
  if (missing < 0.0) return cap_[f] > 0.0 ? Holding::holds : Holding::too_much;
  for (int k : float_links_[f])
    if (at_cap(f, k, out) || (cap_[f] <= 0.0 && !shut_anyway_[at(k)])) return Holding::holds;
  return Holding::too_little;
}

/// Only lines that carry their whole share of the cap respond to it. What they let through in addition the
/// tank gets, less what other lines then bring less. So raising the cap by what is missing never overshoots,
/// and is exact at once where no other line responds.
double FlowField::cap_step(std::size_t f, const Instant& out, double missing) const {
  double answering = 0.0;
  for (int k : float_links_[f]) answering += at_cap(f, k, out) ? 1.0 : 0.0;
  return missing * static_cast<double>(float_links_[f].size()) / std::max(answering, 1.0);
}

/// The least cap that would change nothing yet. A cap far above it is left over from a greater draw.
double FlowField::felt_cap(std::size_t f, const Instant& out) const {
  double most = 0.0;
  for (int k : float_links_[f]) most = std::max(most, out.flow_m3s[at(k)]);
  return most * static_cast<double>(float_links_[f].size());
}

bool FlowField::hold_levels(const std::vector<double>& level_m, Instant& out) {
  for (int round = 0; round < most_rounds; ++round) {
    bool changed = false;
    for (std::size_t f = 0; f < valve_.size(); ++f) {
      if (valve_[f] != Valve::held) continue;
      const std::size_t s = hangs_in_[f];
      const double missing = need_[s] - out.net_m3s[s];
      out.holding[s] = holding(f, out);
      if (out.holding[s] != Holding::holds || std::abs(missing) <= held_share * scale_m3s_) continue;
      if (missing < 0.0) cap_[f] = std::min(cap_[f], felt_cap(f, out));
      cap_[f] = std::max(0.0, cap_[f] + cap_step(f, out, missing));
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
  for (std::size_t f = 0; f < valve_.size(); ++f) {
    if (valve_[f] != Valve::held) continue;
    any_held = true;
    if (cap_[f] <= 0.0) cap_[f] = std::max(0.0, need_[hangs_in_[f]]);
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

bool FlowField::slopes(const std::vector<double>& level_m, bool fresh, Eigen::MatrixXd& out) {
  const bool anew = fresh || !slopes_known_;
  if (anew) work_out_slopes(level_m);
  slopes_known_ = true;
  out = slopes_m2s_;
  return anew;
}

void FlowField::work_out_slopes(const std::vector<double>& level_m) {
  Eigen::MatrixXd& out = slopes_m2s_;
  out.setZero(static_cast<Eigen::Index>(node_.size()), static_cast<Eigen::Index>(node_.size()));
  solve_all(level_m);
  std::vector<double> flow_m2s;
  for (Piece& piece : pieces_)
    for (const auto& [moved, column] : piece.borders) {
      if (!piece.part.slopes(moved, flow_m2s)) continue;
      for (std::size_t i = 0; i < piece.part.links().size(); ++i) {
        const Link& link = piece.part.kernel().links[i];
        for (const auto& [v, row] : piece.borders) {
          const auto r = static_cast<Eigen::Index>(row), c = static_cast<Eigen::Index>(column);
          if (link.a == v) out(r, c) -= flow_m2s[i];
          if (link.b == v) out(r, c) += flow_m2s[i];
        }
      }
    }
}

}  // namespace runnel::filling
