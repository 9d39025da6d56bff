// The year in the states that a line will be in: with its air, blocked by it, its siphon broken in a dry
// month.
#include "runnel/verdict/year_states.h"

#include <catch2/catch.hpp>

#include "runnel/air/at_first.h"
#include "runnel/filling/year.h"
#include "runnel/network/change.h"
#include "steady/small_systems.h"
#include "support/resolved.h"

using namespace runnel;

namespace {

/// A spring, a line and a tank of which a little is wanted all year.
network::Model year_of(const std::vector<std::pair<double, double>>& survey, double yield_m3s, double bore_m,
                       double wanted_m3s) {
  network::Model s = small::empty();
  small::box(s, "spring", yield_m3s, survey.front().second, survey.front().second + 0.5);
  small::tank(s, "tank", survey.back().second, survey.back().second - 1.0);
  s.tanks[0].lip = s.tanks[0].inlet;
  small::line(s, "main", "spring", "tank", bore_m, survey);
  network::Year year;
  year.demands = {{"tank", std::vector<Flow>(12, Flow::from_si(wanted_m3s)), {}}};
  s.year = year;
  return s;
}

filling::YearPart year(const network::Model& model) {
  return verdict::look_at_year(support::resolved(model)).at(0);
}
filling::YearPart full_of_water(const network::Model& model) {
  return filling::look_at_year(support::resolved(model)).at(0);
}

}  // namespace

TEST_CASE("a line that runs as it is brings the year what the steady solver says") {
  const network::Model model = year_of({{0, 100}, {200, 90}, {400, 70}}, 3e-4, 0.026, 2e-4);
  CHECK(year(model).season.yield_m3s == full_of_water(model).season.yield_m3s);
  CHECK(year(model).lasts());
}

TEST_CASE("a line that trapped air blocks brings nothing all year") {
  const network::Model model =
      year_of({{0, 99}, {100, 80}, {200, 95}, {300, 60}, {400, 92}, {500, 50}, {650, 86}}, 2e-4, 0.033, 8e-5);
  REQUIRE(full_of_water(model).lasts());  // once it runs full it would carry enough
  const filling::YearPart part = year(model);
  for (const double brought : part.season.yield_m3s) CHECK(brought == 0.0);
  CHECK_FALSE(part.lasts());
  CHECK(part.held_back(0));
  SECTION("air valves at its high points let it") {
    network::Model vented = model;
    for (const double at : {200.0, 400.0})
      vented.pipelines[0].parts.push_back(
          small::part(network::PartKind::air_valve, "A" + std::to_string(int(at)), at));
    CHECK(year(vented).season.yield_m3s == full_of_water(vented).season.yield_m3s);
    CHECK(year(vented).lasts());
  }
  SECTION("a second line without air brings what it brings") {
    network::Model two = model;
    small::box(two, "second", 9e-5, 99.0, 99.5);
    small::line(two, "straight", "second", "tank", 0.033, {{0, 99}, {300, 86}});
    for (const double brought : year(two).season.yield_m3s) CHECK(brought == Approx(9e-5).epsilon(1e-6));
  }
}

TEST_CASE("air that stays in a line takes its share of the year") {
  // A crest, a steep leg and a tail so gentle that it runs full and shuts the air of the leg in.
  const network::Model model =
      year_of({{0, 50}, {200, 30}, {400, 48}, {500, 14}, {2100, 11}}, 3e-4, 0.0204, 5e-5);
  const double full_m3s = full_of_water(model).season.yield_m3s[0];
  const network::System receiving =
      network::with_tanks_receiving(support::resolved(model), {Flow::from_si(3e-4)});
  const auto at_first = air::at_first(receiving, air::ways_of(receiving, 10));
  REQUIRE(at_first);
  double least_m3s = full_m3s;
  for (const std::size_t end : at_first->ends())
    least_m3s = std::min(least_m3s, at_first->states[end].runs[0].flow_m3s);
  REQUIRE(least_m3s < 0.95 * full_m3s);
  for (const double brought : year(model).season.yield_m3s) CHECK(brought == Approx(least_m3s).epsilon(1e-6));
  network::Model needy = model;
  for (Flow& flow : needy.year->demands[0].flows) flow = Flow::from_si(0.5 * (least_m3s + full_m3s));
  CHECK(full_of_water(needy).lasts());
  CHECK_FALSE(year(needy).lasts());
}

TEST_CASE("a siphon that a dry month empties brings nothing in that month") {
  network::Model model = year_of({{0, 100}, {50, 101.2}, {300, 70}}, 1e-3, 0.026, 1e-4);
  model.pipelines[0].air = network::Air::sealed;
  std::vector<Flow> yields(12, Flow::from_si(1e-3));
  yields[7] = Flow::from_si(2e-4);  // less than the siphon carries
  model.year->yields = {{"spring", yields, {}}};
  const filling::YearPart part = year(model);
  CHECK(part.season.yield_m3s[0] > 3e-4);
  CHECK(part.season.yield_m3s[7] == 0.0);
  CHECK(full_of_water(model).season.yield_m3s[7] > 1e-4);
}
