// Systems stretched as far as anybody could build them (wide_system.h): nearly all settle, what has settled
// passes the checker, and no flow depends on the height of the site.
//
// Of the first 20,000 trees all settle, of the first 20,000 with three loops all but one (202). There a place
// is fed by a trickle of some 1e-8 m3/s over crests of pipe wide enough for litres, and gives to pipes that
// dry and fill in turn: each step moves its head by less than a nanometre and its flows by all they are, at
// every pace at which water is let settle (steady/slow_settling.h). It is told as not settled, with no figure
// to rely on.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/steady/datum.h"
#include "runnel/steady/newton.h"
#include "steady/wide_system.h"

using namespace runnel;
using steady::Kernel;
using steady::KernelState;

namespace {

int unsettled(int loops, std::uint64_t systems) {
  test::NastyKind kind;
  kind.loops = loops;
  int count = 0;
  for (std::uint64_t seed = 0; seed < systems; ++seed) {
    CAPTURE(loops, seed);
    const auto state = steady::solve(support::resolved(test::wide_system(seed, kind)), {.depths = false});
    if (state.outcome == steady::Outcome::settled)
      CHECK(state.proof.consistent);
    else
      ++count;
  }
  return count;
}

/// Heads on a grid of 2^-30 m, so that lifting them is exact; above the datum that a system is solved at.
Kernel lifted(Kernel kernel, double by_m) {
  const auto lift = [by_m](double& head_m) {
    if (std::isfinite(head_m)) head_m = std::nearbyint(head_m * 0x1p30) * 0x1p-30 + by_m;
  };
  for (steady::KernelNode& node : kernel.nodes) {
    lift(node.head_m);
    lift(node.lip_m);
    lift(node.draw_floor_m);
  }
  for (steady::Control& control : kernel.controls) {
    lift(control.source_head_m);
    lift(control.sink_head_m);
  }
  return steady::above(kernel, steady::local_datum_m(kernel));
}

/// The worst change of a flow when the site is lifted, of the greatest flow.
double worst_change(const Kernel& kernel) {
  const KernelState low = steady::solve(lifted(kernel, 0.0));
  double greatest_m3s = 1e-4, worst_m3s = 0.0;  // continuity is settled to no less than 1e-13 m3/s
  for (const double flow : low.flow_m3s) greatest_m3s = std::max(greatest_m3s, std::abs(flow));
  for (const double by_m : {-1000.0, 100.0, 4000.0}) {
    const KernelState high = steady::solve(lifted(kernel, by_m));
    CHECK(high.outcome == low.outcome);
    if (low.outcome != steady::Outcome::settled) continue;
    for (std::size_t k = 0; k < low.flow_m3s.size(); ++k)
      worst_m3s = std::max(worst_m3s, std::abs(low.flow_m3s[k] - high.flow_m3s[k]));
  }
  return worst_m3s / greatest_m3s;
}

}  // namespace

TEST_CASE("1,000 wide trees settle and pass the checker") { CHECK(unsettled(0, 1000) == 0); }

TEST_CASE("1,000 wide systems with loops settle but for one, and pass the checker") {
  CHECK(unsettled(3, 1000) <= 1);
}

TEST_CASE("flows of wide and nasty systems are the same at any height") {
  for (const int loops : {0, 3}) {
    test::NastyKind kind;
    kind.loops = loops;
    for (std::uint64_t seed = 1000; seed < 1150; ++seed) {
      CAPTURE(loops, seed);
      CHECK(worst_change(steady::assemble(test::wide_system(seed, kind)).kernel) <= 1e-9);
      CHECK(worst_change(steady::assemble(test::NastySystem(seed, kind).system).kernel) <= 1e-9);
    }
  }
}
