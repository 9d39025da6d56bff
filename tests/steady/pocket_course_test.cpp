// A line as numbers in the order that the water takes it.
#include "runnel/steady/pocket_course.h"

#include <catch2/catch.hpp>

#include "steady/small_systems.h"

using namespace runnel;
using steady::PocketCourse;

namespace {

steady::LinePlan plan_over_a_crest() {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-3, 100.0, 100.5);
  small::tank(s, "tank", 80.0, 79.0);
  auto& line = small::line(s, "main", "spring", "tank", 0.03, {{0, 100}, {40, 90}, {90, 94}, {150, 80}});
  line.pipes.push_back({small::pipe(0.02), Length::metres(90.0), {}, {}});
  line.parts = {small::part(network::PartKind::fitting, "bend", 40.0, 0.9)};
  return steady::plan_line(s, s.pipelines[0]);
}

constexpr double air_m = 9.0;

}  // namespace

TEST_CASE("a course has the points, reaches and losses of its plan") {
  const auto plan = plan_over_a_crest();
  const PocketCourse course = steady::course_of(plan, air_m, 7.0);
  const auto& laid = plan.course.points();
  REQUIRE(course.points.size() == plan.vertices.size());
  REQUIRE(course.passage.size() == course.points.size());
  for (std::size_t i = 0; i < course.points.size(); ++i) {
    CHECK(course.passage.station_m(i) == laid[i].station_m);
    CHECK(course.passage.elevation_m(i) == laid[i].elevation_m);
    CHECK(course.points[i].local_s2m5 == plan.vertices[i].local_forward_s2m5);
    CHECK(course.points[i].floor_m == plan.vertices[i].floor_m);
  }
  CHECK(course.passage.pipe(2) == 1);
  CHECK(course.exit_s2m5 == plan.exit_s2m5 + 7.0);
  CHECK(course.atmospheric_head_m == air_m);
  CHECK_NOTHROW(steady::require_sound(course));
}

TEST_CASE("the way back is the same line from its other end") {
  const auto plan = plan_over_a_crest();
  const PocketCourse there = steady::course_of(plan, air_m), back = steady::course_back(plan, air_m);
  const std::size_t n = there.points.size();
  REQUIRE(back.points.size() == n);
  for (std::size_t i = 0; i < n; ++i) {
    CHECK(back.passage.station_m(i) == 150.0 - there.passage.station_m(n - 1 - i));
    CHECK(back.passage.elevation_m(i) == there.passage.elevation_m(n - 1 - i));
    CHECK(back.points[i].local_s2m5 == plan.vertices[n - 1 - i].local_backward_s2m5);
  }
  for (std::size_t i = 0; i + 1 < n; ++i) {
    CHECK(back.passage.length_m(i) == there.passage.length_m(n - 2 - i));
    CHECK(back.passage.pipe(i) == there.passage.pipe(n - 2 - i));
  }
  CHECK(back.entrance_s2m5 == plan.back_entrance_s2m5);
  CHECK(back.exit_s2m5 == plan.back_exit_s2m5);
}

TEST_CASE("a course from a point on keeps the air that lies there") {
  PocketCourse course = steady::course_of(plan_over_a_crest(), air_m);
  course.pockets = {{.crest = 0, .low = 1, .volume_m3 = {}}, {.crest = 2, .low = 3, .volume_m3 = 0.01}};
  const PocketCourse rest = steady::course_from(course, 2);
  REQUIRE(rest.points.size() == 2);
  REQUIRE(rest.passage.size() == 2);
  CHECK(rest.passage.station_m(0) == 90.0);
  CHECK(rest.points.front().local_s2m5 == 0.0);
  CHECK(rest.entrance_s2m5 == 0.0);
  REQUIRE(rest.pockets.size() == 1);
  CHECK(rest.pockets[0].crest == 0);
  CHECK(rest.pockets[0].low == 1);
  CHECK(rest.pockets[0].volume_m3 == 0.01);
}

TEST_CASE("pockets that are gone leave the others") {
  PocketCourse course = steady::course_of(plan_over_a_crest(), air_m);
  course.pockets = {{.crest = 0, .low = 1, .volume_m3 = {}}, {.crest = 2, .low = 3, .volume_m3 = {}}};
  const PocketCourse rest = steady::without_pockets(course, {0});
  REQUIRE(rest.pockets.size() == 1);
  CHECK(rest.pockets[0].crest == 2);
  CHECK(steady::without_pockets(course, {1, 0}).pockets.empty());
  CHECK(steady::without_pockets(course, {}).pockets.size() == 2);
}

TEST_CASE("the nearest point is found, also where the line drops at one station") {
  std::vector<network::CoursePoint> points;
  for (const auto& [s, z] : {std::pair{0.0, 10.0}, {50.0, 8.0}, {50.0, 2.0}, {50.0, 5.0}, {90.0, 1.0}})
    points.push_back({.station_m = s, .elevation_m = z});
  const network::Passage passage{network::Course(points)};
  CHECK(passage.nearest(50.0, 8.1) == 1);
  CHECK(passage.nearest(50.0, 2.4) == 2);
  CHECK(passage.nearest(50.0, 4.4) == 3);
  CHECK(passage.nearest(-20.0, 10.0) == 0);
  CHECK(passage.nearest(500.0, 0.0) == 4);
  CHECK(passage.nearest(48.0, 8.0) == 1);
}
