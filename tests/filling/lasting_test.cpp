// Tanks as stores: how long each holds out, and what is left then. Figures by hand, and against `fill`.
#include "runnel/filling/lasting.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "runnel/filling/fill.h"
#include "support/rooms.h"
#include "systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// A spring of 0.02 L/s into a tank 1 m deep and 1 m3 large, out of which a joint draws 0.2 L/s.
Model drawn_tank() {
  Model s = with_water();
  s.boxes = {spring("spring", 2e-5, 110, 111)};
  s.tanks = {round_tank("barn", 90, 1, std::sqrt(4.0 / std::numbers::pi))};
  s.tanks[0].level = m(91);
  Joint yard;
  yard.name = "yard";
  yard.elevation = m(70);
  yard.draw = Flow::from_si(2e-4);
  s.joints = {yard};
  s.pipelines = {line("in", "spring", "barn", 200, 110, 91, 0.04),
                 // So wide that the mouth asks for next to no depth: the draw is met down to a millimetre.
                 line("out", "barn", "yard", 100, 90, 70, 0.1, 0.5, 0.0)};
  return s;
}

/// What a tank of 1 m2 has given when its water stands a millimetre over its mouth.
constexpr double last_m3 = 1e-3;

std::optional<Lasting> followed(const Model& model) {
  const System& system = support::kept(model);
  return follow_stores(system, steady::solve(system));
}

}  // namespace

TEST_CASE("a tank gives what stands above its mouth, then what comes in") {
  const auto lasting = followed(drawn_tank());
  REQUIRE(lasting);
  REQUIRE(lasting->stores.size() == 1);
  const DrawnStore& barn = lasting->stores.front();
  CHECK(barn.tank == "barn");
  CHECK(barn.in_m3s == Approx(2e-5).epsilon(1e-9));
  CHECK(barn.out_m3s == Approx(2e-4).epsilon(1e-9));
  // 1 m3 at 0.18 L/s.
  CHECK(barn.store_m3 == Approx(1.0).epsilon(1e-12));
  CHECK(barn.holds_out_s == Approx((1.0 - last_m3) / 1.8e-4).epsilon(1e-6));
  CHECK_FALSE(barn.bound);
  CHECK(barn.empties());
  CHECK(barn.gets_m3s == Approx(2e-5).epsilon(1e-9));
  CHECK(lasting->fed);
  REQUIRE(lasting->state.outcome == steady::Outcome::settled);
  CHECK(lasting->state.proof.consistent);
  CHECK(lasting->state.place("yard")->draw_given_m3s == Approx(2e-5).epsilon(1e-6));
  CHECK(lasting->store("barn") == &lasting->stores.front());
  CHECK(lasting->store("spring") == nullptr);
}

TEST_CASE("a tank whose level is kept from outside never gives out") {
  auto lake = drawn_tank();
  lake.tanks[0].held = true;
  CHECK_FALSE(followed(lake));
}

TEST_CASE("only what stands above the mouth, and no more than the level, is given") {
  Model s = drawn_tank();
  const double radius = 0.6, length = 2.0;
  s.tanks[0].shape = LyingCylinder{m(2 * radius), m(length)};
  s.tanks[0].lip = s.tanks[0].inlet = m(91.2);
  s.tanks[0].level = m(90.6);  // half full
  s.pipelines[0].survey.back().elevation = m(91.2);
  s.pipelines[1].survey.front().elevation = m(90.25);
  const auto lasting = followed(s);
  REQUIRE(lasting);
  // The segment of a circle below a depth h: r^2 acos((r - h) / r) - (r - h) sqrt(2 r h - h^2).
  const auto above_m3 = [&](double h) {
    const double segment = radius * radius * std::acos((radius - h) / radius) -
                           (radius - h) * std::sqrt(2.0 * radius * h - h * h);
    return length * (std::numbers::pi * radius * radius / 2.0 - segment);
  };
  CHECK(lasting->stores[0].store_m3 == Approx(above_m3(0.25)).epsilon(1e-9));
  CHECK(lasting->stores[0].holds_out_s == Approx(above_m3(0.251) / 1.8e-4).epsilon(1e-6));
}

