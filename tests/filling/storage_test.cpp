// A storage as the run of a filling sees it.
#include "runnel/filling/storage.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "filling/systems.h"
#include "support/rooms.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

Model tank_with_a_line() {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 1e-4, 29.0, 30.0));
  Tank tank = round_tank("tank", 10.0, 2.0, 2.0);
  tank.level = m(10.5);
  s.tanks.push_back(tank);
  Outlet trough;
  trough.name = "trough";
  trough.elevation = m(2.0);
  s.outlets.push_back(trough);
  s.pipelines.push_back(line("in", "spring", "tank", 100.0, 29.0, 12.0, 0.026));
  s.pipelines.push_back(line("out", "tank", "trough", 50.0, 10.2, 2.0, 0.026));
  return s;
}

}  // namespace

TEST_CASE("a tank knows its lip, its mouths and its levels") {
  const auto system = support::resolved(tank_with_a_line());
  const std::vector<Storage> all = storages_of(system, 0.0);
  REQUIRE(all.size() == 1);  // a box without a plan stores nothing
  const Storage& tank = all.front();
  CHECK(tank.name == "tank");
  CHECK(tank.lip_m3 == Approx(2.0 * pi).epsilon(1e-12));
  REQUIRE(tank.mouths.size() == 1);
  CHECK(tank.lowest_mouth_m() == Approx(10.2).margin(1e-12));
  CHECK(tank.mouths[0].bare_m3 == Approx(0.2 * pi).epsilon(1e-9));
  CHECK(tank.mouths[0].film_m3 > tank.mouths[0].bare_m3);
  // Volume and level are each other's inverse.
  for (const double level : {10.0, 10.3, 11.0, 12.0})
    CHECK(tank.level_m(tank.volume_m3(level)) == Approx(level).margin(1e-12));
}

TEST_CASE("a tank that no line leaves has no mouth") {
  Model s = tank_with_a_line();
  s.pipelines.pop_back();
  s.outlets.clear();
  const auto system = support::resolved(s);
  const std::vector<Storage> all = storages_of(system, 0.0);
  CHECK(all.front().mouths.empty());
  CHECK(std::isinf(all.front().lowest_mouth_m()));
}

TEST_CASE("a mouth below the floor counts from the floor") {
  Model s = tank_with_a_line();
  s.pipelines[1].survey[0].elevation = m(9.8);
  const auto system = support::resolved(s);
  CHECK(storages_of(system, 0.0).front().lowest_mouth_m() == Approx(10.0).margin(1e-12));
}
