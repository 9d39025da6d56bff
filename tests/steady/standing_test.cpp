// Water that stands in a line, and how far it reaches.
#include "runnel/steady/standing.h"

#include <catch2/catch.hpp>

#include "steady/small_systems.h"

using namespace runnel;
using network::PartKind;
using steady::StandingWater;

namespace {

/// Down to 90 m, over a crest at 96 m, down to 80 m.
network::Model over_a_crest() {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-3, 100.0, 100.5);
  small::tank(s, "tank", 80.0, 79.0);
  small::line(s, "main", "spring", "tank", 0.03, {{0, 100}, {40, 90}, {90, 96}, {150, 80}});
  return s;
}

StandingWater from_start(const network::Model& s, double level_m) {
  return steady::stand_from_start(steady::plan_line(s, s.pipelines[0]), level_m);
}

}  // namespace

TEST_CASE("water over every crest stands level to the end") {
  const StandingWater water = from_start(over_a_crest(), 100.2);
  for (const auto& at : water.at) CHECK(at == 100.2);
  CHECK(water.out == 100.2);
}

TEST_CASE("water below a crest fills the dip before it and comes out nowhere") {
  network::Model s = over_a_crest();
  s.pipelines[0].survey[2].elevation = Length::metres(103.0);
  const StandingWater water = from_start(s, 100.2);
  REQUIRE(water.at.size() == 4);
  CHECK(water.at[0] == 100.2);
  CHECK(water.at[1] == 100.2);
  CHECK_FALSE(water.at[2]);
  CHECK_FALSE(water.at[3]);
  CHECK_FALSE(water.out);
}

TEST_CASE("a shut valve and a check valve end it where they stand") {
  network::Model s = over_a_crest();
  auto gate = small::part(PartKind::valve, "gate", 40.0);
  gate.open = 0.0;
  s.pipelines[0].parts = {gate};
  CHECK_FALSE(from_start(s, 100.2).out);

  s.pipelines[0].parts = {small::part(PartKind::check_valve, "check", 40.0)};
  const auto plan = steady::plan_line(s, s.pipelines[0]);
  CHECK(steady::stand_from_start(plan, 100.2).out == 100.2);
  CHECK_FALSE(steady::stand_from_end(plan, 100.2).out);
}

TEST_CASE("behind a reducing valve it stands no higher than the valve holds") {
  network::Model s = over_a_crest();
  auto valve = small::part(PartKind::reducing_valve, "prv", 40.0);
  valve.set_pressure = Pressure::pascals(8.0 * s.site.specific_weight_nm3());
  s.pipelines[0].parts = {valve};
  const StandingWater water = from_start(s, 100.2);
  CHECK(water.at[0] == 100.2);
  REQUIRE(water.out);
  CHECK(*water.out == Approx(98.0).epsilon(1e-12));
}
