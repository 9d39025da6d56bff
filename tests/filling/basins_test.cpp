// Storages and the flow between them, at one instant.
#include "runnel/filling/basins.h"

#include <catch2/catch.hpp>

#include "filling/systems.h"
#include "support/rooms.h"

using namespace filling_test;
using namespace runnel::filling;

TEST_CASE("a tank begins at its level, or empty if asked, and never above its lip") {
  const auto system = support::resolved(spring_and_tank(11.0));
  Basins basins(system, 0.0);
  std::vector<double> spilled;
  const Eigen::VectorXd as_drawn = basins.start(system, false, spilled);
  CHECK(as_drawn[0] == Approx(basins.stores()[0].volume_m3(11.0)).epsilon(1e-12));
  CHECK(spilled[0] == 0.0);
  CHECK(basins.start(system, true, spilled)[0] == 0.0);
}

TEST_CASE("what a spring gives runs into the tank, and spills once it stands at the lip") {
  const auto system = support::resolved(spring_and_tank(11.0));
  Basins basins(system, 0.0);
  std::vector<double> spilled;
  Eigen::VectorXd volume = basins.start(system, false, spilled);
  std::vector<Event> events;
  REQUIRE(basins.settle(0.0, volume, false, events));
  // The line can take more than the spring gives, so all of it arrives.
  CHECK(basins.rate_m3s(0, basins.probe()) == Approx(2e-4).epsilon(1e-9));
  CHECK(basins.spill_m3s(0, basins.probe()) == 0.0);
  volume[0] = basins.stores()[0].lip_m3;
  REQUIRE(basins.settle(1.0, volume, false, events));
  CHECK(basins.rate_m3s(0, basins.probe()) == 0.0);
  CHECK(basins.spill_m3s(0, basins.probe()) == Approx(2e-4).epsilon(1e-9));
}

TEST_CASE("a draw is given from what is stored, and from an empty tank only what runs in") {
  Model s = spring_and_tank(11.0);
  Draw draw;
  draw.flow = Flow::from_si(5e-4);
  s.tanks[0].draws.push_back(draw);
  const auto system = support::resolved(s);
  Basins basins(system, 0.0);
  CHECK(basins.any_draws());
  CHECK(basins.steady_draws());
  std::vector<double> spilled;
  Eigen::VectorXd volume = basins.start(system, false, spilled);
  basins.set_draws(0.0);
  std::vector<Event> events;
  REQUIRE(basins.settle(0.0, volume, false, events));
  CHECK(basins.given_m3s(0, basins.probe()) == Approx(5e-4).epsilon(1e-9));
  CHECK(basins.rate_m3s(0, basins.probe()) == Approx(2e-4 - 5e-4).epsilon(1e-9));
  volume[0] = 0.0;
  REQUIRE(basins.settle(1.0, volume, false, events));
  CHECK(basins.given_m3s(0, basins.probe()) == Approx(2e-4).epsilon(1e-9));
  CHECK(basins.rate_m3s(0, basins.probe()) == Approx(0.0).margin(1e-15));
}
