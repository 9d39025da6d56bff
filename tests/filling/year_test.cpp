// From a model to the season of its connected parts; sums by hand beside the numbers.
#include "runnel/filling/year.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "runnel/filling/fill.h"
#include "support/rooms.h"
#include "systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

Year::Row row(const std::string& place, double m3s) {
  return {place, std::vector<Flow>(12, Flow::from_si(m3s)), {}};
}

/// Two springs over one tank, and a tank of its own with another spring.
Model two_parts() {
  Model s = with_water();
  s.boxes = {spring("upper", 3e-5, 110, 111), spring("side", 2e-5, 108, 109), spring("far", 1e-5, 60, 61)};
  s.tanks = {round_tank("cistern", 80, 2, 3), round_tank("trough", 40, 1, 2)};
  s.pipelines = {line("a", "upper", "cistern", 200, 110, 82, 0.04),
                 line("b", "side", "cistern", 200, 108, 82, 0.04),
                 line("c", "far", "trough", 200, 60, 41, 0.04)};
  s.year = Year{{row("upper", 4e-5)}, {row("cistern", 3e-5)}};
  return s;
}

}  // namespace

TEST_CASE("springs and tanks that lines join are weighed together") {
  Model s = two_parts();
  s.tanks[0].float_valve = FloatValve{m(81.5), m(81.2), 0.0};
  Draw all_day;
  all_day.flow = Flow::from_si(2e-5);
  s.tanks[1].draws.push_back(all_day);
  const auto parts = look_at_year(s);
  REQUIRE(parts.size() == 2);
  CHECK(parts[0].boxes == std::vector<std::string>{"upper", "side"});
  CHECK(parts[0].tanks == std::vector<std::string>{"cistern"});
  // The row of "upper" and, all year, the yield of "side".
  CHECK(parts[0].season.yield_m3s[6] == Approx(6e-5).epsilon(1e-14));
  CHECK(parts[0].season.demand_m3s[6] == Approx(3e-5).epsilon(1e-14));
  // Up to the float: pi / 4 * 3^2 * 1.5.
  CHECK(parts[0].capacity_m3 == Approx(std::numbers::pi / 4 * 9 * 1.5).epsilon(1e-13));
  CHECK(parts[0].lasts());
  CHECK_FALSE(parts[0].chance);
  // "trough" has no row: its draws; up to its lip, pi / 4 * 2^2 * 1. It gets half of what it needs.
  CHECK(parts[1].season.demand_m3s[0] == Approx(2e-5).epsilon(1e-14));
  CHECK(parts[1].capacity_m3 == Approx(std::numbers::pi).epsilon(1e-13));
  CHECK_FALSE(parts[1].lasts());
  CHECK_FALSE(parts[1].need.storage_m3);
  CHECK(parts[1].coverage.missing_total_m3() == Approx(1e-5 * 365 * 86400).epsilon(1e-12));
}

TEST_CASE("two bucket tests make a chance, one makes none") {
  Model s = two_parts();
  BucketTests tests;
  tests.volume = Volume::from_si(0.02);
  tests.times = {Duration::from_si(500.0)};
  s.boxes[0].bucket_tests = tests;
  CHECK_FALSE(look_at_year(s)[0].chance);
  s.boxes[0].bucket_tests->times.push_back(Duration::from_si(600.0));
  const auto parts = look_at_year(s);
  REQUIRE(parts[0].chance);
  CHECK(parts[0].springs[0].log_deviation == Approx(std::log(1.2) / std::sqrt(2.0)).epsilon(1e-12));
  CHECK(parts[0].springs[1].log_deviation == 0.0);
  CHECK_FALSE(parts[1].chance);
}

TEST_CASE("without its spring a tank lasts for its volume over what is drawn") {
  Model s = two_parts();
  for (Box& box : s.boxes) box.yield = {};
  s.tanks[1].level = m(40.5);  // pi / 4 * 2^2 * 0.5 m3 at 2e-5 m3/s
  Draw all_day;
  all_day.flow = Flow::from_si(2e-5);
  s.tanks[1].draws.push_back(all_day);
  const FillHistory history = fill(s);
  // Events are located to 1e-6 of their time.
  CHECK(history.storage("trough")->emptied_at_s.value() ==
        Approx(std::numbers::pi * 0.5 / 2e-5).epsilon(1e-6));
}
