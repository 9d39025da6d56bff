// What taps left running take out of full tanks in a year, and when the first water is missing.
#include "runnel/filling/year_taps.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>

#include "filling/systems.h"
#include "runnel/base/constants.h"
#include "runnel/filling/draws.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

constexpr double opening_m = 0.004, fall_m = 12.0;

/// A tank of pi * 2 m3 and a tap of 4 mm twelve metres below its lip, on a pipe so wide that nothing is lost
/// in it.
Model tank_and_tap() {
  Model s = spring_and_tank(11.0);
  Outlet tap;
  tap.name = "tap";
  tap.elevation = m(0.0);
  tap.opening = m(opening_m);
  tap.loss = 2.5;
  s.outlets.push_back(tap);
  s.pipelines.push_back(line("out", "tank", "tap", 30.0, 10.0, 0.0, 0.1, 0.0, 0.0));
  s.year = Year{{{"spring", std::vector<Flow>(12, Flow::from_si(2e-4)), {}}}, {}};
  return s;
}

/// The tap at full head: a sqrt(2 g h / K).
double wide_open_m3s() {
  return std::numbers::pi * opening_m * opening_m / 4.0 * std::sqrt(2.0 * runnel::gravity_ms2 * fall_m / 2.5);
}

/// One part of all places: a spring of 0.02 L/s all year, which brings all that it gives, and no needs.
YearPart part_of(const network::System& system, double spring_m3s, double capacity_m3) {
  YearPart part;
  part.tanks = {"tank"};
  part.season = {year_lengths_s(12), std::vector<double>(12, spring_m3s), std::vector<double>(12, 0.0)};
  part.capacity_m3 = capacity_m3;
  for (int p = 0; p < system.places(); ++p) part.places.push_back(p);
  return part;
}

std::vector<YearPart> run(const Model& model, double spring_m3s, double capacity_m3 = 1e9) {
  const auto system = support::resolved(model);
  std::vector<YearPart> parts{part_of(system, spring_m3s, capacity_m3)};
  leave_taps_running(system, {std::vector<double>(12, spring_m3s)}, parts);
  return parts;
}

}  // namespace

TEST_CASE("a tap below a tank takes what the tank's lip drives through its opening, month after month") {
  const auto part = run(tank_and_tap(), 2e-5).front();
  REQUIRE(part.running);
  REQUIRE(part.running->taken_m3s.size() == 12);
  // 1e-4: 30 m of 100 mm pipe lose micrometres.
  for (const double taken : part.running->taken_m3s) CHECK(taken == Approx(wide_open_m3s()).epsilon(1e-4));
  CHECK(part.running->need.demand_m3 == Approx(wide_open_m3s() * 365.0 * day_s).epsilon(1e-4));
  CHECK_FALSE(part.running->need.storage_m3);  // no storage suffices for a year that brings less
  CHECK(part.season.demand_m3s == std::vector<double>(12, 0.0));  // the season itself knows of no tap
}

TEST_CASE("the first water is missing when what was stored and what came are used up") {
  const double net_m3s = wide_open_m3s() - 2e-5;
  // Used up in the middle of January, of March, of December.
  for (const auto& [days, period] : {std::pair{15.0, 0u}, {74.0, 2u}, {350.0, 11u}}) {
    const auto part = run(tank_and_tap(), 2e-5, net_m3s * days * day_s).front();
    REQUIRE(part.running);
    REQUIRE(part.running->first_dry);
    CHECK(*part.running->first_dry == period);
    CHECK_FALSE(part.lasts_running());
  }
  // After four hundred days: in February of the year after.
  const auto late = run(tank_and_tap(), 2e-5, net_m3s * 400.0 * day_s).front();
  CHECK(*late.running->first_dry == 1u);
}

TEST_CASE("a spring that gives more than a tap takes is never dry by it") {
  const auto part = run(tank_and_tap(), 2e-4).front();
  REQUIRE(part.running);
  CHECK_FALSE(part.running->first_dry);
  CHECK(part.running->coverage.dry_days() == 0.0);
}

TEST_CASE("nothing is told of taps where none takes anything out of the tanks") {
  Model s = tank_and_tap();
  SECTION("the tap is shut") { s.outlets[0].shut = true; }
  SECTION("it stands above the lip") {
    s.outlets[0].elevation = m(13.0);
    s.pipelines[1] = line("out", "tank", "tap", 30.0, 10.0, 13.0, 0.1, 0.0, 0.0);
  }
  SECTION("all that the tank gives is told in a row") {
    s.year->demands = {{"tank", std::vector<Flow>(12, Flow::from_si(1e-5)), {}}};
  }
  SECTION("it is a tap by the hour, which counts as a need") { s.outlets[0].draws = {draw(1e-5, 6.0, 9.0)}; }
  CHECK_FALSE(run(s, 2e-5).front().running);
}

