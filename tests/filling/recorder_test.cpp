// What a run writes down: at every row, what ran in less what went out is what is stored.

#include <catch2/catch.hpp>

#include "filling/random_hard_filling.h"
#include "filling/systems.h"
#include "runnel/filling/tank_curve.h"
#include "support/rooms.h"

using namespace filling_test;
using namespace runnel::filling;

TEST_CASE("at every row the volumes since the start are those of the level there") {
  for (const unsigned seed : {3u, 12u, 55u, 78u, 120u}) {
    INFO("seed " << seed);
    const Model s = RandomHardFilling(seed).make();
    const FillHistory history = fill(s, {.duration_s = 2.0 * 86400.0});
    REQUIRE(history.outcome == FillOutcome::done);
    for (std::size_t t = 0; t < s.tanks.size(); ++t) {
      const StorageHistory& h = history.storages[t];
      const TankCurve curve(s.tanks[t].shape);
      for (const Row& row : h.series) {
        INFO(h.name << " at " << row.time_s << " s");
        const double stored = h.start_m3 + row.in_m3 - row.spilled_m3 - row.drawn_m3;
        // Within a step rows stand on the polynomial of its stages, which errs by what a step may: 1e-8.
        CHECK(stored ==
              Approx(curve.volume_m3(row.level_m - s.tanks[t].floor.metres())).margin(3e-8 * h.capacity_m3));
      }
      CHECK(h.series.back().in_m3 == Approx(h.inflow_m3).margin(1e-12));
      CHECK(h.series.back().drawn_m3 == Approx(h.drawn_m3).margin(1e-12));
    }
  }
}

TEST_CASE("what taps, joints and boxes let out adds up with what is stored") {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 4e-4, 29.0, 30.0));
  s.tanks.push_back(round_tank("tank", 5.0, 2.0, 2.0));
  s.tanks[0].level = m(6.0);
  Joint tee;
  tee.name = "tee";
  tee.elevation = m(15.0);
  tee.draw = Flow::from_si(1e-4);
  s.joints.push_back(tee);
  Outlet tap;
  tap.name = "tap";
  tap.on = "tee";
  tap.elevation = m(16.0);
  tap.opening = m(0.003);
  tap.loss = 2.5;
  s.outlets.push_back(tap);
  s.pipelines.push_back(line("upper", "spring", "tee", 150.0, 29.0, 15.0, 0.0266, 0.5, 0.0));
  s.pipelines.push_back(line("lower", "tee", "tank", 150.0, 15.0, 7.0, 0.0152, 0.0, 1.0));
  const FillHistory history = fill(s, {.duration_s = 86400.0});
  REQUIRE(history.outcome == FillOutcome::done);
  REQUIRE(history.places.size() == 3);
  double out = history.storages[0].spilled_m3;
  for (const PlaceHistory& place : history.places) {
    INFO(place.name);
    REQUIRE_FALSE(place.series.empty());
    CHECK(place.series.back().total_m3 == Approx(place.given_m3).margin(1e-12));
    for (std::size_t i = 1; i < place.series.size(); ++i)
      CHECK(place.series[i].total_m3 >= place.series[i - 1].total_m3 - 1e-12);
    out += place.given_m3;
  }
  const StorageHistory& tank = history.storages[0];
  CHECK(out + tank.end_m3 - tank.start_m3 == Approx(4e-4 * 86400.0).epsilon(1e-9));
  CHECK(history.places[0].asked_m3 == Approx(1e-4 * 86400.0));
  CHECK_FALSE(history.places[0].short_from_s);
}
