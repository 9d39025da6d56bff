// Our solver beside one that is not ours, on random networks built from one plain description.
#include <catch2/catch.hpp>
#include <cstdlib>

#include "runnel/steady/newton.h"
#include "steady/second_solver.h"

using namespace runnel;

namespace {

struct Difference {
  double head_m = 0.0, flow_share = 0.0;
};

Difference compare(const plain::Solution& theirs, const steady::KernelState& ours) {
  Difference d;
  double most = 1e-5;  // where all is dry, what is left is round-off: KINSOL stops at 1e-14 m3/s
  for (double q : theirs.flow_m3s) most = std::max(most, std::abs(q));
  for (std::size_t v = 0; v < theirs.head_m.size(); ++v)
    d.head_m = std::max(d.head_m, std::abs(theirs.head_m[v] - ours.head_m[v]));
  for (std::size_t e = 0; e < theirs.flow_m3s.size(); ++e)
    d.flow_share = std::max(d.flow_share, std::abs(theirs.flow_m3s[e] - ours.flow_m3s[e]) / most);
  return d;
}

}  // namespace

// Seeds 205, 426, 541, 576, 637, 804, 871 (and 1224, 2400, 2460 beyond the set) once made our solver circle:
// heads were held below the highest source although springs without a lip can push them above it.
TEST_CASE("KINSOL with KLU finds the same flows and heads on 1,000 random networks") {
  int not_compared = 0, valves_shut = 0, dry = 0, loops = 0;
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    const plain::Network net = plain::random_network(seed);
    const steady::KernelState ours = steady::solve(plain::kernel(net));
    CAPTURE(seed, ours.history.size());
    CHECK(ours.outcome == steady::Outcome::settled);
    plain::SecondSolver second(net);
    // Our answer in their equations: the limits every answer of ours keeps (state.h).
    const plain::Solution left = second.put_in(ours.head_m, ours.flow_m3s);
    CHECK(left.worst_m <= 1e-9);
    CHECK(left.worst_m3s <= 1e-12);
    loops += net.pipes.size() >= net.nodes.size();
    const auto theirs = second.solve();
    if (!theirs) {
      ++not_compared;  // KINSOL does not come down on a few (237, 555): there only the line above speaks
      continue;
    }
    const Difference d = compare(*theirs, ours);
    CHECK(d.head_m <= 1e-8);
    CHECK(d.flow_share <= 1e-8);
    for (std::size_t e = 0; e < theirs->flow_m3s.size(); ++e)
      if (theirs->flow_m3s[e] == 0.0) ++(e < net.pipes.size() ? valves_shut : dry);
  }
  // The set must hold what it is meant to test, and the other solver must have answered.
  CAPTURE(not_compared, loops, valves_shut, dry);
  CHECK(not_compared <= 5);
  CHECK(loops >= 400);
  CHECK(valves_shut >= 300);
  CHECK(dry >= 300);
}