TEST_CASE("a run over time finds the tank empty when the steady answer says so") {
  const Model s = drawn_tank();
  const auto lasting = followed(s);
  FillOptions options;
  options.duration_s = 20000.0;
  const FillHistory history = fill(s, options);
  REQUIRE(history.outcome == FillOutcome::done);
  REQUIRE(history.storage("barn")->emptied_at_s);
  CHECK(*history.storage("barn")->emptied_at_s == Approx(lasting->stores[0].holds_out_s).epsilon(1e-6));
}

TEST_CASE("as a level falls the flow falls, and the time is that of the falling flow") {
  // Out of a short pipe into the open, so that the depth is much of what drives the water.
  Model s = drawn_tank();
  s.joints.clear();
  Outlet end;
  end.name = "yard";
  end.elevation = m(89);
  s.outlets = {end};
  s.pipelines[1] = line("out", "barn", "yard", 20, 90, 89, 0.02);
  const auto lasting = followed(s);
  REQUIRE(lasting);
  const DrawnStore& barn = lasting->stores.front();
  CHECK(barn.empties());
  // The integral of 1 m2 dh / (out - in) by Gauss's rule with three points a strip; strips shrink towards the
  // mouth, where the flow goes with the root of the depth.
  const auto falls_m3s = [&](double level_m) {
    Model then = s;
    then.tanks[0].level = m(level_m);
    return -steady::solve(then).place("barn")->inflow_m3s;
  };
  double seconds = 0.0, top_m = 1.0;
  const double bottom_m = 1e-3;
  constexpr int strips = 400;
  for (int i = 1; i <= strips; ++i) {
    const double low_m = std::pow(bottom_m, static_cast<double>(i) / strips), half_m = 0.5 * (top_m - low_m);
    for (const auto& [at, weight] : {std::pair{-std::sqrt(0.6), 5.0 / 9.0}, std::pair{0.0, 8.0 / 9.0},
                                     std::pair{std::sqrt(0.6), 5.0 / 9.0}})
      seconds += weight * half_m / falls_m3s(90.0 + 0.5 * (top_m + low_m) + at * half_m);
    top_m = low_m;
  }
  CHECK(barn.holds_out_s == Approx(seconds).epsilon(1e-6));
  // Much longer than at the first flow.
  CHECK(barn.holds_out_s > 1.1 * barn.store_m3 / (barn.out_m3s - barn.in_m3s));
}

TEST_CASE("a tank may come to stand above its mouth, where it gives what it gets") {
  Model s = drawn_tank();
  s.boxes[0].yield = Flow::from_si(2.5e-4);
  s.joints.clear();
  Outlet end;
  end.name = "yard";
  end.elevation = m(89.9);
  s.outlets = {end};
  s.pipelines[1] = line("out", "barn", "yard", 20, 90, 89.9, 0.02);
  s.tanks[0].level = m(91);
  const auto lasting = followed(s);
  REQUIRE(lasting);
  const DrawnStore& barn = lasting->stores.front();
  CHECK_FALSE(barn.empties());
  CHECK(barn.lasting_m > 90.05);
  Model there = s;
  there.tanks[0].level = m(barn.lasting_m);
  CHECK(steady::solve(there).line("out")->flow_m3s == Approx(2.5e-4).epsilon(1e-6));
  FillOptions options;
  options.duration_s = barn.holds_out_s;
  const FillHistory history = fill(s, options);
  CHECK(history.storage("barn")->end_level_m == Approx(barn.emptied_at_m()).margin(1e-6));
  CHECK_FALSE(history.storage("barn")->emptied_at_s);
}

TEST_CASE("a tank that gets as much as it gives is no store on its way down") {
  Model s = drawn_tank();
  SECTION("the spring gives more than is drawn") { s.boxes[0].yield = Flow::from_si(3e-4); }
  SECTION("nothing is drawn") { s.joints[0].draw = {}; }
  CHECK_FALSE(followed(s));
}

