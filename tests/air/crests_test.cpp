#include "runnel/air/crests.h"

#include <catch2/catch.hpp>

#include "air/air_systems.h"
#include "support/rooms.h"

namespace air = runnel::air;
namespace steady = runnel::steady;
namespace test = runnel::test;

TEST_CASE("the leg of a descent that asks for most decides") {
  const auto s = test::crest_line({{0, 100}, {200, 90}, {600, 97}, {800, 95}, {1000, 69}}, 0.04);
  const auto crests = air::crests_of(s, steady::solve(s), air::ways_of(s, 10));
  REQUIRE(crests.size() == 1);
  CHECK(crests[0].station_m == 600.0);
  CHECK(crests[0].descent.to_m == 1000.0);
  REQUIRE(crests[0].hardest);
  CHECK(crests[0].hardest->from_m == 800.0);  // the steeper: every law in range asks for more there
}

TEST_CASE("a crest on several ways is graded by the way that fares worst") {
  // Over a crest to a tee: one branch falls free, the other climbs and shuts 17 m of air in behind the crest.
  auto s = small::empty();
  small::box(s, "spring", 1e-3, 100.0, 101.0);
  small::joint(s, "tee", 80.0);
  small::outlet(s, "low", 60.0, 0.006);
  small::outlet(s, "high", 99.5, 0.006);
  small::line(s, "main", "spring", "tee", 0.04, {{0, 100}, {200, 90}, {400, 97}, {600, 80}});
  small::line(s, "down", "tee", "low", 0.03, {{0, 80}, {100, 60}});
  small::line(s, "up", "tee", "high", 0.03, {{0, 80}, {100, 99.5}});
  const auto ways = air::ways_of(s, 10);
  REQUIRE(ways.size() == 2);
  REQUIRE(ways[0].start.verdict == air::StartVerdict::starts);
  REQUIRE(ways[1].start.verdict == air::StartVerdict::blocked);
  const auto crests = air::crests_of(s, steady::solve(s), ways);
  REQUIRE(crests.size() == 1);
  CHECK(crests[0].way == 1);
  CHECK(crests[0].graded.risk == air::Risk::high);
}

TEST_CASE("no more ways than wanted, and the rest are counted") {
  auto s = test::crest_line(test::over_a_crest, 0.04);
  std::size_t left = 9;
  CHECK(air::ways_of(s, 0, &left).empty());
  CHECK(left == 1);
  CHECK(air::ways_of(s, 1, &left).size() == 1);
  CHECK(left == 0);
}
