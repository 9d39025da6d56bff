// What stores and lines can do for draws in a year: water runs down, and a line brings what it carries.
#include "runnel/filling/year_ways.h"

#include <catch2/catch.hpp>
#include <numbers>

#include "support/rooms.h"
#include "systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

constexpr double july_and_august_s = 62.0 * 86400.0;

Year::Row all_year_but_summer(const std::string& place, double m3s, double summer_m3s) {
  Year::Row row{place, std::vector<Flow>(12, Flow::from_si(m3s)), {}};
  row.flows[6] = row.flows[7] = Flow::from_si(summer_m3s);
  return row;
}

/// A spring of 0.3 L/s, in summer of 0.08 L/s, over an upper tank and a lower one that it feeds.
Model one_under_the_other() {
  Model s = with_water();
  s.boxes = {spring("spring", 3e-4, 100, 100.5)};
  s.tanks = {round_tank("upper", 80, 2, 2), round_tank("lower", 60, 2, 30)};
  s.pipelines = {line("a", "spring", "upper", 200, 100, 82, 0.04),
                 line("b", "upper", "lower", 200, 80, 62, 0.04)};
  s.year = Year{{all_year_but_summer("spring", 3e-4, 8e-5)}, {}};
  return s;
}

YearPart judged(const Model& s) {
  const auto parts = look_at_year(support::resolved(s));
  REQUIRE(parts.size() == 1);
  return parts.front();
}

}  // namespace

TEST_CASE("a tank below gives nothing to one above it") {
  Model s = one_under_the_other();
  s.tanks[0].draws = {draw(2e-4, 0.0, 0.0)};
  const YearPart part = judged(s);
  CHECK_FALSE(part.lasts());
  REQUIRE(part.short_of);
  CHECK(part.tanks == std::vector<std::string>{"upper"});
  CHECK(part.capacity_m3 == Approx(2.0 * std::numbers::pi).epsilon(1e-12));
  // 0.12 L/s for 62 days, less what stands in the upper tank; 1e-6 for what is allowed for rounding.
  CHECK(part.coverage.missing_total_m3() ==
        Approx(1.2e-4 * july_and_august_s - 2.0 * std::numbers::pi).epsilon(1e-6));

  SECTION("the same drawn below lasts, since the tank there carries it") {
    s.tanks[1].draws = std::exchange(s.tanks[0].draws, {});
    CHECK(judged(s).lasts());
  }
  SECTION("with the large tank above it lasts") {
    std::swap(s.tanks[0].shape, s.tanks[1].shape);
    CHECK(judged(s).lasts());
  }
}

TEST_CASE("a joint before a tank gets nothing out of it unless the tank stands high enough") {
  Model s = one_under_the_other();
  s.tanks.erase(s.tanks.begin());
  s.joints = {joint_at("tee", 80.0)};
  s.joints[0].draws = {draw(2e-4, 0.0, 0.0)};
  s.pipelines = {line("a", "spring", "tee", 200, 100, 80, 0.04),
                 line("b", "tee", "lower", 200, 80, 62, 0.04)};
  CHECK_FALSE(judged(s).lasts());
  CHECK(judged(s).tanks == std::vector<std::string>{"tee"});
  s.joints[0].elevation = m(50);
  s.pipelines = {line("a", "spring", "tee", 200, 100, 50, 0.04),
                 line("b", "tee", "lower", 200, 50, 60, 0.04)};
  s.tanks[0].inlet = m(60);
  CHECK(judged(s).lasts());
}

TEST_CASE("a line between tanks brings the lower one no more than it carries") {
  Model s = one_under_the_other();
  s.tanks[1] = round_tank("lower", 60, 2, 2);
  s.boxes[0].yield = Flow::from_si(1e-3);
  s.pipelines[1] = line("b", "upper", "lower", 200, 80, 62, 0.016);
  s.year = Year{{}, {all_year_but_summer("lower", 2e-5, 3e-4)}};
  const YearPart part = judged(s);
  CHECK_FALSE(part.lasts());
  CHECK(part.tanks == std::vector<std::string>{"lower"});
  Model full = s;
  full.tanks[0].level = full.tanks[0].lip;
  full.tanks[1].level = full.tanks[1].floor;
  const double carried_m3s = steady::solve(full).line("b")->flow_m3s;
  CHECK(part.season.yield_m3s[6] == Approx(carried_m3s).epsilon(1e-6));

  SECTION("a wider one brings enough") {
    s.pipelines[1] = line("b", "upper", "lower", 200, 80, 62, 0.04);
    CHECK(judged(s).lasts());
  }
  SECTION("so does a spring of its own") {
    s.boxes.push_back(spring("own", 3e-4, 90, 91));
    s.pipelines.push_back(line("c", "own", "lower", 200, 90, 62, 0.04));
    CHECK(judged(s).lasts());
  }
}

TEST_CASE("a spring that one tank has filled is left to the other") {
  Model s = one_under_the_other();
  s.tanks = {round_tank("a", 60, 2, 2), round_tank("b", 60, 2, 2)};
  s.joints = {joint_at("tee", 70.0)};
  s.pipelines = {line("in", "spring", "tee", 200, 100, 70, 0.04), line("to a", "tee", "a", 100, 70, 62, 0.04),
                 line("to b", "tee", "b", 100, 70, 62, 0.04)};
  s.year = Year{{all_year_but_summer("spring", 3e-4, 2e-4)}, {}};
  s.tanks[0].draws = {draw(1.5e-4, 0.0, 0.0)};
  s.tanks[1].draws = {draw(2e-5, 0.0, 0.0)};
  // Without a float the second tank takes its half of the 0.2 L/s and spills it.
  CHECK_FALSE(judged(s).lasts());
  for (Tank& tank : s.tanks) tank.float_valve = FloatValve{m(61.5), m(61.2), 0.0};
  CHECK(judged(s).lasts());
}
