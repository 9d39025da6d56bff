// The steps of the search themselves: how many it takes, when they end, and what polishing does to what they
// found. That their answers are right is held against other solvers elsewhere in this room.
#include "runnel/steady/newton_steps.h"

#include <catch2/catch.hpp>
#include <limits>

#include "runnel/base/constants.h"
#include "steady/plain_network.h"

using namespace runnel;
using steady::Hold;
using steady::Kernel;
using steady::NewtonSteps;
using steady::Outcome;

namespace {

losses::PipeFriction pipe(double bore_m = 0.03) { return {{}, bore_m, 1.5e-6, 150.0, plain::viscosity_m2s}; }

/// From rest, as a search begins.
void begin(NewtonSteps& steps) {
  steps.work().read_kernel();
  steps.work().first_guess();
}

/// Two levels 0.2 m apart and two laminar pipes in a row.
Kernel drip() {
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 10.2}, {}, {.fixed = true, .head_m = 10.0}};
  kernel.add_pipe(0, 1, pipe(0.004), 30.0, 0.0);
  kernel.add_pipe(1, 2, pipe(0.004), 10.0, 0.0);
  return kernel;
}

/// A looped street with draws, all of it turbulent.
plain::Network street() {
  plain::Network net = plain::random_network(77, 20, 20);
  plain::Dice dice(78);
  for (int v = 0; v + 5 < 20; v += 3) net.pipes.push_back(plain::random_pipe(dice, v, v + 5));
  net.openings.clear();
  for (auto& p : net.pipes) p.check_valve = false;
  for (auto& node : net.nodes) node.inflow_m3s = node.fixed ? 0.0 : -2e-4;
  return net;
}

}  // namespace

TEST_CASE("a linear system is done by the first step") {
  // At the 0.3 m/s that slopes are taken at from rest these pipes are laminar: Re 916.
  const Kernel kernel = drip();
  NewtonSteps steps(kernel, {});
  begin(steps);
  CHECK_FALSE(steps.iterate(0));
  CHECK(steps.work().state.head_m[1] == 10.2);  // looked at and not moved
  CHECK(steps.work().state.history.size() == 1);
  begin(steps);
  steps.work().state.history.clear();
  REQUIRE(steps.iterate(1));
  const auto& state = steps.work().state;
  CHECK(state.history.size() == 2);
  CHECK(state.head_m[1] == Approx(10.05).epsilon(1e-12));  // 30 of 40 m of pipe before it
  // Q = pi g h d^4 / (128 nu L)
  const double expected = pi * gravity_ms2 * 0.2 * std::pow(0.004, 4) / (128.0 * plain::viscosity_m2s * 40.0);
  for (const double flow : state.flow_m3s) CHECK(flow == Approx(expected).epsilon(1e-9));
}

TEST_CASE("every step is told, numbered from one, with what was wrong before it") {
  const Kernel kernel = plain::kernel(street());
  NewtonSteps steps(kernel, {});
  begin(steps);
  REQUIRE(steps.iterate(40));
  const auto& history = steps.work().state.history;
  REQUIRE(history.size() >= 4);
  for (std::size_t i = 0; i < history.size(); ++i) CHECK(history[i].number == static_cast<int>(i) + 1);
  CHECK(history.front().energy_m > 1.0);
  CHECK(history.back().energy_m <= 1e-9);
  // A step sets the flows by its linear model, which closes: after the first nothing is lost at any place but
  // the rounding of its linear system.
  for (std::size_t i = 1; i < history.size(); ++i) CHECK(history[i].continuity_m3s * 1e13 < 1.0);
}

TEST_CASE("a search ends after as many steps as it may take") {
  const Kernel kernel = plain::kernel(street());
  NewtonSteps steps(kernel, {.max_iterations = 3});
  begin(steps);
  CHECK_FALSE(steps.exhausted());
  CHECK_FALSE(steps.iterate(40));
  CHECK(steps.exhausted());
  CHECK(steps.work().state.history.size() == 3);
  CHECK(steps.work().state.outcome == Outcome::iteration_limit);
}

TEST_CASE("a number that is none ends the search at once and is told") {
  Kernel kernel = drip();
  kernel.nodes[2].head_m = std::numeric_limits<double>::quiet_NaN();
  NewtonSteps steps(kernel, {});
  begin(steps);
  CHECK_FALSE(steps.iterate(40));
  CHECK(steps.work().state.outcome == Outcome::not_finite);
  CHECK(steps.work().state.history.size() <= 1);
}

