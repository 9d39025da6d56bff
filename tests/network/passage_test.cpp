// A course in the order of the flow: the points are those of the course, whichever way and whatever follows.
#include "runnel/network/passage.h"

#include <catch2/catch.hpp>
#include <cmath>

using runnel::network::Course;
using runnel::network::CoursePoint;
using runnel::network::Passage;

namespace {

/// Points (station, elevation), the first pipe up to a point, the second from there on.
Course course_of(const std::vector<std::pair<double, double>>& survey, std::size_t second_from) {
  std::vector<CoursePoint> points;
  for (const auto& [s, z] : survey)
    points.push_back({.station_m = s,
                      .elevation_m = z,
                      .pipe = points.size() >= second_from ? 1 : 0,
                      .survey_point = true});
  return Course(std::move(points)).moved([&](std::size_t i) {
    return survey[i].second;
  });  // with its lengths
}

const Course upper = course_of({{5, 100}, {45, 70}, {85, 80}}, 1);
const Course lower = course_of({{0, 20}, {40, 50}, {80, 80}}, 2);  // drawn uphill

Approx near(double v) { return Approx(v).epsilon(0.0).margin(1e-12); }  // a few operations on short numbers

}  // namespace

TEST_CASE("a passage against its course meets the same points from the other end") {
  const Passage back(upper, true);
  REQUIRE(back.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(&back.point(i) == &upper.points()[2 - i]);
    CHECK(back.own_index(i) == 2 - i);
  }
  CHECK(back.station_m(0) == 0.0);
  CHECK(back.station_m(2) == 80.0);
  CHECK(back.length_m(0) == upper.points()[1].length_m);
  CHECK(back.length_m(1) == near(50.0));
  CHECK(back.pipe(0) == 1);
  CHECK(back.pipe(1) == 0);
  CHECK(back.elevation_at(20.0) == near(75.0));
  CHECK(back.elevation_at(60.0) == near(85.0));
}

TEST_CASE("courses end to end share the joint between them") {
  Passage both(upper);
  both.add(lower, true, 2);
  REQUIRE(both.size() == 5);
  CHECK(both.leg(1) == 0);
  CHECK(both.leg(2) == 1);
  CHECK(both.point(2).station_m == 80.0);
  CHECK(both.station_m(2) == 80.0);
  CHECK(both.station_m(4) == 160.0);
  CHECK(both.pipe(1) == 1);
  CHECK(both.pipe(2) == 2);
  CHECK(both.length_m(3) == near(50.0));
  CHECK(both.elevation_at(79.0) == near(79.75));
  CHECK(both.elevation_at(100.0) == near(65.0));
  CHECK(both.elevation_at(-1.0) == 100.0);
  CHECK(both.elevation_at(999.0) == 20.0);
  CHECK(both.legs()[1].along_m(40.0) == 120.0);

  SECTION("up to a share of a reach") {
    const Passage begun = both.up_to(3, 0.25);
    REQUIRE(begun.size() == 5);
    CHECK(begun.elevation_m(4) == near(42.5));
    CHECK(begun.station_m(4) == near(130.0));
    CHECK(begun.length_m(3) == near(12.5));
    CHECK(begun.pipe(3) == 2);
    for (std::size_t i = 0; i < 4; ++i) {
      CHECK(begun.elevation_m(i) == both.elevation_m(i));
      CHECK(begun.station_m(i) == both.station_m(i));
      if (i < 3) CHECK(begun.length_m(i) == both.length_m(i));
    }
    const Passage forward = both.up_to(0, 0.5);
    REQUIRE(forward.size() == 2);
    CHECK(forward.elevation_m(1) == near(85.0));
    CHECK(forward.length_m(0) == near(25.0));
    CHECK(both.up_to(1, 1.0).size() == 3);
  }
  SECTION("from a point on") {
    const Passage rest = both.from(3);
    REQUIRE(rest.size() == 2);
    CHECK(&rest.point(0) == &lower.points()[1]);
    CHECK(rest.station_m(0) == 120.0);
  }
  SECTION("a leg that begins higher takes the end before it along") {
    const Course raised =
        lower.moved([](std::size_t i) { return lower.points()[i].elevation_m + (i == 2 ? 3.0 : 0.0); });
    const Passage changed = both.relaid({upper, raised});
    REQUIRE(changed.size() == 5);
    CHECK(changed.elevation_m(2) == 83.0);
    CHECK(changed.length_m(1) == near(std::hypot(40.0, 13.0)));
    CHECK(changed.legs()[0].course.points().back().elevation_m == 83.0);
  }
}

TEST_CASE("where two surveys disagree about a joint the second course begins with a vertical piece") {
  Passage both(upper);
  both.add(course_of({{0, 81.5}, {40, 51.5}}, 9), false, 2);
  REQUIRE(both.size() == 5);
  CHECK(both.elevation_m(2) == 80.0);
  CHECK(both.elevation_m(3) == 81.5);
  CHECK(both.station_m(2) == both.station_m(3));
  CHECK(both.length_m(2) == near(1.5));
  CHECK(both.pipe(2) == 2);
  CHECK(both.elevation_at(80.0) == 80.0);
}

TEST_CASE("a trench brings down what stands above its floor and leaves ends that stay") {
  const Course hill = course_of({{0, 10}, {10, 20}, {20, 30}, {30, 20}, {40, 0}}, 9);
  const Course dug = hill.dug(0, 4, 15.0, true, true);
  REQUIRE(dug.points().size() == 7);
  const double stations_m[] = {0.0, 5.0, 10.0, 20.0, 30.0, 32.5, 40.0};
  for (std::size_t i = 0; i < 7; ++i) CHECK(dug.points()[i].station_m == near(stations_m[i]));
  for (std::size_t i = 1; i < 6; ++i) CHECK(dug.points()[i].elevation_m == 15.0);
  CHECK(dug.points()[1].length_m == near(5.0));
  CHECK(hill.points()[2].elevation_m == 30.0);  // the course it was dug from is what it was
  const Course short_trench = hill.dug(1, 3, 15.0, true, false);
  REQUIRE(short_trench.points().size() == 5);
  CHECK(short_trench.points()[1].elevation_m == 20.0);
  CHECK(short_trench.points()[2].elevation_m == 15.0);
  CHECK(short_trench.points()[3].elevation_m == 15.0);
}

TEST_CASE("ends that lie too low are lifted without another length of pipe") {
  const Course lifted = upper.with_ends_above(90.0, 81.0);
  CHECK(lifted.points().front().elevation_m == 100.0);
  CHECK(lifted.points().back().elevation_m == 81.0);
  CHECK(lifted.points()[1].length_m == upper.points()[1].length_m);
  CHECK(&upper.with_ends_above(90.0, 80.0).points() == &upper.points());
}
