// Manufactured states: heads are chosen, flows follow link by link from the plain laws by bisection, and the
// springs and draws are what is then left over at each place. The solver must come back to that state.
#include <catch2/catch.hpp>
#include <functional>

#include "runnel/steady/newton.h"
#include "steady/plain_network.h"

using namespace runnel;
using plain::Wide;

namespace {

/// The flow >= 0 with this loss >= 0, in long double.
Wide flow_with(const std::function<Wide(Wide)>& loss, Wide wanted_m) {
  Wide low = 0, high = 1e-3L;
  while (loss(high) < wanted_m) high *= 2;
  for (int i = 0; i < 200; ++i) {
    const Wide middle = (low + high) / 2;
    (loss(middle) < wanted_m ? low : high) = middle;
  }
  return low;
}

struct Made {
  steady::Kernel kernel;
  std::vector<double> head_m, flow_m3s, spill_m3s, given_m3s;
};

Wide chosen_flow(const plain::Network& net, std::size_t e, const std::vector<double>& head) {
  if (e >= net.pipes.size()) {
    const plain::Opening& o = net.openings[e - net.pipes.size()];
    const Wide drop = head[static_cast<std::size_t>(o.node)] - o.elevation_m;
    return drop > 0 ? flow_with([&](Wide q) { return plain::loss(o, q); }, drop) : 0.0L;
  }
  const plain::Pipe& p = net.pipes[e];
  const Wide drop = Wide(head[static_cast<std::size_t>(p.a)]) - head[static_cast<std::size_t>(p.b)];
  if (p.check_valve && drop <= 0) return 0.0L;
  const Wide size = flow_with([&](Wide q) { return plain::loss(net, p, q); }, std::fabs(drop));
  return drop < 0 ? -size : size;
}

/// Some places spill at a lip, some have a draw that is met in full, in part or not at all.
void hold_place(plain::Dice& dice, steady::KernelNode& node, Made& made, std::size_t v) {
  const double kind = dice.real(0.0, 1.0), head = made.head_m[v];
  if (kind < 0.2) {
    made.spill_m3s[v] = dice.real(1e-6, 1e-3);
    node.lip_m = head;
    node.inflow_m3s += made.spill_m3s[v];
  } else if (kind < 0.5) {
    node.draw_m3s = dice.real(1e-6, 1e-3);
    const double part = kind < 0.3 ? 1.0 : kind < 0.4 ? dice.real(0.1, 0.9) : 0.0;
    made.given_m3s[v] = part * node.draw_m3s;
    node.draw_floor_m = head + (part == 1.0 ? -5.0 : part == 0.0 ? 5.0 : 0.0);
    node.inflow_m3s += made.given_m3s[v];
  }
}

Made make(std::uint64_t seed) {
  const plain::Network net = plain::random_network(seed);
  plain::Dice dice(seed + 1000000);
  Made made{plain::kernel(net), {}, {}, {}, {}};
  for (const plain::Node& node : net.nodes)
    made.head_m.push_back(node.fixed ? node.head_m : dice.real(0.0, 100.0));
  std::vector<Wide> net_flow(net.nodes.size(), 0.0L);
  for (std::size_t e = 0; e < net.pipes.size() + net.openings.size(); ++e) {
    const Wide q = chosen_flow(net, e, made.head_m);
    made.flow_m3s.push_back(static_cast<double>(q));
    const bool opens = e >= net.pipes.size();
    net_flow[static_cast<std::size_t>(opens ? net.openings[e - net.pipes.size()].node : net.pipes[e].a)] -= q;
    if (!opens) net_flow[static_cast<std::size_t>(net.pipes[e].b)] += q;
  }
  made.spill_m3s.resize(net.nodes.size());
  made.given_m3s.resize(net.nodes.size());
  for (std::size_t v = 0; v < net.nodes.size(); ++v) {
    steady::KernelNode& node = made.kernel.nodes[v];
    if (node.fixed) continue;
    node.inflow_m3s = static_cast<double>(-net_flow[v]);
    hold_place(dice, node, made, v);
  }
  return made;
}

}  // namespace

TEST_CASE("1,000 manufactured states come back") {
  int spilling = 0, met = 0, short_ones = 0, unmet = 0;
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    const Made made = make(seed);
    const steady::KernelState found = steady::solve(made.kernel);
    CAPTURE(seed, found.history.size());
    REQUIRE(found.outcome == steady::Outcome::settled);
    double worst_m = 0.0, worst_m3s = 0.0, total = 0.0;
    for (std::size_t v = 0; v < made.head_m.size(); ++v) {
      worst_m = std::max(worst_m, std::abs(found.head_m[v] - made.head_m[v]));
      const steady::KernelNode& node = made.kernel.nodes[v];
      if (made.spill_m3s[v] > 0.0) {
        ++spilling;
        worst_m3s = std::max(worst_m3s, std::abs(found.surplus_m3s[v] - made.spill_m3s[v]));
      }
      if (node.draw_m3s > 0.0 && !node.fixed)
        ++(made.given_m3s[v] == 0.0 ? unmet : made.given_m3s[v] == node.draw_m3s ? met : short_ones);
    }
    for (std::size_t e = 0; e < made.flow_m3s.size(); ++e) {
      worst_m3s = std::max(worst_m3s, std::abs(found.flow_m3s[e] - made.flow_m3s[e]));
      total = std::max(total, std::abs(made.flow_m3s[e]));
    }
    // 1e-9 of the state: heads of up to 100 m, flows against the largest.
    CHECK(worst_m <= 1e-9 * 100.0);
    CHECK(worst_m3s <= 1e-9 * total);
  }
  CHECK(spilling >= 500);
  CHECK(met >= 500);
  CHECK(short_ones >= 500);
  CHECK(unmet >= 500);
}
