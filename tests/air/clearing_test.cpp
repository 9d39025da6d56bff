// Air carried off pocket by pocket, and the law of a line with air against the start-up of the same line.
#include "runnel/air/clearing.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "air/random_profile.h"
#include "runnel/air/start_up.h"
#include "steady/pocket_bisection.h"

namespace air = runnel::air;
namespace steady = runnel::steady;
using air::ClearingLaw;
using runnel::test::PocketLine;
using runnel::test::PocketLines;

namespace {

/// Three equal legs of 20 m in 40 mm pipe that fall 4 m, each behind a crest 1 m lower than the last, and a
/// fall of 10 m at the end. An invented line.
PocketLine three_legs() {
  PocketLine line;
  double x = 0.0, z = 0.0;
  const auto point = [&](double dx, double to) {
    line.station_m.push_back(x += dx);
    line.elevation_m.push_back(z = to);
    line.local_k.push_back(0.0);
    line.floor_m.push_back(to);
  };
  point(0.0, 20.0);
  point(30.0, 10.0);
  for (int k = 0; k < 3; ++k) {
    point(30.0, 13.0 - k);
    line.air.push_back({2 + 2 * k, 3 + 2 * k, {}});
    point(20.0, 9.0 - k);
  }
  point(30.0, 10.0);
  point(60.0, -5.0);
  line.pipes = {{0.04, 1.5e-6}};
  line.pipe.assign(line.station_m.size() - 1, 0);
  line.measure();
  return line;
}

}  // namespace

TEST_CASE("a law that asks for less than a cavity's own drift is lifted to it") {
  const double root = std::sqrt(runnel::gravity_ms2 * 0.05);
  // Level: Kalinske and Bliss ask for nothing, a cavity drifts at 0.542.
  CHECK(air::carrying_velocity_ms(ClearingLaw::kalinske_bliss, 0.05, 0.0) == Approx(0.542 * root));
  CHECK(air::carrying_velocity_ms(ClearingLaw::walski, 0.05, 0.0) == Approx(0.542 * root));
  // Where a law asks for more it stands as it is.
  for (double angle : {0.1, 0.3, 0.7})
    CHECK(air::carrying_velocity_ms(ClearingLaw::wisner, 0.05, angle) ==
          air::clearing_velocity_ms(ClearingLaw::wisner, 0.05, angle));
  for (const auto& card : air::clearing_laws())
    for (double angle = 0.0; angle < 1.6; angle += 0.05)
      CHECK(air::carrying_velocity_ms(card.law, 0.05, angle) >=
            root * air::bubble_drift_froude(angle) * (1.0 - 1e-15));
}

TEST_CASE("the slowest piece of a leg decides whether its air is carried down") {
  PocketLine line = three_legs();
  line.pipes.push_back({0.06, 1.5e-6});
  line.pipe[4] = 1;  // the second leg is wider
  const steady::PocketCourse course = line.course();
  const double narrow = air::carrying_flow_m3s(ClearingLaw::wisner, course, course.pockets[0]);
  const double wide = air::carrying_flow_m3s(ClearingLaw::wisner, course, course.pockets[1]);
  CHECK(wide / narrow == Approx(std::pow(1.5, 2.5)).epsilon(1e-12));  // A sqrt(D) at one angle
  const double angle = std::atan2(4.0, 20.0);
  CHECK(narrow ==
        Approx(course.pipes[0].area_m2() * air::clearing_velocity_ms(ClearingLaw::wisner, 0.04, angle)));
}

TEST_CASE("clearing goes on until the current carries no more") {
  const steady::PocketCourse course = three_legs().course();
  const double sink_m = -5.0;
  const steady::PocketLaw with(course), without(without_pockets(course, {0, 1, 2}));
  SECTION("a fast line is cleared at once by every law") {
    for (const auto& clearing : air::follow_clearing(course, {40.0, sink_m})) {
      CHECK(clearing.clear());
      REQUIRE(clearing.steps.size() == 2);
      CHECK(clearing.steps[0].flow_m3s == with.flow_m3s(40.0, sink_m));
      CHECK(clearing.steps[0].carried == std::vector<int>{0, 1, 2});
      CHECK(clearing.end().flow_m3s == without.flow_m3s(40.0, sink_m));
    }
  }
  SECTION("a weak spring leaves it all") {
    for (const auto& clearing : air::follow_clearing(course, {40.0, sink_m, 1e-4})) {
      REQUIRE(clearing.steps.size() == 1);
      CHECK(clearing.end().flow_m3s == 1e-4);
      CHECK(clearing.end().left == std::vector<int>{0, 1, 2});
      CHECK(clearing.end().pockets.size() == 3);
    }
  }
  SECTION("the speed that one pocket's going brings may take the next") {
    // The middle leg is steeper, so it asks for more; found by raising the source until the first goes.
    PocketLine steeper = three_legs();
    steeper.elevation_m[5] -= 1.5;
    steeper.floor_m[5] -= 1.5;
    steeper.measure();
    const steady::PocketCourse mixed = steeper.course();
    bool in_steps = false;
    for (double source_m = 20.2; source_m < 40.0; source_m += 0.05) {
      const auto clearing = air::follow_clearing(ClearingLaw::escarameia, mixed, {source_m, sink_m});
      in_steps = in_steps || (clearing.clear() && clearing.steps.size() == 3);
    }
    CHECK(in_steps);
  }
}

