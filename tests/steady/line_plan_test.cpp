// What a line costs where, and what it cannot sink below, against sums by hand.
#include "runnel/steady/line_plan.h"

#include <catch2/catch.hpp>

#include "runnel/base/constants.h"
#include "steady/small_systems.h"

using namespace runnel;
using network::PartKind;
using steady::LinePlan;

namespace {

constexpr double rounding = 1e-12;  // relative: a few products and quotients

/// K / (2 g A^2) of a bore.
double per_square(double k, double bore_m) {
  const double area = pi * bore_m * bore_m / 4.0;
  return k / (2.0 * gravity_ms2 * area * area);
}

Approx near(double value) { return Approx(value).epsilon(rounding).margin(1e-300); }

/// Box at 100 m, line over 0, 50 and 120 m down to 80 m, open end.
network::Model open_line() {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-3, 100.0, 100.5);
  small::outlet(s, "end", 80.0);
  small::line(s, "main", "spring", "end", 0.03, {{0, 100}, {50, 92}, {120, 80}});
  return s;
}

LinePlan plan(const network::Model& model, std::size_t line = 0) {
  return steady::plan_line(model, model.pipelines[line]);
}

}  // namespace

TEST_CASE("a line is cut at its points, its parts and its changes of pipe") {
  network::Model s = open_line();
  s.pipelines[0].parts = {small::part(PartKind::fitting, "bend", 20.0, 0.9)};
  s.pipelines[0].pipes.push_back({small::pipe(0.02), Length::metres(70.0), {}, {}});
  const LinePlan p = plan(s);
  REQUIRE(p.vertices.size() == 5);
  const double stations[] = {0, 20, 50, 70, 120};
  for (std::size_t i = 0; i < 5; ++i) CHECK(p.course.points()[i].station_m == stations[i]);
  CHECK(p.course.points()[1].elevation_m == near(100.0 - 8.0 * 20.0 / 50.0));
  CHECK_FALSE(p.course.points()[1].survey_point);
  CHECK(p.course.points()[2].survey_point);
  CHECK(p.course.points()[2].pipe == 0);
  CHECK(p.course.points()[3].pipe == 1);
  CHECK(p.course.points()[4].pipe == 1);
  CHECK(p.course.points()[0].length_m == near(std::hypot(20.0, 3.2)));
}

TEST_CASE("what stands at a vertex is paid on the bore it sits on") {
  network::Model s = open_line();
  s.pipelines[0].parts = {small::part(PartKind::fitting, "bend", 20.0, 0.9)};
  const LinePlan p = plan(s);
  CHECK(p.vertices[1].local_forward_s2m5 == near(per_square(0.9, 0.03)));
  CHECK(p.vertices[1].local_backward_s2m5 == near(per_square(0.9, 0.03)));
  CHECK(p.entrance_s2m5 == near(per_square(0.5, 0.03)));
  CHECK(p.exit_s2m5 == near(per_square(1.0, 0.03)));
}

TEST_CASE("a change of bore is a widening one way and a narrowing the other") {
  network::Model s = open_line();
  s.pipelines[0].pipes.push_back({small::pipe(0.02), Length::metres(70.0), {}, {}});
  const LinePlan narrows = plan(s);
  std::swap(s.pipelines[0].pipes[0].pipe, s.pipelines[0].pipes[1].pipe);
  const LinePlan widens = plan(s);
  const auto& in = narrows.vertices[2];
  const auto& out = widens.vertices[2];
  REQUIRE(narrows.course.points()[2].station_m == 70.0);
  // Borda-Carnot on the smaller bore: (1 - a/A)^2, a/A = (20/30)^2.
  const double borda = per_square(std::pow(1.0 - 4.0 / 9.0, 2), 0.02);
  CHECK(out.local_forward_s2m5 == Approx(borda).epsilon(1e-9));
  CHECK(in.local_backward_s2m5 == Approx(borda).epsilon(1e-9));
  CHECK(in.local_forward_s2m5 == near(out.local_backward_s2m5));
  CHECK(in.local_forward_s2m5 < borda);
  CHECK(in.narrower_s2m5() == near(per_square(1.0, 0.02)));
  CHECK(out.before_s2m5 == near(per_square(1.0, 0.02)));
  CHECK(out.behind_s2m5 == near(per_square(1.0, 0.03)));
  // Over the floor behind a widening the expansion has been paid.
  CHECK(out.over_floor_s2m5(true) == near(std::max(per_square(1.0, 0.02) - borda, per_square(1.0, 0.03))));
}