TEST_CASE("tanks run empty one after another") {
  // The upper tank feeds the lower one; while it gives 0.1 L/s the lower one loses 0.1 L/s of its 0.2.
  Model s = drawn_tank();
  s.boxes.clear();
  s.tanks.push_back(round_tank("upper", 105, 2, std::sqrt(2.0 / std::numbers::pi)));
  s.tanks[1].level = m(106);  // half a cubic metre
  s.pipelines[0] = line("in", "upper", "barn", 200, 105, 91, 0.012);
  const auto lasting = followed(s);
  REQUIRE(lasting);
  REQUIRE(lasting->stores.size() == 2);
  CHECK_FALSE(lasting->fed);
  const double between = steady::solve(s).line("in")->flow_m3s;
  REQUIRE(between > 5e-5);
  REQUIRE(between < 1.5e-4);
  // The lower tank's inlet lies at its lip, so what comes depends on the upper level alone. Both balances by
  // the classical Runge-Kutta method, each flow by a steady solve.
  const auto falls_m3s = [&](double upper_m) {
    Model then = s;
    then.tanks[1].level = m(std::max(upper_m, 105.0));
    return steady::solve(then).line("in")->flow_m3s;
  };
  double upper_m = 106.0, barn_m3 = 1.0, first_s = 0.0, second_s = 0.0;
  constexpr double step_s = 2.0;
  for (double t = 0.0; second_s == 0.0; t += step_s) {
    const double a = falls_m3s(upper_m), b = falls_m3s(upper_m - step_s * a),  // over half a square metre
        c = falls_m3s(upper_m - step_s * b), d = falls_m3s(upper_m - 2.0 * step_s * c);
    const double fell_m3 = step_s / 6.0 * (a + 2.0 * b + 2.0 * c + d);
    const double upper_after_m = upper_m - 2.0 * fell_m3, barn_after_m3 = barn_m3 + fell_m3 - 2e-4 * step_s;
    if (first_s == 0.0 && upper_after_m <= 105.001)
      first_s = t + step_s * (upper_m - 105.001) / (upper_m - upper_after_m);
    if (barn_after_m3 <= last_m3) second_s = t + step_s * (barn_m3 - last_m3) / (barn_m3 - barn_after_m3);
    upper_m = upper_after_m;
    barn_m3 = barn_after_m3;
  }
  CHECK(lasting->stores[0].tank == "upper");
  CHECK(lasting->stores[0].holds_out_s == Approx(first_s).epsilon(1e-6));
  CHECK(lasting->stores[1].tank == "barn");
  CHECK(lasting->stores[1].holds_out_s == Approx(second_s).epsilon(1e-6));
  CHECK(lasting->from_s() == lasting->stores[1].holds_out_s);
  CHECK(lasting->state.place("yard")->draw_given_m3s == Approx(0.0).margin(1e-12));
}

TEST_CASE("a shut float valve opens before its tank is empty") {
  Model s = drawn_tank();
  s.tanks[0].float_valve = FloatValve{m(91), m(90.5), 6.0};
  SECTION("the spring is weaker than the draw") {
    const auto lasting = followed(s);
    REQUIRE(lasting);
    // Half the tank without any inflow, the other half with it.
    CHECK(lasting->stores[0].holds_out_s == Approx(0.5 / 2e-4 + (0.5 - last_m3) / 1.8e-4).epsilon(1e-6));
    CHECK(lasting->stores[0].in_m3s == Approx(2e-5).epsilon(1e-6));
    CHECK(lasting->state.place("yard")->draw_given_m3s == Approx(2e-5).epsilon(1e-6));
  }
  SECTION("the spring is stronger, so the valve opens and shuts for ever") {
    s.boxes[0].yield = Flow::from_si(3e-4);
    CHECK_FALSE(followed(s));
  }
  SECTION("it would open only below the mouth, so it never does") {
    s.tanks[0].float_valve->opens_at = m(90.1);
    s.pipelines[1].survey.front().elevation = m(90.2);
    const auto lasting = followed(s);
    REQUIRE(lasting);
    CHECK(lasting->stores[0].holds_out_s == Approx((0.8 - last_m3) / 2e-4).epsilon(1e-6));
    CHECK(lasting->state.place("yard")->draw_given_m3s == Approx(0.0).margin(1e-12));
  }
}

