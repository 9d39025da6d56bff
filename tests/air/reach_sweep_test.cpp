#include "runnel/air/reach_sweep.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "air/air_systems.h"
#include "support/rooms.h"

namespace air = runnel::air;
namespace test = runnel::test;

TEST_CASE("each descent that can hold air is held against every law") {
  // A weak yield, so that the flow is given: 0.5 L/s in 40 mm is 0.0005 / (pi 0.04^2 / 4) = 0.39789 m/s.
  const auto s = test::crest_line(test::over_a_crest, 0.04, 5e-4);
  const auto state = runnel::steady::solve(s);
  const auto found = air::sweep_reaches(support::line_of(s.pipelines[0]), state.lines[0],
                                        {{600, 1000, air::Top::bare_crest}}, 1.0);
  REQUIRE(found.size() == 2);  // the first runs part-full below the box, the second lies below the crest
  CHECK_FALSE(found[0].below_crest);
  CHECK_FALSE(found[0].runs_full);
  const air::ReachSweep& below = found[1];
  CHECK(below.below_crest);
  CHECK(below.fall_m == Approx(28.0).epsilon(1e-12));
  CHECK(below.velocity_ms == Approx(0.397887).epsilon(1e-5));
  CHECK(below.sweep.screening);
  // Wisner by hand: 28 in 400 is 4.004 degrees, sin 0.069829; sqrt(9.80665 * 0.04) = 0.626310;
  // 0.626310 * (0.825 + 0.25 * 0.264252) = 0.558081 m/s. [wisner1975; secondary].
  const auto wisner = std::find_if(below.sweep.laws.begin(), below.sweep.laws.end(),
                                   [](const auto& l) { return l.law == air::ClearingLaw::wisner; });
  REQUIRE(wisner != below.sweep.laws.end());
  CHECK(wisner->velocity_ms == Approx(0.558081).epsilon(1e-5));
  CHECK(below.sweep.swept != air::Swept::by_all);
}

TEST_CASE("clearance lies straight between the points of the answer") {
  runnel::steady::LineState run;
  run.points = {{0, 10, 11, 1, {}}, {100, 5, 9, 4, {}}, {200, 7, {}, {}, {}}};
  CHECK(*air::clearance_at_m(run, 50.0) == Approx(2.5).epsilon(1e-12));
  CHECK(*air::clearance_at_m(run, 100.0) == 4.0);
  CHECK_FALSE(air::clearance_at_m(run, 150.0));
  CHECK_FALSE(air::clearance_at_m(run, 300.0));
  CHECK(*air::least_clearance_m(run, 100.0, 50.0) == Approx(2.5).epsilon(1e-12));
}

TEST_CASE("a line without flow has no descents to sweep") {
  auto s = test::crest_line(test::over_a_crest, 0.04);
  s.outlets[0].shut = true;
  const auto state = runnel::steady::solve(s);
  CHECK(air::sweep_reaches(support::line_of(s.pipelines[0]), state.lines[0],
                           {{600, 1000, air::Top::bare_crest}}, 1.0)
            .empty());
}

TEST_CASE("a descent is near the grade line, below a crest, or neither") {
  const auto s = test::crest_line({{0, 100}, {500, 90}}, 0.04);
  runnel::steady::LineState run;  // made up: 0.6 m above the pipe at the end
  run.flow_m3s = 1e-3;
  run.points = {{0, 100, 101, 1, {}}, {500, 90, 90.6, 0.6, {}}};
  run.reaches = {{0, 500}};
  const auto at = [&](air::Top top, double clearance_m) {
    return air::sweep_reaches(support::line_of(s.pipelines[0]), run, {{0, 500, top}}, clearance_m);
  };
  REQUIRE(at(air::Top::source, 0.7).size() == 1);
  CHECK(at(air::Top::source, 0.7)[0].near_grade);
  CHECK_FALSE(at(air::Top::source, 0.7)[0].below_crest);
  CHECK(at(air::Top::source, 0.5).empty());
  REQUIRE(at(air::Top::vented_crest, 0.5).size() == 1);
  CHECK(at(air::Top::vented_crest, 0.5)[0].below_crest);
}