TEST_CASE("the grade line cannot sink below the pipe where air can get in") {
  network::Model s = open_line();
  const auto open = plan(s);
  for (std::size_t i = 0; i < open.vertices.size(); ++i)
    CHECK(open.vertices[i].floor_m == open.course.points()[i].elevation_m);

  s.pipelines[0].air = network::Air::sealed;
  s.pipelines[0].parts = {small::part(PartKind::air_valve, "vent", 50.0)};
  const LinePlan sealed = plan(s);
  CHECK(sealed.vertices.front().floor_m ==
        sealed.course.points().front().elevation_m);                                   // the mouth in the box
  CHECK(sealed.vertices[1].floor_m == sealed.course.points()[1].elevation_m);          // the air valve
  CHECK(sealed.vertices.back().floor_m == sealed.course.points().back().elevation_m);  // the open end
  s.pipelines[0].parts.clear();
  const double depth_m = sealed.course.points()[1].elevation_m - plan(s).vertices[1].floor_m;
  CHECK(depth_m == near(s.site.vapour_limit_m()));
  CHECK(depth_m > 5.0);
}

TEST_CASE("valves shut, hold and keep back where they stand") {
  network::Model s = open_line();
  auto shut = small::part(PartKind::valve, "gate", 50.0);
  shut.open = 0.0;
  s.pipelines[0].parts = {shut};
  const LinePlan closed = plan(s);
  CHECK(closed.shut);
  CHECK(closed.vertices[1].shut);
  CHECK(closed.one_way);  // water cannot come back in from the air
  CHECK_FALSE(plan(open_line()).shut);

  auto valve = small::part(PartKind::reducing_valve, "prv", 50.0, 2.0);
  valve.set_pressure = Pressure::pascals(98.0e3);
  s.pipelines[0].parts = {valve};
  const LinePlan holds = plan(s);
  REQUIRE(holds.vertices[1].holds_m);
  CHECK(*holds.vertices[1].holds_m == near(92.0 + 98.0e3 / s.site.specific_weight_nm3()));
  CHECK(holds.vertices[1].keeps_back);

  s.pipelines[0].parts = {small::part(PartKind::check_valve, "check", 50.0, 2.0)};
  CHECK(plan(s).vertices[1].keeps_back);
}

TEST_CASE("a tank receives at the higher of the pipe's end and its inlet") {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-3, 100.0, 100.5);
  small::tank(s, "tank", 83.0, 81.0);
  small::line(s, "main", "spring", "tank", 0.03, {{0, 100}, {120, 80}});
  const LinePlan p = plan(s);
  CHECK(p.vertices.back().floor_m == 83.0);
  CHECK_FALSE(p.one_way);
  // Flowing back, the mouth is at the other end.
  CHECK(p.back_entrance_s2m5 == near(per_square(0.5, 0.03)));
  CHECK(p.back_exit_s2m5 == near(per_square(1.0, 0.03)));
}

TEST_CASE("an opening counts on its own bore, the end of a pipe not at all") {
  network::Outlet tap;
  tap.opening = Length::metres(0.012);
  tap.loss = 2.5;
  CHECK(steady::opening_s2m5(tap) == near(per_square(2.5, 0.012)));
  tap.opening = {};
  CHECK(steady::opening_s2m5(tap) == 0.0);
}
