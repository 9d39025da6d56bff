// Water let settle in time comes to the state that plain steps find, from wherever it is let go.
#include "runnel/steady/slow_settling.h"

#include <catch2/catch.hpp>

#include "runnel/steady/assemble.h"
#include "runnel/steady/datum.h"
#include "runnel/steady/newton.h"
#include "steady/nasty_system.h"

using namespace runnel;
using steady::Kernel;
using steady::NewtonSteps;
using steady::Outcome;
using steady::SlowSettling;

namespace {

/// Crests, draws that cannot be met, check valves, loops.
Kernel nasty(std::uint64_t seed) {
  test::NastyKind kind;
  kind.loops = 2;
  const Kernel kernel = steady::assemble(test::NastySystem(seed, kind).system).kernel;
  return steady::above(kernel, steady::local_datum_m(kernel));
}

bool settles(NewtonSteps& steps) {
  steps.work().read_kernel();
  SlowSettling slow(steps);
  return slow.run();
}

double total(const std::vector<double>& flows) {
  double sum = 1e-4;  // where hardly anything flows, continuity is settled to 1e-13 m3/s
  for (const double flow : flows) sum += std::abs(flow);
  return sum;
}

}  // namespace

TEST_CASE("by storage and time the flows become those that plain steps find") {
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Kernel kernel = nasty(seed);
    const steady::KernelState plain_steps = steady::solve(kernel);
    if (plain_steps.outcome != Outcome::settled) continue;
    NewtonSteps steps(kernel, {});
    CAPTURE(seed);
    REQUIRE(settles(steps));
    CHECK(steps.work().storage_m2s == 0.0);  // nothing is left that takes water in
    steps.polish();                          // as the other state is: no trickles
    for (std::size_t k = 0; k < kernel.links.size(); ++k)
      // Both settle continuity to 1e-10 of all flow; flows on a chain of places add those up.
      CHECK(std::abs(steps.work().state.flow_m3s[k] - plain_steps.flow_m3s[k]) <=
            1e-8 * total(plain_steps.flow_m3s));
    ++compared;
  }
  CHECK(compared >= 55);
}

TEST_CASE("it begins at rest, whatever state it is given") {
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    const Kernel kernel = nasty(seed);
    NewtonSteps first(kernel, {}), second(kernel, {});
    REQUIRE(settles(first));
    second.work().read_kernel();
    plain::Dice dice(seed);
    for (double& head : second.work().state.head_m) head = dice.real(-50.0, 50.0);
    for (double& flow : second.work().state.flow_m3s) flow = dice.real(-1.0, 1.0);
    SlowSettling slow(second);
    REQUIRE(slow.run());
    CHECK(second.work().state.flow_m3s == first.work().state.flow_m3s);
    CHECK(second.work().state.hold == first.work().state.hold);
  }
}

TEST_CASE("with few steps to take it ends without an answer and without more steps") {
  const Kernel kernel = nasty(3);
  for (const int most : {1, 2, 5}) {
    NewtonSteps steps(kernel, {.max_iterations = most});
    CHECK_FALSE(settles(steps));
    CHECK(steps.work().state.history.size() == static_cast<std::size_t>(most));
    CHECK(steps.work().state.outcome != Outcome::settled);
    CHECK(steps.work().storage_m2s == 0.0);
  }
}

TEST_CASE("a place that drains into nothing but a shut pipe settles too") {
  // Nothing flows and nothing drives: the first storage is measured by a flow of its own then.
  Kernel kernel;
  kernel.nodes = {{.lip_m = 5.0}, {.fixed = true, .head_m = 2.0}};
  kernel.add_pipe(0, 1, {{}, 0.03, 1.5e-6, 150.0, 1.31e-6}, 50.0, 0.0);
  kernel.links[0].shut = true;
  NewtonSteps steps(kernel, {});
  REQUIRE(settles(steps));
  CHECK(steps.work().state.flow_m3s[0] == 0.0);
}
