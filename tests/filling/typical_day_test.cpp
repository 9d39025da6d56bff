// The draws on a day like every other, against volumes by hand.
#include "runnel/filling/typical_day.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "support/rooms.h"
#include "systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// 0.15 L/s into a tank of 1 m3 from which so much is drawn within one hour; the day's mean in L/s.
Model one_hour(double mean_ls) {
  Model s = with_water();
  s.boxes = {spring("spring", 1.5e-4, 110, 111)};
  s.tanks = {round_tank("barn", 90, 1, std::sqrt(4.0 / std::numbers::pi))};
  s.tanks[0].level = m(90.2);
  s.tanks[0].draws = {{"herd", Flow::from_si(mean_ls * 1e-3), 6.0, 7.0}};
  s.pipelines = {line("in", "spring", "barn", 200, 110, 91, 0.04)};
  return s;
}

/// Two taps on one spring of 0.1 L/s, each drawn through half of the day.
Model by_turns(double first_to, double second_from) {
  Model s = with_water();
  s.boxes = {spring("spring", 1e-4, 110, 111)};
  Joint tee;
  tee.name = "tee";
  tee.elevation = m(70);
  s.joints = {tee};
  s.pipelines = {line("main", "spring", "tee", 200, 110, 70, 0.03)};
  for (const char* name : {"upper", "lower"}) {
    Outlet tap;
    tap.name = name;
    tap.elevation = m(60);
    tap.opening = m(0.01);
    tap.loss = 6.0;
    s.outlets.push_back(tap);
    s.pipelines.push_back(line(std::string("to ") + name, "tee", name, 50, 70, 60, 0.03));
  }
  s.outlets[0].draws = {{"", Flow::from_si(4.5e-5), 6.0, first_to}};
  s.outlets[1].draws = {{"", Flow::from_si(4.5e-5), second_from, 6.0}};
  return s;
}

}  // namespace

TEST_CASE("a tank gives in one hour what it holds and what runs in") {
  const TypicalDay day = typical_day(support::resolved(one_hour(0.1)));
  REQUIRE(day.known);
  CHECK(day.proved);
  CHECK(day.sinking.empty());
  REQUIRE(day.draws.size() == 1);
  CHECK(day.draws[0].asked_m3 == Approx(8.64).epsilon(1e-9));
  // 1 m3 stored and an hour of the spring.
  CHECK(day.draws[0].given_m3 == Approx(1.0 + 0.54).epsilon(1e-4));
}

TEST_CASE("a tank that bridges the hour gives all that is drawn, though it starts nearly empty") {
  const TypicalDay day = typical_day(support::resolved(one_hour(0.017)));
  REQUIRE(day.known);
  CHECK(day.draws.at(0).share_short() == Approx(0.0).margin(1e-9));
}

TEST_CASE("taps by turns have the spring for themselves, and taps at the same hours share it") {
  const TypicalDay turns = typical_day(support::resolved(by_turns(18.0, 18.0)));
  REQUIRE(turns.known);
  REQUIRE(turns.draws.size() == 2);
  for (const DrawnDay& draw : turns.draws) CHECK(draw.share_short() == Approx(0.0).margin(1e-9));
  // From 12 to 18 h both draw 0.09 L/s or more of the 0.1 there is.
  const TypicalDay both = typical_day(support::resolved(by_turns(18.0, 12.0)));
  REQUIRE(both.known);
  CHECK(both.draws[0].share_short() + both.draws[1].share_short() > 0.05);
}

TEST_CASE("a day without draws is no question") {
  Model s = one_hour(0.1);
  s.tanks[0].draws.clear();
  const TypicalDay day = typical_day(support::resolved(s));
  CHECK_FALSE(day.known);
  CHECK_FALSE(day.lost);
}

