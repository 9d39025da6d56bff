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

TEST_CASE("a line that is drawn from its tank to its spring brings the same all year") {
  Model s = two_parts();
  Draw all_day;
  all_day.flow = Flow::from_si(3e-5);
  s.tanks[0].draws = s.tanks[1].draws = {all_day};
  const auto with_the_flow = look_at_year(s);
  s.pipelines = {line("a", "cistern", "upper", 200, 82, 110, 0.04),
                 line("b", "cistern", "side", 200, 82, 108, 0.04),
                 line("c", "trough", "far", 200, 41, 60, 0.04)};
  const auto against_it = look_at_year(s);
  REQUIRE(against_it.size() == with_the_flow.size());
  for (std::size_t i = 0; i < against_it.size(); ++i) {
    CHECK(against_it[i].season.yield_m3s == with_the_flow[i].season.yield_m3s);
    CHECK(against_it[i].season.yield_m3s[0] > 0.0);
    CHECK(against_it[i].capacity_m3 == with_the_flow[i].capacity_m3);
    CHECK(against_it[i].lasts() == with_the_flow[i].lasts());
  }
}

TEST_CASE("a line that is drawn from its tank to its spring is no way out of the tank") {
  Model s = two_parts();
  s.pipelines[0] = line("a", "cistern", "upper", 200, 82, 110, 0.04);
  s.pipelines[1] = line("b", "cistern", "side", 200, 82, 108, 0.04);
  const auto full_m3 = std::numbers::pi / 4 * 9 * 2;
  CHECK(look_at_year(s)[0].capacity_m3 == Approx(full_m3).epsilon(1e-13));
  // A box below that has a spring of its own is fed through its line, whose mouth lies half a metre high.
  s.boxes.push_back(spring("lower", 1e-5, 60, 61));
  s.pipelines.push_back(line("d", "cistern", "lower", 200, 80.5, 60.5, 0.04));
  CHECK(look_at_year(s)[0].capacity_m3 == Approx(full_m3 * 0.75).epsilon(1e-13));
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

namespace {

/// Two tanks, each with its spring and nothing drawn from it; out of "trough" a line feeds a tap.
Model with_tap_below() {
  Model s = two_parts();
  Outlet tap;
  tap.name = "tap";
  tap.elevation = m(30);
  tap.opening = m(0.004);
  s.outlets = {tap};
  s.pipelines.push_back(line("e", "trough", "tap", 100, 40, 30, 0.02));
  s.year = Year{{row("far", 1e-4)}, {}};
  return s;
}

}  // namespace

TEST_CASE("taps below a tank are looked at shut and left running") {
  Model s = with_tap_below();
  const auto plenty = look_at_year(s);
  REQUIRE(plenty[1].running);
  // An open 4 mm tap with its loss of 1: A sqrt(2 g h), h a little less than the 11 m below a full tank.
  const double free_m3s = std::numbers::pi / 4 * 0.004 * 0.004 * std::sqrt(2 * 9.80665 * 11.0);
  CHECK(plenty[1].running->taken_m3s[0] < free_m3s);
  CHECK(plenty[1].running->taken_m3s[0] > 0.8 * free_m3s);
  CHECK(plenty[1].lasts());
  CHECK_FALSE(plenty[1].lasts_running());
  CHECK_FALSE(plenty[0].running);
  CHECK(plenty[0].lasts_running() == plenty[0].lasts());

  SECTION("more than it takes comes in every month") {
    s.year->yields = {row("far", 1.1 * free_m3s)};
    const auto parts = look_at_year(s);
    CHECK(parts[1].lasts_running());
    CHECK(parts[1].running->need.storage_m3 == 0.0);
  }
  SECTION("one month brings nothing, and the tank holds a few hours") {
    s.year->yields[0].flows.assign(12, Flow::from_si(1.1 * free_m3s));
    s.year->yields[0].flows[8] = {};
    const auto parts = look_at_year(s);
    CHECK(parts[1].lasts());
    REQUIRE(parts[1].running->first_dry);
    CHECK(*parts[1].running->first_dry == 8);
    // pi m3 of store against a month of 30 days.
    const double taken_m3 = parts[1].running->taken_m3s[8] * 30 * 86400.0;
    CHECK(parts[1].running->coverage.missing_total_m3() == Approx(taken_m3 - std::numbers::pi).epsilon(1e-9));
  }
  SECTION("a row of demands is all that the tank gives") {
    s.year->demands = {row("trough", 1e-5)};
    const auto parts = look_at_year(s);
    CHECK_FALSE(parts[1].running);
    CHECK(parts[1].lasts_running());
  }
  SECTION("a tap drawn shut takes nothing") {
    s.outlets[0].shut = true;
    CHECK_FALSE(look_at_year(s)[1].running);
  }
  SECTION("a tap with hours of its own is counted by them") {
    Draw all_day;
    all_day.flow = Flow::from_si(1e-6);
    s.outlets[0].draws = {all_day};
    const auto parts = look_at_year(s);
    CHECK_FALSE(parts[1].running);
    CHECK(parts[1].season.demand_m3s[0] == Approx(1e-6).epsilon(1e-12));
  }
  SECTION("a tap on the way to the tank takes nothing out of it") {
    s.pipelines.back() = line("e", "far", "tap", 100, 60, 30, 0.02);
    CHECK_FALSE(look_at_year(s)[1].running);
  }
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

namespace {

/// One spring over one tank that hardly holds anything, so that the least month decides.
Model lean() {
  Model s = two_parts();
  s.boxes.erase(s.boxes.begin() + 1, s.boxes.end());
  s.tanks.erase(s.tanks.begin() + 1);
  s.tanks[0].shape = UprightCylinder{m(0.05)};
  s.pipelines.erase(s.pipelines.begin() + 1, s.pipelines.end());
  return s;
}

}  // namespace

TEST_CASE("the chance of a dry year is that the spring's least falls below what the tanks need") {
  Model s = lean();
  const std::vector<double> least = {3.6e-5, 4.4e-5, 3.2e-5, 5.1e-5};
  for (std::size_t i = 0; i < least.size(); ++i)
    s.boxes[0].history.years.push_back({2020 + static_cast<int>(i), Flow::from_si(least[i])});
  SECTION("from the years themselves") {
    const auto parts = look_at_year(s);
    REQUIRE(parts[0].years.size() == 1);
    const SpringYears& known = parts[0].years[0];
    CHECK(known.least.si() == Approx(4e-5).epsilon(1e-12));
    // The same all year, so it must give what is needed: a tank of four litres covers a minute or two.
    REQUIRE(known.need);
    CHECK(known.need->si() == Approx(3e-5).epsilon(1e-4));
    REQUIRE(known.dry);
    // By hand: mean and deviation of the logarithms, t with three degrees at z / sqrt(1 + 1/4).
    double mean = 0.0, square = 0.0;
    for (const double q : least) mean += std::log(q) / 4.0;
    for (const double q : least) square += (std::log(q) - mean) * (std::log(q) - mean) / 3.0;
    const double t = (std::log(known.need->si()) - mean) / std::sqrt(square * 1.25);
    // Student's distribution with three degrees in closed form.
    const double x = t / std::sqrt(3.0);
    const double below = 0.5 + (x / (1.0 + x * x) + std::atan(x)) / std::numbers::pi;
    CHECK(known.dry->chance == Approx(below).epsilon(1e-9));
    CHECK(known.dry->interval.low < known.dry->chance);
    CHECK(known.dry->interval.high > known.dry->chance);
  }
  SECTION("from a stated spread about the year looked at") {
    s.boxes[0].history.years.clear();
    s.boxes[0].history.yearly_spread = 0.3;
    const auto parts = look_at_year(s);
    REQUIRE(parts[0].years.size() == 1);
    REQUIRE(parts[0].years[0].dry);
    const double spread = std::sqrt(std::log(1.09));
    const double z = std::log(parts[0].years[0].need->si() / 4e-5) / spread / std::sqrt(2.0);
    CHECK(parts[0].years[0].dry->chance == Approx(0.5 * std::erfc(-z / std::sqrt(2.0))).epsilon(1e-9));
  }
  SECTION("one year alone tells nothing") {
    s.boxes[0].history.years.resize(1);
    const auto parts = look_at_year(s);
    REQUIRE(parts[0].years.size() == 1);
    CHECK_FALSE(parts[0].years[0].dry);
  }
  SECTION("nothing is known of the years") {
    s.boxes[0].history.years.clear();
    CHECK(look_at_year(s)[0].years.empty());
  }
}

TEST_CASE("a year that fails as it is needs more than this year's least") {
  Model s = lean();
  s.year->demands[0] = row("cistern", 6e-5);
  s.boxes[0].history.yearly_spread = 0.3;
  const auto parts = look_at_year(s);
  CHECK_FALSE(parts[0].lasts());
  REQUIRE(parts[0].years[0].need);
  CHECK(parts[0].years[0].need->si() == Approx(6e-5).epsilon(1e-4));
  CHECK(parts[0].years[0].dry->chance > 0.5);
  SECTION("and no yield helps where the line does not bring it") {
    s.pipelines[0].pipes[0].pipe = pipe(0.006, 7e-6);
    const auto thin = look_at_year(s);
    CHECK_FALSE(thin[0].years[0].need);
    CHECK_FALSE(thin[0].years[0].dry);
  }
}

TEST_CASE("a yield that halves falls from the day it was measured") {
  using namespace std::chrono;
  Model s = lean();
  s.year->yields.clear();
  s.boxes[0].history.halves_in = Duration::days(90);
  s.boxes[0].history.measured = sys_days{year{2026} / May / 2};
  const auto parts = look_at_year(s);
  CHECK(parts[0].falling == std::vector<std::string>{"upper"});
  const auto& flows = parts[0].springs_m3s;
  for (const std::size_t month : {0, 1, 2, 3}) CHECK(flows[month] == Approx(3e-5).epsilon(1e-12));
  // Days of a year before June 151, before July 181; May 2 is day 121. Simpson's rule, fine enough.
  double june = 0.0;
  constexpr int parts_of_month = 200;
  for (int i = 0; i <= parts_of_month; ++i) {
    const double day = 151.0 + 30.0 * i / parts_of_month;
    const double weight = i == 0 || i == parts_of_month ? 1.0 : i % 2 == 1 ? 4.0 : 2.0;
    june += weight / (3.0 * parts_of_month) * 3e-5 * std::exp2(-(day - 121.0) / 90.0);
  }
  CHECK(flows[5] == Approx(june).epsilon(1e-10));
  CHECK(flows[11] < 0.25 * 3e-5);
  // Months that are told hold.
  s.year->yields = {row("upper", 4e-5)};
  const auto told = look_at_year(s);
  CHECK(told[0].falling.empty());
  CHECK(told[0].springs_m3s[11] == Approx(4e-5).epsilon(1e-12));
}