TEST_CASE("a box that gets more than its pipe takes stands at its lip, one that gets less below it") {
  // 4 mm over 25 m down from a lip at 10.1 m to 10.0 m, laminar: what it takes is known.
  const double takes = pi * gravity_ms2 * 0.1 * std::pow(0.004, 4) / (128.0 * plain::viscosity_m2s * 25.0);
  for (const double share : {2.0, 0.25}) {
    Kernel kernel;
    kernel.nodes = {{.inflow_m3s = share * takes, .lip_m = 10.1}, {.fixed = true, .head_m = 10.0}};
    kernel.add_pipe(0, 1, pipe(0.004), 25.0, 0.0);
    NewtonSteps steps(kernel, {});
    begin(steps);
    REQUIRE(steps.iterate(40));
    const auto& work = steps.work();
    CHECK(work.state.flow_m3s[0] == Approx(std::min(share, 1.0) * takes).epsilon(1e-9));
    CHECK(work.state.hold[0] == (share > 1.0 ? Hold::lip : Hold::free));
    CHECK(work.state.head_m[0] == Approx(10.0 + 0.1 * std::min(share, 1.0)).epsilon(1e-11));
    if (share > 1.0) CHECK(work.net_m3s[0] == Approx(takes).epsilon(1e-9));  // what spills
  }
}

TEST_CASE("behind a float valve that lets only so much through stands what that flow asks for") {
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 20.0}, {}};
  kernel.add_pipe(0, 1, pipe(), 50.0, 1.0);
  kernel.add_opening(1, 5.0, 0.01, 2.5, plain::viscosity_m2s);
  kernel.links[0].most_m3s = 2e-4;
  NewtonSteps steps(kernel, {});
  begin(steps);
  REQUIRE(steps.iterate(40));
  const double area = pi * 0.01 * 0.01 / 4.0, velocity = 2e-4 / area;
  CHECK(steps.work().state.flow_m3s[0] == 2e-4);
  // The opening's smoothing below Re 0.1 takes off nothing that shows at Re 20,000.
  CHECK(steps.work().state.head_m[1] ==
        Approx(5.0 + 2.5 * velocity * velocity / (2.0 * gravity_ms2)).epsilon(1e-9));
}

TEST_CASE("a trickle without any head to drive it is stopped by polishing alone") {
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 8.0}};
  kernel.add_opening(0, 8.0, 0.01, 2.5, plain::viscosity_m2s);
  NewtonSteps steps(kernel, {});
  begin(steps);
  steps.work().state.flow_m3s[0] = 1e-4;  // each step halves it: the law is a square
  REQUIRE(steps.iterate(60));
  CHECK(steps.work().state.flow_m3s[0] > 0.0);
  steps.polish();
  CHECK(steps.work().state.flow_m3s[0] == 0.0);

  NewtonSteps rough(kernel, {.polish = false});
  begin(rough);
  rough.work().state.flow_m3s[0] = 1e-4;
  REQUIRE(rough.iterate(60));
  const double before = rough.work().state.flow_m3s[0];
  rough.polish();
  CHECK(rough.work().state.flow_m3s[0] == before);
}

TEST_CASE("polishing brings what has settled to the last digits and never undoes it") {
  int sharper = 0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const Kernel kernel = plain::kernel(plain::random_network(seed));
    NewtonSteps steps(kernel, {});
    begin(steps);
    REQUIRE(steps.iterate(60));
    const double before_m = steps.work().tally.worst_m;
    steps.polish();
    CAPTURE(seed, before_m);
    CHECK(steps.work().tally.worst_m <= 1e-9);
    CHECK(steps.work().worst_net_m3s <= 1e-10 * steps.work().total_flow_m3s + 1e-13);
    CHECK(steps.work().state.outcome != Outcome::not_finite);
    sharper += steps.work().tally.worst_m < 1e-12;
  }
  CHECK(sharper >= 90);  // the others have a trickle, whose energy says little
}

TEST_CASE("changed links are taken over, and nothing else needs to be built anew") {
  plain::Network net = street();
  Kernel kernel = plain::kernel(net);
  NewtonSteps kept(kernel, {});
  begin(kept);
  kept.prepare();
  REQUIRE(kept.iterate(40));

  net.pipes[3].bore_m *= 0.7;
  net.pipes[5].length_m *= 2.0;
  const Kernel changed = plain::kernel(net);
  kernel.terms = changed.terms;  // in its place: the steps look at this very kernel
  kernel.lengths_m = changed.lengths_m;
  kernel.controls = changed.controls;
  kernel.links[20].shut = true;  // no longer plain; it closes a loop
  for (const std::size_t k : {3u, 5u}) kernel.links[k].start_m3s = changed.links[k].start_m3s;
  kept.update({3, 5, 20});
  begin(kept);
  kept.work().state.history.clear();

  NewtonSteps fresh(kernel, {});
  begin(fresh);
  const bool found = fresh.iterate(40);
  REQUIRE(kept.iterate(40) == found);
  REQUIRE(found);
  CHECK(kept.work().state.flow_m3s == fresh.work().state.flow_m3s);  // the same sums in the same order
  CHECK(kept.work().state.flow_m3s[20] == 0.0);
}