TEST_CASE("a tank that sinks slowly is followed until it is empty") {
  Model s = one_hour(0.16);
  s.tanks[0].draws[0].from_hour = 6.0;
  s.tanks[0].draws[0].to_hour = 18.0;
  s.tanks[0].shape = UprightCylinder{m(std::sqrt(4.0 / std::numbers::pi) * 5.0)};  // 25 m3
  s.tanks[0].level = m(91);
  // In its twelve hours 13.8 m3 are drawn and 6.5 run in, and 0.86 m3 a day are missing: the 17.7 m3 that are
  // not needed to bridge the hours last 20 days, of which the run once saw three.
  const FillHistory history = fill(support::resolved(s));
  CHECK(history.duration_s > 15.0 * 86400.0);
  CHECK_FALSE(history.storages.at(0).short_days.empty());
}

namespace {

/// The tank of one hour behind a float valve with so wide a band: full at 90.9 m.
Model behind_float(double opens_m, double mean_ls, double yield_ls) {
  Model s = one_hour(mean_ls);
  s.boxes[0].yield = Flow::litres_per_second(yield_ls);
  s.tanks[0].float_valve = FloatValve{m(90.9), m(opens_m), 6.0};
  return s;
}

}  // namespace

TEST_CASE("a tank that sinks for weeks behind a shut float valve is not sinking") {
  // 0.0001 L/s takes 8.6 L a day out of 600 L between the levels of the float: it opens in 70 days, after the
  // longest run.
  const TypicalDay day = typical_day(support::resolved(behind_float(90.3, 0.0001, 0.15)));
  REQUIRE(day.known);
  CHECK(day.sinking.empty());
  CHECK(day.until_floats_open == std::vector<std::string>{"barn"});
  CHECK(day.draws.at(0).share_short() == Approx(0.0).margin(1e-6));
}

TEST_CASE("a tank sinks for good behind a float valve if less comes than is drawn") {
  const TypicalDay day = typical_day(support::resolved(behind_float(90.3, 0.0001, 0.00005)));
  REQUIRE(day.known);
  CHECK(day.sinking == "barn");
}

TEST_CASE("a float valve that opens once and stays open is no cycle that must be seen again") {
  // It opens on the first day, and what runs in is less than what is drawn ever after.
  const TypicalDay day = typical_day(support::resolved(behind_float(90.899, 0.001, 0.0008)));
  REQUIRE(day.known);
  CHECK(day.sinking == "barn");
}

TEST_CASE("a tank that fills for weeks after its float valve has opened has been as low as it was then") {
  // 0.00265 L/s come and 0.0026 L/s are drawn: it sinks for a day and rises for two months.
  Model s = behind_float(90.6, 0.0026, 0.00265);
  const TypicalDay day = typical_day(support::resolved(s));
  REQUIRE(day.known);
  CHECK(day.sinking.empty());
  REQUIRE(day.lowest.size() == 1);
  CHECK(day.lowest[0].level_m < 90.6);
}

TEST_CASE("a float valve that opens every other day leaves the days between short") {
  // 6.9 m3 a day fit into the mean of the spring, but not into 1 m3 and the hour.
  const TypicalDay day = typical_day(support::resolved(behind_float(90.05, 0.008, 0.15)));
  REQUIRE(day.known);
  REQUIRE(day.draws.size() == 1);
  CHECK(day.draws[0].asked_m3 == Approx(0.6912));
  CHECK(day.draws[0].given_m3 < 0.69);
}

TEST_CASE("a float valve that opens every other day leaves a tap short on some days") {
  // 0.6 L/s from 17 to 19 o'clock are 4.3 m3 of the 8.6 m3 that come in a day, but the float stays shut until
  // the tank has sunk by more than one day takes.
  Model s = with_water();
  s.boxes = {spring("spring", 1e-4, 100, 100.5)};
  s.tanks = {round_tank("tank", 70, 2, 2)};
  s.tanks[0].inlet = m(71.9);
  s.tanks[0].level = m(71.8);
  s.tanks[0].float_valve = FloatValve{m(71.8), m(70.4), 6.0};
  Outlet tap;
  tap.name = "tap";
  tap.elevation = m(50);
  tap.opening = m(0.015);
  tap.loss = 2.0;
  tap.draws = {{"", Flow::from_si(5e-5), 17.0, 19.0}};
  s.outlets = {tap};
  s.pipelines = {line("in", "spring", "tank", 200, 100, 71.9, 0.0326),
                 line("down", "tank", "tap", 100, 70.1, 50, 0.051)};
  const TypicalDay day = typical_day(support::resolved(s));
  REQUIRE(day.known);
  REQUIRE(day.draws.size() == 1);
  CHECK(day.draws[0].asked_m3 == Approx(4.32));
  CHECK(day.draws[0].share_short() > 0.1);
  s.tanks[0].float_valve = FloatValve{m(71.8), m(71.5), 6.0};
  CHECK(typical_day(support::resolved(s)).draws.at(0).share_short() == Approx(0.0).margin(1e-6));
}

