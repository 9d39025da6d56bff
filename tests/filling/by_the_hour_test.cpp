// Taps and joints where people draw by the hour, while tanks fill and empty.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/filling/fill.h"
#include "systems.h"

using namespace filling_test;
using filling::fill;
using filling::FillHistory;
using filling::FillOptions;

namespace {

constexpr double day_s = 86400.0;

/// A tank, a line down to a tee and a tap on it that could let out far more than is drawn.
Model tank_and_tap(double opening_m) {
  Model s = with_water();
  s.tanks = {round_tank("tank", 50.0, 3.0, 4.0)};
  s.tanks[0].level = m(52.5);
  Joint tee;
  tee.name = "tee";
  tee.elevation = m(30.0);
  s.joints = {tee};
  Outlet tap;
  tap.name = "tap";
  tap.on = "tee";
  tap.elevation = m(30.0);
  tap.opening = m(opening_m);
  tap.loss = 2.0;
  tap.draws = {draw(2e-5, 6, 9), draw(1e-5, 17, 19)};
  s.outlets = {tap};
  s.pipelines = {line("main", "tank", "tee", 200, 50.0, 30.0, 0.04, 0.5, 0.0)};
  return s;
}

FillHistory days(const Model& model, double count, double start_hour = 0.0) {
  FillOptions options;
  options.duration_s = count * day_s;
  options.start_hour = start_hour;
  return fill(support::resolved(model), options);
}

const filling::PlaceHistory& place(const FillHistory& h, const std::string& name) {
  for (const auto& p : h.places)
    if (p.name == name) return p;
  throw std::runtime_error("no such place in the history");
}

}  // namespace

TEST_CASE("a tap lets out just what is drawn, in its hours") {
  const FillHistory h = days(tank_and_tap(0.02), 2.0);
  CHECK(h.proof.consistent);
  const auto& tap = place(h, "tap");
  CHECK(tap.by_the_hour);
  // 3e-5 m3/s as a mean of the day.
  CHECK(tap.given_m3 == Approx(2 * 3e-5 * day_s).epsilon(1e-9));
  CHECK(tap.asked_m3 == Approx(tap.given_m3).epsilon(1e-9));
  CHECK_FALSE(tap.short_from_s);
  CHECK(tap.least_m3s == Approx(1e-5 * 24 / 2).epsilon(1e-9));  // in the evening
  const auto* tank = h.storage("tank");
  CHECK(tank->start_m3 - tank->end_m3 == Approx(tap.given_m3).epsilon(1e-9));
  for (const auto& row : tap.series) {
    const double hour = std::fmod(row.time_s / 3600.0, 24.0);
    if ((hour > 9.1 && hour < 16.9) || hour > 19.1 || hour < 5.9) CHECK(row.flow_m3s == 0.0);
  }
}

TEST_CASE("a tap at the end of a pipe does the same") {
  Model s = tank_and_tap(0.02);
  s.joints.clear();
  s.outlets[0].on.clear();
  s.pipelines[0].to = "tap";
  double least_m = 1e9, most_m = 0.0;
  FillOptions options;
  options.duration_s = day_s;
  options.look = [&](double, const network::State& state) {
    const double head_m = state.place("tap")->pressure_head_m.value_or(0.0);
    least_m = std::min(least_m, head_m);
    most_m = std::max(most_m, head_m);
  };
  const FillHistory h = fill(support::resolved(s), options);
  CHECK(h.proof.consistent);
  CHECK(place(h, "tap").given_m3 == Approx(3e-5 * day_s).epsilon(1e-9));
  // Shut, the whole head stands before it; turned to 0.16 L/s the line loses 0.17 m of it, not all.
  CHECK(most_m == Approx(22.5).margin(0.01));
  CHECK(least_m > 22.0);
  CHECK(least_m < most_m - 0.1);
}

TEST_CASE("a joint draws by the hour and a later clock shifts its hours") {
  Model s = tank_and_tap(0.02);
  s.outlets.clear();
  s.joints[0].draws = {draw(2e-5, 6, 9), draw(1e-5, 17, 19)};
  s.joints[0].draw = Flow::from_si(1.6e-4);
  const FillHistory h = days(s, 1.0);
  CHECK(h.proof.consistent);
  CHECK(place(h, "tee").given_m3 == Approx(3e-5 * day_s).epsilon(1e-9));
  FillOptions half;
  half.duration_s = 6 * 3600.0;
  half.start_hour = 6.0;
  const FillHistory morning = fill(support::resolved(s), half);
  CHECK(morning.proof.consistent);
  CHECK(place(morning, "tee").given_m3 == Approx(2e-5 * day_s).epsilon(1e-9));
}

TEST_CASE("a tap too narrow for its draws gives what its opening lets out and is called short") {
  const FillHistory h = days(tank_and_tap(0.002), 1.0);
  CHECK(h.proof.consistent);
  const auto& tap = place(h, "tap");
  REQUIRE(tap.short_from_s);
  CHECK(*tap.short_from_s == Approx(6 * 3600.0).margin(1.0));  // at its first hour, not before
  CHECK(tap.given_m3 < 0.9 * tap.asked_m3);
  // v = sqrt(2 g h / K) through 2 mm with K 2 under 22.5 m: 46.6 mL/s; the line loses a centimetre of it.
  CHECK(tap.least_m3s ==
        Approx(std::acos(-1.0) / 4.0 * 4e-6 * std::sqrt(2 * 9.80665 * 22.5 / 2.0)).epsilon(2e-3));
}

TEST_CASE("a system whose taps draw the same each day comes to the same every day") {
  Model s = tank_and_tap(0.02);
  s.boxes = {spring("spring", 3e-5, 60.0, 60.5)};  // just what is drawn
  s.pipelines.push_back(line("feed", "spring", "tank", 80, 60.0, 53.0, 0.03));
  const FillHistory h = fill(support::resolved(s));
  CHECK(h.proof.consistent);
  CHECK(h.rest == filling::RestKind::daily);
  CHECK_FALSE(place(h, "tap").short_from_s);
}
