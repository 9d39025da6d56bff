#include "runnel/steady/close_continuity.h"

#include <algorithm>

namespace runnel::steady {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }
int ground(const Workspace& work) { return static_cast<int>(work.kernel.nodes.size()); }

}  // namespace

/// Treats fixed heads, the open air, lips and short draws as one ground, since they take any flow.
int CloseContinuity::end(const Workspace& work, int node) const {
  if (node < 0 || work.kernel.nodes[at(node)].fixed) return ground(work);
  const Hold hold = work.state.hold[at(node)];
  return hold == Hold::lip || hold == Hold::draw_short ? ground(work) : node;
}

/// Takes links in order of falling conductance, leaving out those that would close a loop.
void CloseContinuity::grow_forest(const Workspace& work) {
  order_.clear();
  for (std::size_t k = 0; k < work.kernel.links.size(); ++k) {
    const double conductance = std::max(work.alpha[k], work.beta[k]);
    if (work.state.control[k] >= 0 && conductance > 0.0)
      order_.emplace_back(-conductance, static_cast<std::uint32_t>(k));
  }
  std::sort(order_.begin(), order_.end());
  const std::size_t places = work.kernel.nodes.size() + 1;
  groups_.part(places);
  degree_.assign(places, 0);
  links_at_.assign(places, 0);
  for (const auto& [conductance, k] : order_) {
    const int a = end(work, work.kernel.links[k].a), b = end(work, work.kernel.links[k].b);
    if (!groups_.join(a, b)) continue;
    for (int v : {a, b}) links_at_[at(v)] ^= k, ++degree_[at(v)];
  }
}

void CloseContinuity::find_leaves(const Workspace& work) {
  leaves_.clear();
  for (int v = 0; v < ground(work); ++v)
    if (degree_[at(v)] == 1) leaves_.push_back(v);
}

/// Cuts off a leaf's link. Returns the place at its other end if that is now a leaf, else -1.
int CloseContinuity::cut(const Workspace& work, int leaf) {
  const std::size_t k = links_at_[at(leaf)];
  const Link& link = work.kernel.links[k];
  const int other = end(work, link.a == leaf ? link.b : link.a);
  links_at_[at(other)] ^= k;
  degree_[at(leaf)] = 0;
  return --degree_[at(other)] == 1 && other != ground(work) ? other : -1;
}

void CloseContinuity::prepare(const Workspace& work) {
  const std::size_t places = work.kernel.nodes.size() + 1;
  order_.reserve(work.kernel.links.size());
  leaves_.reserve(places);
  groups_.reserve(places);
  degree_.reserve(places);
  links_at_.reserve(places);
}

void CloseContinuity::run(Workspace& work) {
  prepare(work);
  grow_forest(work);
  find_leaves(work);
  for (std::size_t next = 0; next < leaves_.size(); ++next) {
    const int v = leaves_[next];
    if (degree_[at(v)] != 1) continue;
    const std::size_t k = links_at_[at(v)];
    const Link& link = work.kernel.links[k];
    double& net = work.net_m3s[at(v)];
    const double extra = link.a == v ? net : -net;  // to be added to the flow from a to b
    const double flow = work.state.flow_m3s[k] + extra;
    if (!work.two_way[k] && !(flow * work.state.flow_m3s[k] > 0.0)) continue;
    work.state.flow_m3s[k] = flow;
    work.net_m3s[at(link.a)] -= extra;
    if (link.b >= 0) work.net_m3s[at(link.b)] += extra;
    if (const int other = cut(work, v); other >= 0) leaves_.push_back(other);
  }
}

}  // namespace runnel::steady