TEST_CASE("what a tap takes before the tanks is none of their water") {
  Model s = tank_and_tap();
  s.joints.push_back(joint_at("tee", 20.0));
  s.outlets.push_back(open_tap("trough", 18.0, 0.002, 2.5));
  s.pipelines[0] = line("upper", "spring", "tee", 60.0, 29.0, 20.0, 0.026, 0.5, 0.0);
  s.pipelines.push_back(line("lower", "tee", "tank", 60.0, 20.0, 12.0, 0.026, 0.0, 1.0));
  s.pipelines.push_back(line("side", "tee", "trough", 20.0, 20.0, 18.0, 0.026, 0.0, 0.0));
  const auto part = run(s, 2e-4).front();
  REQUIRE(part.running);
  for (const double taken : part.running->taken_m3s) CHECK(taken == Approx(wide_open_m3s()).epsilon(1e-4));
}

TEST_CASE("parts are weighed each by itself, month by month") {
  Model s = tank_and_tap();
  s.boxes.push_back(spring("far", 1e-4, 60.0, 61.0));
  s.tanks.push_back(round_tank("trough", 40.0, 1.0, 2.0));
  s.pipelines.push_back(line("c", "far", "trough", 100.0, 60.0, 41.0, 0.04));
  const auto system = support::resolved(s);
  std::vector<YearPart> parts(2);
  for (YearPart& part : parts) part = part_of(system, 2e-5, 1e9), part.places.clear();
  for (int p = 0; p < system.places(); ++p) {
    const std::string& name = system.place_name(p);
    parts[name == "far" || name == "trough" ? 1 : 0].places.push_back(p);
  }
  leave_taps_running(system, {std::vector<double>(12, 2e-5), std::vector<double>(12, 1e-4)}, parts);
  REQUIRE(parts[0].running);
  CHECK_FALSE(parts[1].running);
  CHECK_FALSE(parts[0].unsettled);
}

namespace {

/// A second tank below the first, at the end of a pipe that limits what runs into it. A spring of 0.3 L/s in
/// the first half of the year and of 0.02 L/s in the second, and 0.1 L/s drawn from the lower tank.
YearPart half_a_year(Model s, double upper_m3, double lower_m3) {
  const auto system = support::resolved(s);
  std::vector<double> yields(12, 2e-5), demands(12, 1e-4);
  std::fill(yields.begin(), yields.begin() + 6, 3e-4);
  YearPart part;
  part.tanks = {"tank", "lower"};
  part.season = {year_lengths_s(12), yields, demands};
  part.capacity_m3 = upper_m3 + lower_m3;
  for (int p = 0; p < system.places(); ++p) part.places.push_back(p);
  const std::vector<double> nothing(12, 0.0);
  part.drawn = {{*system.find_place("tank"), upper_m3, nothing, nothing},
                {*system.find_place("lower"), lower_m3, demands, nothing}};
  std::vector<YearPart> parts{part};
  leave_taps_running(system, {yields}, parts);
  return parts.front();
}

Model two_tanks(bool with_float) {
  Model s = spring_and_tank(11.0);
  s.tanks.push_back(round_tank("lower", 0.0, 2.0, 2.0));
  if (with_float) s.tanks[1].float_valve = FloatValve{m(1.9), m(1.8), 6.0};
  s.pipelines.push_back(line("out", "tank", "lower", 30.0, 10.0, 2.0, 0.02));
  s.year = Year{{{"spring", std::vector<Flow>(12, Flow::from_si(2e-4)), {}}}, {}};
  return s;
}

}  // namespace

TEST_CASE("a store runs away through a tank below it that no float valve shuts") {
  // Over half a year 0.08 L/s times 184 days, 1270 m3, are missing, and the store has them.
  const auto part = half_a_year(two_tanks(false), 1300.0, 5.0);
  CHECK(part.lasts_running());  // nobody leaves a tap running
  REQUIRE(part.spilling);
  CHECK(part.spill_at == std::vector<std::string>{"lower"});
  CHECK(part.spilling->first_dry);
  CHECK_FALSE(part.lasts_spilling());
}

TEST_CASE("a store is kept where a float valve shuts, or where the store stands in the lower tank") {
  const auto shut = half_a_year(two_tanks(true), 1300.0, 5.0);
  CHECK(shut.spill_at.empty());
  CHECK(shut.lasts_spilling());
  const auto below = half_a_year(two_tanks(false), 5.0, 1300.0);
  CHECK(below.spilling);
  CHECK(below.lasts_spilling());
}
