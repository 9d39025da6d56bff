#include "runnel/steady/close_continuity.h"

#include <algorithm>

#include "runnel/base/index.h"

namespace runnel::steady {
namespace {

// So far conductances may go from those that a forest was grown by. Any figure near one would do: what a link
// of the forest takes on is rounding.
constexpr double about_as_good = 4.0;

/// Of a link that may be in the forest; 0: it may not.
double usable_conductance(const Workspace& work, std::size_t k) {
  return work.state.control[k] >= 0 ? std::max(work.alpha[k], work.beta[k]) : 0.0;
}

int ground(const Workspace& work) { return static_cast<int>(work.kernel.nodes.size()); }

}  // namespace

/// Treats fixed heads, the open air, lips and short draws as one ground, since they take any flow.
int CloseContinuity::end(const Workspace& work, int node) const {
  if (node < 0 || work.kernel.nodes[at(node)].fixed) return ground(work);
  const Hold hold = work.state.hold[at(node)];
  return hold == Hold::lip || hold == Hold::draw_short ? ground(work) : node;
}

bool CloseContinuity::forest_serves(const Workspace& work) const {
  if (grown_conductance_.empty() || grown_hold_ != work.state.hold) return false;
  bool serves = true;
  for (std::size_t k = 0; k < grown_conductance_.size(); ++k) {
    const double was = grown_conductance_[k], is = usable_conductance(work, k);
    serves = serves && is <= about_as_good * was && was <= about_as_good * is;
  }
  return serves;
}

/// Takes links by falling conductance, as long as they close no loop.
void CloseContinuity::grow_forest(const Workspace& work) {
  order_.clear();
  grown_hold_ = work.state.hold;
  grown_conductance_.resize(work.kernel.links.size());
  for (std::size_t k = 0; k < work.kernel.links.size(); ++k) {
    const double conductance = grown_conductance_[k] = usable_conductance(work, k);
    if (conductance > 0.0) order_.emplace_back(-conductance, static_cast<std::uint32_t>(k));
  }
  std::sort(order_.begin(), order_.end());
  const std::size_t places = work.kernel.nodes.size() + 1;
  groups_.part(places);
  grown_.degree.assign(places, 0);
  grown_.links_at.assign(places, 0);
  for (const auto& [conductance, k] : order_) {
    const int a = end(work, work.kernel.links[k].a), b = end(work, work.kernel.links[k].b);
    if (!groups_.join(a, b)) continue;
    for (int v : {a, b}) grown_.links_at[at(v)] ^= k, ++grown_.degree[at(v)];
  }
  find_leaves(work);
}

void CloseContinuity::find_leaves(const Workspace& work) {
  grown_.leaves.clear();
  for (int v = 0; v < ground(work); ++v)
    if (grown_.degree[at(v)] == 1) grown_.leaves.push_back(v);
}

/// Cuts off a leaf's link. Returns the place at its other end if that is now a leaf, else -1.
int CloseContinuity::cut(const Workspace& work, int leaf) {
  const std::size_t k = left_.links_at[at(leaf)];
  const Link& link = work.kernel.links[k];
  const int other = end(work, link.a == leaf ? link.b : link.a);
  left_.links_at[at(other)] ^= k;
  left_.degree[at(leaf)] = 0;
  return --left_.degree[at(other)] == 1 && other != ground(work) ? other : -1;
}

void CloseContinuity::prepare(const Workspace& work) {
  const std::size_t places = work.kernel.nodes.size() + 1;
  order_.reserve(work.kernel.links.size());
  groups_.reserve(places);
  for (Forest* forest : {&grown_, &left_}) {
    forest->leaves.reserve(places);
    forest->degree.reserve(places);
    forest->links_at.reserve(places);
  }
  grown_conductance_.reserve(work.kernel.links.size());
  grown_hold_.reserve(work.kernel.nodes.size());
}

void CloseContinuity::run(Workspace& work) {
  prepare(work);
  if (!forest_serves(work)) grow_forest(work);
  left_ = grown_;
  for (std::size_t next = 0; next < left_.leaves.size(); ++next) {
    const int v = left_.leaves[next];
    if (left_.degree[at(v)] != 1) continue;
    const std::size_t k = left_.links_at[at(v)];
    const Link& link = work.kernel.links[k];
    double& net = work.net_m3s[at(v)];
    const double extra = link.a == v ? net : -net;  // to be added to the flow from a to b
    const double flow = work.state.flow_m3s[k] + extra;
    if (!work.two_way[k] && !(flow * work.state.flow_m3s[k] > 0.0)) continue;
    work.state.flow_m3s[k] = flow;
    work.net_m3s[at(link.a)] -= extra;
    if (link.b >= 0) work.net_m3s[at(link.b)] += extra;
    if (const int other = cut(work, v); other >= 0) left_.leaves.push_back(other);
  }
}

}  // namespace runnel::steady
