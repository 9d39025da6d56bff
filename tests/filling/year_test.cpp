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
  // "trough" has no row: its draws; up to its lip, pi / 4 * 2^2 * 1. It gets half of what it needs.
  CHECK(parts[1].season.demand_m3s[0] == Approx(2e-5).epsilon(1e-14));
  CHECK(parts[1].capacity_m3 == Approx(std::numbers::pi).epsilon(1e-13));
  CHECK_FALSE(parts[1].lasts());
  CHECK_FALSE(parts[1].need.storage_m3);
  CHECK(parts[1].coverage.missing_total_m3() == Approx(1e-5 * 365 * 86400).epsilon(1e-12));
}

TEST_CASE("bucket tests tell how well a day was measured and nothing of other years") {
  Model s = two_parts();
  BucketTests tests;
  tests.volume = Volume::from_si(0.02);
  tests.times = {Duration::from_si(500.0), Duration::from_si(600.0)};
  s.boxes[0].bucket_tests = tests;
  const auto parts = look_at_year(s);
  REQUIRE(parts[0].measured.size() == 1);
  CHECK(parts[0].measured[0].box == "upper");
  CHECK(parts[0].measured[0].yield.mean.si() == Approx(0.02 / 550.0).epsilon(1e-12));
  // t of one degree is 12.706: 550 s -+ 635 s, so the times set no upper bound.
  REQUIRE(parts[0].measured[0].yield.interval);
  CHECK_FALSE(parts[0].measured[0].yield.interval->high);
  CHECK(parts[1].measured.empty());
  // The answer itself does not change by them.
  CHECK(parts[0].season.yield_m3s == look_at_year(two_parts())[0].season.yield_m3s);
}

TEST_CASE("a line that carries less than the spring gives holds back the rest of the year") {
  Model s = two_parts();
  s.year->yields = {row("far", 2e-3)};
  s.year->demands = {row("trough", 1e-3)};
  const auto wide = look_at_year(s);
  const double carried = wide[1].season.yield_m3s[0];
  // Twenty-one metres of fall over 200 m of 40 mm pipe carry more than a litre and less than two and a half.
  CHECK(carried > 1e-3);
  CHECK(wide[1].lasts());
  s.pipelines[2].pipes[0].pipe.bore = m(0.02);
  const auto narrow = look_at_year(s);
  REQUIRE(narrow[1].held_back(0));
  CHECK(narrow[1].springs_m3s[0] == Approx(2e-3).epsilon(1e-14));
  CHECK(narrow[1].season.yield_m3s[0] < 5e-4);
  CHECK_FALSE(narrow[1].lasts());
  CHECK_FALSE(narrow[1].need.storage_m3);
  // What a line can carry with its box full to the lip is what the steady answer gives.
  Model now = s;
  now.boxes[2].yield = Flow::from_si(2e-3);
  CHECK(narrow[1].season.yield_m3s[0] == Approx(steady::solve(now).line("c")->flow_m3s).epsilon(1e-8));
}

TEST_CASE("a blocked line and a shut valve fail the year whatever the spring gives") {
  Model s = two_parts();
  s.year->demands = {row("trough", 5e-6)};
  REQUIRE(look_at_year(s)[1].lasts());
  Pipeline& line = s.pipelines[2];
  SECTION("a crest above the spring") {
    line.surveyed = true;
    line.survey.insert(line.survey.begin() + 1, {m(50.0), m(65.0)});
  }
  SECTION("a shut valve") {
    Part valve;
    valve.kind = PartKind::valve;
    valve.type = "ball_valve";
    valve.name = "V1";
    valve.at = m(50.0);
    valve.open = 0.0;
    line.parts = {valve};
  }
  const auto parts = look_at_year(s);
  CHECK(parts[1].season.yield_m3s[3] == 0.0);
  CHECK_FALSE(parts[1].lasts());
  CHECK(parts[1].coverage.dry_days() == Approx(365.0).epsilon(1e-9));
}

TEST_CASE("draws on the way are taken before the tank gets anything") {
  Model s = two_parts();
  Joint house;
  house.name = "house";
  house.elevation = m(50);
  house.draw = Flow::from_si(4e-6);
  s.joints = {house};
  s.pipelines[2] = line("c", "far", "house", 100, 60, 50, 0.04, 0.5, 0.0);
  s.pipelines.push_back(line("d", "house", "trough", 100, 50, 41, 0.04, 0.0));
  const auto parts = look_at_year(s);
  CHECK(parts[1].springs_m3s[5] == Approx(1e-5).epsilon(1e-14));
  CHECK(parts[1].season.yield_m3s[5] == Approx(6e-6).epsilon(1e-8));
  CHECK(parts[1].held_back(5));
}

TEST_CASE("what a tank passes to another is not counted twice") {
  Model s = two_parts();
  s.tanks.push_back(round_tank("lower", 30, 1, 2));
  s.tanks.back().level = m(30.5);
  s.tanks[1].level = m(40.8);
  s.pipelines.push_back(line("e", "trough", "lower", 100, 40, 31, 0.04));
  const auto parts = look_at_year(s);
  REQUIRE(parts.size() == 2);
  CHECK(parts[1].tanks.size() == 2);
  CHECK(parts[1].season.yield_m3s[0] == Approx(1e-5).epsilon(1e-12));
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