TEST_CASE("on random lines clearing only ever helps, and ends where no pocket is carried") {
  int part_way = 0, cleared = 0, more_than_one_step = 0;
  for (std::uint64_t seed = 0; seed < 600; ++seed) {
    PocketLines lines(seed);
    const steady::PocketCourse course = lines.draw().course();
    const air::LineEnds ends{lines.source_m + 3.0, lines.sink_m, 0.01};
    for (const auto& clearing : air::follow_clearing(course, ends)) {
      CAPTURE(seed, card(clearing.law).name);
      for (std::size_t s = 0; s < clearing.steps.size(); ++s) {
        const auto& step = clearing.steps[s];
        REQUIRE(step.pockets.size() == step.left.size());
        if (s > 0) CHECK(step.flow_m3s >= clearing.steps[s - 1].flow_m3s * (1.0 - 1e-9));
        for (int k : step.left) {
          const bool goes = std::count(step.carried.begin(), step.carried.end(), k) > 0;
          CHECK(goes == (step.flow_m3s > carrying_flow_m3s(clearing.law, course,
                                                           course.pockets[static_cast<std::size_t>(k)])));
        }
      }
      CHECK(clearing.end().carried.empty());
      if (clearing.clear()) ++cleared;
      if (!clearing.clear() && clearing.steps.size() > 1) ++part_way;
      if (clearing.steps.size() > 2) ++more_than_one_step;
      // Taken out one at a time, in another order, it ends with the same pockets.
      std::vector<int> gone, left = clearing.steps[0].left;
      for (bool again = true; again;) {
        again = false;
        const double flow = steady::PocketLaw(without_pockets(course, gone))
                                .flow_m3s(ends.source_head_m, ends.sink_head_m, ends.most_m3s);
        for (auto k = left.rbegin(); k != left.rend() && !again; ++k)
          if (flow > carrying_flow_m3s(clearing.law, course, course.pockets[static_cast<std::size_t>(*k)])) {
            gone.push_back(*k);
            left.erase(std::next(k).base());
            again = true;
          }
      }
      CHECK(left == clearing.end().left);
    }
  }
  CHECK(cleared > 100);  // the set is not idle
  CHECK(part_way > 100);
  CHECK(more_than_one_step > 10);
}

TEST_CASE("at rest a line with air asks for what start-up asks for") {
  std::mt19937 dice(20);
  for (int n = 0; n < 1000; ++n) {
    const air::Profile profile = runnel::test::random_profile(dice);
    air::StartConditions conditions;
    conditions.atmospheric_head_m = 8.0 + 0.002 * n;
    const auto& points = profile.points;
    if (n % 2 == 0) conditions.end_level_m = points.back().elevation_m + 0.01 * n;
    const air::StartUp start = start_up(profile, conditions);
    steady::PocketCourse course;
    course.atmospheric_head_m = conditions.atmospheric_head_m;
    course.passage = points.passage();
    for (const air::ProfilePoint p : points) {
      course.points.push_back({0.0, p.elevation_m});
      course.pipes.emplace_back(runnel::losses::FrictionLaw{}, p.bore_m, 1.5e-6, 140.0, 1.3e-6);
    }
    // Start-up does not ask about the mouth nor the first descent, which fills as far as the line asks.
    for (std::size_t i = 0;
         i + 1 < points.size() && (i == 0 || points[i].elevation_m < points[i - 1].elevation_m); ++i)
      course.points[i].floor_m = -steady::unbounded;
    for (const air::Pocket& pocket : start.pockets) course.pockets.push_back({pocket.crest, pocket.low, {}});
    const double sink_m = conditions.end_level_m.value_or(points.back().elevation_m);
    const steady::PocketLaw law(course), rigid(course, steady::Compression::none);
    CHECK(law.need(0.0, sink_m).head_m == Approx(start.required_level_m).epsilon(1e-12));
    CHECK(rigid.need(0.0, sink_m).head_m == Approx(start.uncompressed_level_m).epsilon(1e-12));
    const auto running = law.pockets(0.0, sink_m);
    for (std::size_t k = 0; k < running.size(); ++k)
      CHECK(running[k].interface_m == Approx(start.pockets[k].interface_m).epsilon(1e-10));
  }
}
