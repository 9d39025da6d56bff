// One link's law by itself.
#include "runnel/steady/link_law.h"

#include <catch2/catch.hpp>

#include "runnel/steady/assemble.h"
#include "steady/nasty_system.h"
#include "support/resolved.h"

using namespace runnel;

TEST_CASE("whether a link stands still is what its law says at no flow") {
  test::NastyKind kind;
  kind.loops = 2;
  kind.most_crests = 8;
  plain::Dice dice(7);
  long still = 0, running = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    steady::Kernel kernel = steady::assemble(test::NastySystem(seed, kind).system).kernel;
    for (steady::Link& link : kernel.links) {
      if (link.two_way_law(kernel)) continue;
      link.shut = dice.chance(0.1);
      // Heads about those that its own controls know, so that either answer comes often.
      const steady::Control& control = kernel.controls[link.forward + link.forwards - 1];
      const double about = control.to_node ? 50.0 : control.sink_head_m;
      for (int n = 0; n < 20; ++n) {
        const double a = about + dice.real(-3.0, 3.0), b = n == 0 ? a : about + dice.real(-3.0, 3.0);
        const bool stands = steady::stands_still(kernel, link, a, b);
        CHECK(stands == (steady::linearise(kernel, link, 0.0, a, b).control < 0));
        ++(stands ? still : running);
      }
    }
  }
  CHECK(still > 1000);
  CHECK(running > 1000);
}

TEST_CASE("how a law bends is told by its slopes if they lie near, else by its power, and not far away") {
  // loss = Q^3 at Q = 2: slope 12, second derivative 12. Half of it over the slope, times 0.1 squared.
  const double expected = -0.5 * 12.0 / 12.0 * 0.01;
  const double slope_before = 3.0 * 1.9 * 1.9;
  CHECK(steady::bend_m3s({2.0, 0.1, 8.0, 12.0, 0.0, 0.0}) == Approx(expected).epsilon(1e-12));
  CHECK(steady::bend_m3s({-2.0, 0.1, -8.0, 12.0, 0.0, 0.0}) == Approx(-expected).epsilon(1e-12));
  // From 1.9 the slopes rise by 11.7 per flow.
  CHECK(steady::bend_m3s({2.0, 0.1, 8.0, 12.0, 0.1, 12.0 - slope_before}) ==
        Approx(expected * 11.7 / 12.0).epsilon(1e-9));
  CHECK(steady::bend_m3s({2.0, 1.0, 8.0, 12.0, 0.1, 12.0 - slope_before}) == 0.0);
  CHECK(steady::bend_m3s({0.0, 0.1, 0.0, 12.0, 0.0, 0.0}) == 0.0);
}
