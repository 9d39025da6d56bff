#include "runnel/steady/balance.h"

#include <algorithm>
#include <cstdint>
#include <utility>

namespace runnel::steady {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

class Forest {
 public:
  Forest(const Kernel& kernel, const KernelState& state)
      : kernel_(kernel), state_(state), ground_(static_cast<int>(kernel.nodes.size())) {
    leader_.resize(kernel.nodes.size() + 1);
    for (std::size_t v = 0; v < leader_.size(); ++v) leader_[v] = static_cast<int>(v);
    degree_.assign(leader_.size(), 0);
    links_at_.assign(leader_.size(), 0);
  }

  /// Takes links in the order given, as long as they close no loop.
  void grow(const std::vector<std::pair<double, std::uint32_t>>& order) {
    for (const auto& [conductance, k] : order) {
      const int a = end(kernel_.links[k].a), b = end(kernel_.links[k].b);
      if (find(a) == find(b)) continue;
      leader_[at(find(a))] = find(b);
      for (int v : {a, b}) links_at_[at(v)] ^= k, ++degree_[at(v)];
    }
  }

  std::vector<int> leaves() const {
    std::vector<int> leaves;
    for (int v = 0; v < ground_; ++v)
      if (degree_[at(v)] == 1) leaves.push_back(v);
    return leaves;
  }

  bool leaf(int v) const { return degree_[at(v)] == 1; }
  std::size_t only_link(int v) const { return links_at_[at(v)]; }

  /// Cuts a leaf's link off; the place at its other end if that is a leaf now, else -1.
  int cut(int v) {
    const std::size_t k = only_link(v);
    const Link& link = kernel_.links[k];
    const int other = end(link.a == v ? link.b : link.a);
    links_at_[at(other)] ^= k;
    degree_[at(v)] = 0;
    return --degree_[at(other)] == 1 && other != ground_ ? other : -1;
  }

 private:
  /// Fixed heads, the open air, lips and short draws are one ground: they take any flow.
  int end(int v) const {
    if (v < 0 || kernel_.nodes[at(v)].fixed) return ground_;
    return state_.hold[at(v)] == Hold::lip || state_.hold[at(v)] == Hold::draw_short ? ground_ : v;
  }
  int find(int v) {
    while (leader_[at(v)] != v) v = leader_[at(v)] = leader_[at(leader_[at(v)])];
    return v;
  }

  const Kernel& kernel_;
  const KernelState& state_;
  int ground_;
  std::vector<int> leader_, degree_;
  /// The forest's links at a place, all their numbers in one by exclusive or: where one is left, that is it.
  std::vector<std::size_t> links_at_;
};

}  // namespace

void balance_flows(const Kernel& kernel, const std::vector<char>& two_way, const std::vector<double>& alpha,
                   const std::vector<double>& beta, KernelState& state, std::vector<double>& net_m3s) {
  std::vector<std::pair<double, std::uint32_t>> by_conductance;
  by_conductance.reserve(kernel.links.size());
  for (std::size_t k = 0; k < kernel.links.size(); ++k) {
    const double conductance = std::max(alpha[k], beta[k]);
    if (state.control[k] >= 0 && conductance > 0.0)
      by_conductance.emplace_back(-conductance, static_cast<std::uint32_t>(k));
  }
  std::sort(by_conductance.begin(), by_conductance.end());
  Forest forest(kernel, state);
  forest.grow(by_conductance);
  std::vector<int> leaves = forest.leaves();
  for (std::size_t next = 0; next < leaves.size(); ++next) {
    const int v = leaves[next];
    if (!forest.leaf(v)) continue;
    const std::size_t k = forest.only_link(v);
    const Link& link = kernel.links[k];
    const double extra =
        link.a == v ? net_m3s[at(v)] : -net_m3s[at(v)];  // more to leave by a, or to arrive at b
    const double flow = state.flow_m3s[k] + extra;
    if (!two_way[k] && !(flow * state.flow_m3s[k] > 0.0)) continue;
    state.flow_m3s[k] = flow;
    net_m3s[at(link.a)] -= extra;
    if (link.b >= 0) net_m3s[at(link.b)] += extra;
    if (const int other = forest.cut(v); other >= 0) leaves.push_back(other);
  }
}

}  // namespace runnel::steady
