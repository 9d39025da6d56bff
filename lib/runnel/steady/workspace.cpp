#include "runnel/steady/workspace.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"

namespace runnel::steady {
namespace {

// Heads are kept within bounds: this far below all floors and above all sources where nothing drives them
// there (any figure above the rounding of heads would do) ...
constexpr double margin_m = 10.0;
// ... and this far where an inflow without a lip, or a draw that is always met, can drive them anywhere. It
// is more than any real loss, and a double still holds it to about a nanometre.
constexpr double driven_margin_m = 1e7;

}  // namespace

Workspace::Workspace(const Kernel& kernel_in) : kernel(kernel_in) {
  const std::size_t n = kernel.nodes.size(), m = kernel.links.size();
  index.assign(n, -1);
  free.reserve(n);
  for (std::size_t v = 0; v < n; ++v)
    if (!kernel.nodes[v].fixed) {
      index[v] = static_cast<int>(free.size());
      free.push_back(static_cast<int>(v));
    }
  ends.reserve(m);
  for (const Link& link : kernel.links)
    ends.push_back({index[at(link.a)], link.b >= 0 ? index[at(link.b)] : -1});
  joins.reserve(m);
  for (const Link& link : kernel.links) joins.push_back({static_cast<std::uint32_t>(link.a), link.b});
  held.reserve(n);
  balanced.reserve(free.size());
  asked_m3s.resize(n);
  net_m3s.assign(n, 0.0);
  alpha.assign(m, 0.0);
  beta.assign(m, 0.0);
  predicted_m3s.assign(m, 0.0);
  two_way.resize(m);
  capped.resize(m);
}

void Workspace::make_state() {
  const std::size_t n = kernel.nodes.size(), m = kernel.links.size();
  state.head_m.resize(n);
  state.hold.assign(n, Hold::free);
  state.surplus_m3s.assign(n, 0.0);
  state.flow_m3s.assign(m, 0.0);
  state.control.assign(m, -1);
  state.history.reserve(144);  // three rounds of plain steps and the polish
}

void Workspace::read_kernel() {
  if (state.head_m.size() != kernel.nodes.size()) make_state();
  read_links();
  read_places();
}

void Workspace::read_places() {
  held.clear();
  balanced.clear();
  most_inflow_m3s = 0.0;
  for (std::size_t v = 0; v < kernel.nodes.size(); ++v) {
    const KernelNode& node = kernel.nodes[v];
    asked_m3s[v] = node.inflow_m3s - node.draw_m3s;
    most_inflow_m3s = std::max(most_inflow_m3s, std::abs(node.inflow_m3s));
    if (node.fixed) continue;
    const bool may_hold = node.lip_m < unbounded || node.draw_m3s > 0.0;
    (may_hold ? held : balanced).push_back(static_cast<int>(v));
  }
  find_bounds();
}

void Workspace::read_links() {
  ends_suffice = all_turn_freely = true;
  for (std::size_t k = 0; k < kernel.links.size(); ++k) {
    const Link& link = kernel.links[k];
    two_way[k] = link.two_way_law(kernel);
    capped[k] = link.most_m3s < unbounded;
    if (!two_way[k] || capped[k]) all_turn_freely = false;
    if (link.forwards > 1 || link.backwards > 1 || (link.backwards > 0 && !two_way[k])) ends_suffice = false;
  }
  highest_source_m_ = -unbounded;
  lowest_sink_m_ = unbounded;
  for (const Control& c : kernel.controls) {
    if (!c.from_node) highest_source_m_ = std::max(highest_source_m_, c.source_head_m);
    if (!c.to_node && c.sink_head_m > -unbounded) lowest_sink_m_ = std::min(lowest_sink_m_, c.sink_head_m);
  }
}

void Workspace::find_bounds() {
  highest_m = -unbounded;
  lowest_m = unbounded;
  bool always_met = false, pushed = false;
  const auto source = [&](double h) { highest_m = std::max(highest_m, h), lowest_m = std::min(lowest_m, h); };
  for (const KernelNode& node : kernel.nodes) {
    if (node.inflow_m3s > 0.0 && node.lip_m == unbounded)
      pushed = true;  // its head may stand above all others
    if (node.fixed) source(node.head_m);
    if (node.lip_m < unbounded) source(node.lip_m);
    if (node.draw_floor_m > -unbounded) lowest_m = std::min(lowest_m, node.draw_floor_m);
    if (node.inflow_m3s < 0.0 || (node.draw_m3s > 0.0 && node.draw_floor_m == -unbounded)) always_met = true;
  }
  highest_m = std::max(highest_m, highest_source_m_);
  lowest_m = std::min(lowest_m, lowest_sink_m_);
  if (!(highest_m > -unbounded)) highest_m = lowest_m < unbounded ? lowest_m : 0.0;
  start_m = highest_m;
  lowest_m = std::min(lowest_m, highest_m) - (always_met ? driven_margin_m : margin_m);
  highest_m += pushed ? driven_margin_m : margin_m;
}

void Workspace::first_guess() {
  for (std::size_t v = 0; v < kernel.nodes.size(); ++v) {
    const KernelNode& node = kernel.nodes[v];
    set_head(v, node.fixed ? node.head_m : node.lip_m < unbounded ? node.lip_m : start_m);
  }
  std::fill(state.flow_m3s.begin(), state.flow_m3s.end(), 0.0);
  std::fill(state.hold.begin(), state.hold.end(), Hold::free);
}

void Workspace::start_from(const KernelState& near) {
  for (std::size_t v = 0; v < kernel.nodes.size(); ++v)
    set_head(v, kernel.nodes[v].fixed ? kernel.nodes[v].head_m : near.head_m[v]);
  state.flow_m3s = near.flow_m3s;
  state.hold = near.hold;
}

}  // namespace runnel::steady