TEST_CASE("a tank beside the main gives back through its inlet") {
  Model s = drawn_tank();
  Joint tee;
  tee.name = "tee";
  tee.elevation = m(85);
  s.joints.push_back(tee);
  s.tanks[0].inlet = m(90.25);
  s.pipelines = {line("main", "spring", "tee", 200, 110, 85, 0.04, 0.5, 0.0),
                 line("rise", "tee", "barn", 50, 85, 90.25, 0.1, 0.0, 1.0),
                 line("out", "tee", "yard", 100, 85, 70, 0.04, 0.0, 0.0)};
  const auto lasting = followed(s);
  REQUIRE(lasting);
  CHECK(lasting->stores[0].store_m3 == Approx(0.75).epsilon(1e-9));
  CHECK(lasting->stores[0].holds_out_s == Approx((0.75 - last_m3) / 1.8e-4).epsilon(1e-6));
  CHECK(lasting->state.place("yard")->draw_given_m3s == Approx(2e-5).epsilon(1e-6));
}

TEST_CASE("in the lasting state no place gets more and all water comes from springs") {
  std::mt19937 random(8);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  int drawn = 0, agreed = 0;
  for (int i = 0; i < 200; ++i) {
    CAPTURE(i);
    Model s = drawn_tank();
    s.boxes[0].yield = Flow::from_si(3e-4 * share(random));
    s.tanks[0].level = m(90.1 + 0.9 * share(random));
    s.tanks.push_back(round_tank("trough", 75, 1, 1.0 + share(random)));
    s.tanks[1].level = m(75.0 + share(random));
    s.pipelines.push_back(line("on", "barn", "trough", 80, 90, 76, 0.02 + 0.03 * share(random)));
    s.pipelines.push_back(line("down", "trough", "yard", 60, 75, 70, 0.02 + 0.03 * share(random), 0.5, 0.0));
    const steady::State first = steady::solve(s);
    const auto lasting = followed(s);
    if (!lasting) continue;
    ++drawn;
    REQUIRE(lasting->state.outcome == steady::Outcome::settled);
    CHECK(lasting->state.proof.consistent);
    CHECK(lasting->state.place("yard")->draw_given_m3s <= first.place("yard")->draw_given_m3s + 1e-12);
    CHECK(lasting->state.place("yard")->draw_given_m3s <= s.boxes[0].yield.si() * (1.0 + 1e-9) + 1e-12);
    for (const DrawnStore& store : lasting->stores) CHECK(store.store_m3 <= 4.0);
    for (std::size_t k = 1; k < lasting->stores.size(); ++k)
      CHECK(lasting->stores[k].holds_out_s >= lasting->stores[k - 1].holds_out_s);
    // A run over time calls the same tanks empty, at the same times.
    FillOptions options;
    options.duration_s = 2.0 * lasting->from_s() + 60.0;
    const FillHistory history = fill(s, options);
    REQUIRE(history.outcome == FillOutcome::done);
    CHECK(history.proof.consistent);
    for (const DrawnStore& store : lasting->stores) {
      CAPTURE(store.tank);
      CHECK_FALSE(store.bound);
      const auto& emptied_s = history.storage(store.tank)->emptied_at_s;
      CHECK(emptied_s.has_value() == (store.empties() && store.holds_out_s > 0.0));
      if (!emptied_s) continue;
      ++agreed;
      CHECK(*emptied_s == Approx(store.holds_out_s).epsilon(1e-6));
    }
  }
  CHECK(drawn > 100);
  CHECK(agreed > 100);
}

TEST_CASE("tanks joined below their water are no stores where the spring brings enough for both") {
  Model s = with_water();
  s.boxes = {spring("spring", 3e-4, 100, 100.6)};
  s.tanks = {round_tank("first", 80, 2, 3), round_tank("second", 80, 2, 3)};
  for (Tank& tank : s.tanks) tank.level = m(80.4);
  s.tanks[1].inlet = m(80.1);
  Outlet trough;
  trough.name = "trough";
  trough.elevation = m(70);
  trough.opening = m(0.006);
  trough.loss = 6.0;
  s.outlets = {trough};
  s.pipelines = {line("in", "spring", "first", 200, 100, 82, 0.026),
                 line("joint", "first", "second", 4, 80.1, 80.1, 0.04),
                 line("out", "second", "trough", 200, 80.1, 70, 0.026)};
  // The trough takes about half of what comes, and nothing runs from one tank to the other at first.
  CHECK_FALSE(followed(s));
  // With less than the trough takes both sink.
  s.boxes[0].yield = Flow::from_si(5e-5);
  CHECK(followed(s));
}