namespace {

/// A tank above another whose float valve opens every ten days or so, and is then open for more than a day.
Model in_a_row(double upper_ls, double lower_ls) {
  Model s = with_water();
  s.boxes = {spring("spring", 1e-4, 100, 100.5)};
  s.tanks = {round_tank("upper", 80, 2, 3), round_tank("lower", 60, 2, 2)};
  s.tanks[0].inlet = m(81.9);
  s.tanks[0].level = m(82);
  s.tanks[0].draws = {{"", Flow::litres_per_second(upper_ls), 6.0, 18.0}};
  s.tanks[1].inlet = m(61.9);
  s.tanks[1].level = m(61.7);
  s.tanks[1].float_valve = FloatValve{m(61.8), m(60.3), 6.0};
  s.tanks[1].draws = {{"", Flow::litres_per_second(lower_ls), 6.0, 9.0}};
  s.pipelines = {line("a", "spring", "upper", 200, 100, 81.9, 0.026),
                 line("b", "upper", "lower", 2500, 80.1, 61.9, 0.0162)};
  return s;
}

}  // namespace

TEST_CASE("a tank that sinks while one below it fills, and rises again after that, is not sinking") {
  // Between the levels of the float stand 4.7 m3, which 0.0036 to 0.0045 L/s take in 12 to 15 days. In each
  // of these the spring brings 0.015 L/s more than is drawn above, which makes 15 m3.
  for (const double lower_ls : {0.0036, 0.004, 0.0045}) {
    const TypicalDay day = typical_day(support::resolved(in_a_row(0.085, lower_ls)));
    REQUIRE(day.known);
    CHECK(day.sinking.empty());
    REQUIRE(day.lowest.size() == 2);
    // As low as it comes while the tank below fills, not as on the last day.
    CHECK(day.lowest[0].level_m < 81.2);
    CHECK(day.lowest[1].level_m == Approx(60.3).margin(0.05));
  }
}

TEST_CASE("a tank that rises less between two fillings of one below it than it falls is sinking") {
  // 0.0965 and 0.0045 L/s are more than 0.1 L/s, by 0.09 m3 a day.
  const TypicalDay day = typical_day(support::resolved(in_a_row(0.0965, 0.0045)));
  REQUIRE(day.known);
  CHECK(day.sinking == "upper");
}

TEST_CASE("a wide tank that sinks for weeks to its mouth and then passes on enough is not sinking") {
  // No float valve holds the lower tank's water back: 40 m across, the upper one is drawn down by its line,
  // and what is drawn below is half of what the spring gives.
  Model s = in_a_row(0.0, 0.05);
  s.tanks[0].draws.clear();
  s.tanks[0].shape = UprightCylinder{m(40.0)};
  s.tanks[1].float_valve.reset();
  s.pipelines[1] = line("b", "upper", "lower", 200, 80.1, 61.9, 0.026);
  const TypicalDay day = typical_day(support::resolved(s));
  REQUIRE(day.known);
  CHECK(day.sinking.empty());
  REQUIRE(day.lowest.size() == 2);
  CHECK(day.lowest[0].level_m == Approx(80.1).margin(0.1));  // at its mouth
  // Of a spring that gives less than is drawn it is.
  s.boxes[0].yield = Flow::litres_per_second(0.04);
  CHECK(typical_day(support::resolved(s)).sinking == "upper");
}
