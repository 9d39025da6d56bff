// Filling against worked lines and closed forms.
#include "runnel/filling/fill.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "filling/systems.h"
#include "support/rooms.h"
#include "support/worked_line.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// Worked line 26: a box that keeps its level (more yield than the pipe takes), a tank fed from below.
Model line_26() {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 0.01, 29.0, 30.0));
  Tank tank = round_tank("tank", 25.0, 2.5, 2.5);
  tank.inlet = m(25.1);
  tank.float_valve = FloatValve{m(27.2), m(27.0), 0.0};
  s.tanks.push_back(tank);
  s.pipelines.push_back(line("main", "spring", "tank", 600.0, 29.0, 25.1, 0.0408, 2.5, 1.0));
  return s;
}

double time_at_level(const Model& s, double level_m, FillOptions options) {
  Model copy = s;
  copy.tanks[0].float_valve->shuts_at = m(level_m);
  copy.tanks[0].float_valve->opens_at = m(level_m - 0.1);
  options.until_full = true;
  return fill(copy, options).storage("tank")->full_after_s.value_or(-1.0);
}

}  // namespace

TEST_CASE("worked line 26: a tank filled from below until its float shuts") {
  const FillHistory history = fill(line_26(), {.until_full = true});
  REQUIRE(history.outcome == FillOutcome::done);
  const StorageHistory& tank = *history.storage("tank");
  // 1e-9: the worked figures are good to 1e-11, and 1e-6 is what a time of filling must keep.
  const auto worked = runnel::test::worked_line("26_tank_vertical_bottom_fed");
  REQUIRE(tank.full_after_s);
  CHECK(*tank.full_after_s == Approx(worked("fill_time_s")).epsilon(1e-9));
  CHECK(tank.end_m3 == Approx(worked("final_volume")).epsilon(1e-11));  // pi/4 2.5^2 2.2
  CHECK(tank.series.front().inflow_m3s == Approx(worked("Q_initial")).epsilon(1e-9));
  CHECK(time_at_level(line_26(), 26.1, {}) == Approx(worked("time_to_half_depth_1p1_s")).epsilon(1e-9));
}

TEST_CASE("a constant inflow fills by its volume, and the handbook trough takes 12.5 hours") {
  // A free inlet at the lip, so that the level does not slow the spring: t = V / Q.
  Model s = with_water();
  s.boxes.push_back(spring("spring", Flow::gallons_per_minute(1.0).si(), 10.0, 11.0));
  Tank trough = round_tank("trough", 0.0, 0.6, 2.4384);
  trough.shape = DepthVolumeTable{{m(0.0), m(0.6096)}, {Volume{}, Volume::gallons(750.0)}};
  trough.lip = trough.inlet = m(0.6096);
  s.tanks.push_back(trough);
  s.pipelines.push_back(line("main", "spring", "trough", 200.0, 10.0, 0.6096, 0.0266));
  const FillHistory history = fill(s, {.until_full = true});
  // [agproud-52087] 750 gal at 1 gal/min: 12.5 h, FOUND; the spring box answers at once, so it is exact
  CHECK(*history.storage("trough")->full_after_s / 3600.0 == Approx(12.5).epsilon(1e-10));
  CHECK(history.proof.consistent);
}

TEST_CASE(
    "a run ends once the tanks it is asked to fill have been full, and tells of them what a longer one "
    "does") {
  Model s = line_26();
  s.boxes.push_back(spring("trickle", 1e-5, 29.0, 30.0));
  s.tanks.push_back(round_tank("far", 25.0, 2.5, 2.5));
  s.pipelines.push_back(line("thin", "trickle", "far", 600.0, 29.0, 25.1, 0.0204, 2.5, 1.0));
  const FillHistory both = fill(s, {.until_full = true}),
                    one = fill(s, {.until_full = true, .to_fill = {"tank"}});
  REQUIRE(one.storage("tank")->full_after_s);
  CHECK(*one.storage("tank")->full_after_s == Approx(*both.storage("tank")->full_after_s).epsilon(1e-9));
  CHECK(both.storage("far")->full_after_s);
  CHECK_FALSE(one.storage("far")->full_after_s);
  CHECK(one.duration_s < 0.1 * both.duration_s);
}

TEST_CASE("a tank fills, holds, feeds its herd by the hour, and the sums close") {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 1.2e-4, 29.0, 30.0));
  Tank tank = round_tank("tank", 5.0, 2.0, 2.5);
  tank.inlet = m(5.5);
  tank.float_valve = FloatValve{m(6.8), m(6.6), 4.0};
  Draw herd;
  herd.flow = Flow::from_si(2.4e-5);
  herd.from_hour = 6;
  herd.to_hour = 20;
  tank.draws = {herd};
  s.tanks.push_back(tank);
  s.pipelines.push_back(line("main", "spring", "tank", 300.0, 29.0, 5.5, 0.0266));
  const FillHistory history = fill(s, {.duration_s = 5 * 86400.0});
  CHECK(history.storage("tank")->drawn_m3 == Approx(5 * 86400.0 * 2.4e-5).epsilon(1e-9));  // five days' needs
  CHECK(history.storage("tank")->short_days.empty());
  CHECK(history.storage("tank")->highest_m == Approx(6.8).margin(1e-9));  // the float never lets it higher
  CHECK(history.proof.balance_share <= 1e-9);                             // what the proof asks
  CHECK(history.proof.consistent);
}
