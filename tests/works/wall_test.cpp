#include "runnel/works/wall.h"

#include <catch2/catch.hpp>

#include "runnel/base/bibliography.h"

using namespace runnel;
using namespace runnel::works;

namespace {

Wall sound() {
  Wall wall;
  wall.spring = Length::metres(100.0);
  wall.water_behind = Length::metres(99.9);
  wall.water_in_front = Length::metres(99.4);
  wall.top = Length::metres(100.9);
  wall.highest_ground = Length::metres(100.5);
  wall.depth_behind = Length::metres(1.25);
  wall.depth_in_front = Length::metres(0.7);
  wall.width = Length::metres(0.3);
  return wall;
}

}  // namespace

TEST_CASE("a wall is judged by backwater, top and creep") {
  CHECK(weighted_creep(sound()).metres() == Approx(2.05).epsilon(1e-14));  // 1.25 + 0.3/3 + 0.7
  const auto all = judge_wall(sound(), Ground::fine_gravel);
  REQUIRE(all.size() == 3);
  CHECK(worst_of(all) == Verdict::holds);
  CHECK(*all[2].figure == Approx(4.1).epsilon(1e-12));  // 2.05 m over 0.5 m
  CHECK(judge_wall(sound(), Ground::coarse_sand)[2].verdict == Verdict::fails);
  for (const Judgement& judgement : all) CHECK(base::find_reference(judgement.source) != nullptr);
}

TEST_CASE("water held up behind a wall is told") {
  Wall wall = sound();
  wall.water_behind = Length::metres(100.05);
  const auto all = judge_wall(wall, Ground::medium_clay);
  CHECK(all[0].verdict == Verdict::fails);
  CHECK(*all[0].figure == Approx(0.05).epsilon(1e-9));
  wall.top = Length::metres(100.8);  // 0.3 m, and 12 in are 0.3048 m
  CHECK(judge_wall(wall, Ground::medium_clay)[1].verdict == Verdict::fails);
}

TEST_CASE("a wall of unknown levels cannot be judged, one without head needs no creep") {
  for (const Judgement& judgement : judge_wall({}, Ground::fine_sand))
    CHECK(judgement.verdict == Verdict::cannot_be_judged);
  Wall wall = sound();
  wall.water_in_front = wall.water_behind;
  CHECK(judge_wall(wall, Ground::fine_sand)[2].verdict == Verdict::holds);
}
