// An instant of a run, told as `flow` would tell the system with its tanks at those levels.
#include "runnel/filling/state_teller.h"

#include <catch2/catch.hpp>

#include "filling/random_filling.h"
#include "filling/systems.h"
#include "runnel/base/constants.h"
#include "runnel/network/change.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// A system at its start, and what is told of it.
struct Told {
  network::System system;
  Basins basins;
  Eigen::VectorXd volume;
  State state;
  explicit Told(const Model& model, double datum_m = 0.0)
      : system(support::resolved(model)),
        basins(datum_m == 0.0 ? system : network::lowered(system, datum_m), 0.0) {
    std::vector<double> spilled;
    volume = basins.start(datum_m == 0.0 ? system : network::lowered(system, datum_m), false, spilled);
    basins.set_draws(0.0);
    tell(datum_m);
  }
  void tell(double datum_m = 0.0) {
    std::vector<Event> events;
    REQUIRE(basins.settle(0.0, volume, false, events));
    state = StateTeller(system, datum_m).tell(basins, volume, basins.probe());
  }
};

/// A tank over a tap with hours of its own, from midnight on.
Model tap_by_the_hour(double draw_m3s) {
  Model s = with_water();
  s.tanks.push_back(round_tank("tank", 20.0, 2.0, 2.0));
  s.tanks[0].level = m(21.0);
  Outlet tap;
  tap.name = "tap";
  tap.elevation = m(10.0);
  tap.opening = m(0.012);
  tap.loss = 2.5;
  tap.draws = {draw(draw_m3s)};
  s.outlets.push_back(tap);
  s.pipelines.push_back(line("out", "tank", "tap", 100.0, 20.0, 10.0, 0.026, 0.5, 0.0));
  return s;
}

Approx near(double value, double grain) { return Approx(value).epsilon(1e-8).margin(grain); }

}  // namespace

TEST_CASE("at the start of a run the state is the steady one, on random systems") {
  int compared = 0;
  for (unsigned seed = 1; seed <= 80; ++seed) {
    Model model = RandomFilling(seed).make();
    for (Tank& tank : model.tanks) tank.draws.clear();  // `flow` asks for their busiest hour
    const Told told(model);
    bool holds = false;
    for (std::size_t f = 0; f < model.tanks.size(); ++f)
      holds = holds || told.basins.stores()[f].rim != Rim::free;
    if (holds) continue;  // a film or a rim, of which `flow` knows nothing
    const State steady = runnel::steady::solve(told.system);
    REQUIRE(steady.outcome == runnel::network::Outcome::settled);
    CAPTURE(seed);
    for (std::size_t l = 0; l < steady.lines.size(); ++l) {
      const LineState &a = told.state.lines[l], &b = steady.lines[l];
      CHECK(a.flow_m3s == near(b.flow_m3s, 1e-11));
      CHECK(a.condition == b.condition);
      for (std::size_t p = 0; p < b.points.size(); ++p) {
        REQUIRE(a.points[p].grade_m.has_value() == b.points[p].grade_m.has_value());
        if (b.points[p].grade_m) CHECK(*a.points[p].grade_m == Approx(*b.points[p].grade_m).margin(1e-5));
      }
    }
    for (std::size_t t = 0; t < steady.tanks.size(); ++t) {
      CHECK(*told.state.tanks[t].level_m == Approx(*steady.tanks[t].level_m).epsilon(1e-12));
      CHECK(told.state.tanks[t].inflow_m3s == near(steady.tanks[t].inflow_m3s, 1e-11));
      CHECK(told.state.tanks[t].float_shut == steady.tanks[t].float_shut);
    }
    ++compared;
  }
  CHECK(compared >= 60);
}

TEST_CASE("a run that counts heights from a datum is told in the site's own") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const Model model = RandomFilling(seed).make();
    const Told plain(model), lowered(model, 64.0);
    CAPTURE(seed);
    for (std::size_t l = 0; l < plain.state.lines.size(); ++l) {
      const LineState &a = plain.state.lines[l], &b = lowered.state.lines[l];
      CHECK(a.flow_m3s == near(b.flow_m3s, 1e-11));
      for (std::size_t p = 0; p < a.points.size(); ++p)
        if (a.points[p].grade_m && b.points[p].grade_m)
          CHECK(*a.points[p].grade_m == Approx(*b.points[p].grade_m).margin(1e-5));
    }
    for (std::size_t t = 0; t < plain.state.tanks.size(); ++t)
      CHECK(*plain.state.tanks[t].level_m == Approx(*lowered.state.tanks[t].level_m).margin(1e-9));
  }
}

TEST_CASE("a tap that is turned to what is drawn has before it what its line has left") {
  const Told told(tap_by_the_hour(1e-4));
  const PlaceState& tap = told.state.outlets[0];
  CHECK(tap.flow_m3s == Approx(1e-4).epsilon(1e-9));
  const losses::PipeFriction pipe({}, 0.026, 7e-6, 150.0, 1.139e-6);
  const double velocity = 1e-4 / pipe.area_m2();
  const double lost =
      pipe.per_metre(1e-4).head_m * 100.0 + 0.5 * velocity * velocity / (2.0 * runnel::gravity_ms2);
  CHECK_FALSE(tap.dry);
  CHECK(*tap.pressure_head_m == Approx(11.0 - lost).epsilon(1e-6));
  CHECK(*tap.grade_m == Approx(21.0 - lost).epsilon(1e-6));
}

TEST_CASE("a tap from which more is asked than its opening lets out is told as wide open") {
  const Told told(tap_by_the_hour(1.0));
  Model open = tap_by_the_hour(1.0);
  open.outlets[0].draws.clear();
  const State steady = runnel::steady::solve(open);
  CHECK(told.state.outlets[0].flow_m3s == Approx(steady.outlets[0].flow_m3s).epsilon(1e-8));
  CHECK(*told.state.outlets[0].pressure_head_m == Approx(*steady.outlets[0].pressure_head_m).epsilon(1e-6));
}

TEST_CASE("a tap at which nothing is drawn just now bears the whole height of water") {
  Model s = tap_by_the_hour(1e-4);
  s.outlets[0].draws = {draw(1e-4, 6.0, 9.0)};
  const Told told(s);
  CHECK(told.state.outlets[0].flow_m3s == 0.0);
  CHECK(*told.state.outlets[0].pressure_head_m == Approx(11.0).epsilon(1e-9));
}

TEST_CASE("a joint is told what is asked there now and what it gets") {
  Model s = tap_by_the_hour(1e-4);
  s.outlets[0].draws.clear();
  s.outlets[0].shut = true;
  Joint tee;
  tee.name = "tee";
  tee.elevation = m(15.0);
  s.joints.push_back(tee);
  s.pipelines[0] = line("upper", "tank", "tee", 100.0, 20.0, 15.0, 0.026, 0.5, 0.0);
  s.pipelines.push_back(line("lower", "tee", "tap", 100.0, 15.0, 10.0, 0.026, 0.0, 0.0));
  const auto joint = [&](double m3s, double from, double to) {
    s.joints[0].draws = {draw(m3s, from, to)};
    return Told(s).state.joints[0];
  };
  CHECK(joint(1e-4, 0.0, 6.0).draw_asked_m3s == Approx(4e-4).epsilon(1e-12));  // a day's volume in six hours
  CHECK(joint(1e-4, 0.0, 6.0).draw_given_m3s == Approx(4e-4).epsilon(1e-9));
  CHECK(joint(1e-4, 6.0, 9.0).draw_asked_m3s == 0.0);
  CHECK(joint(1e-4, 6.0, 9.0).draw_given_m3s == 0.0);
  const PlaceState dear = joint(1.0, 0.0, 24.0);
  CHECK(dear.draw_asked_m3s == 1.0);
  CHECK(dear.draw_given_m3s > 1e-4);
  CHECK(dear.draw_given_m3s < 0.1);
}

TEST_CASE("a box that stores and stands at its lip spills what its line does not take") {
  Model s = with_water();
  Box box = spring("spring", 5e-3, 29.0, 30.0);
  box.plan_length = box.plan_width = m(1.0);
  box.floor = m(28.9);
  s.boxes.push_back(box);
  s.tanks.push_back(round_tank("tank", 10.0, 2.0, 2.0));
  s.pipelines.push_back(line("in", "spring", "tank", 100.0, 29.0, 12.0, 0.026));
  // It begins as the steady state has it: at its lip, with far more than the line takes.
  const Told full(s);
  CHECK(*full.state.boxes[0].level_m == Approx(30.0).epsilon(1e-12));
  CHECK(full.state.boxes[0].spill_m3s == Approx(5e-3 - full.state.lines[0].flow_m3s).epsilon(1e-12));
  CHECK(full.state.boxes[0].spill_m3s > 1e-3);
  s.boxes[0].yield = Flow::from_si(0.9 * full.state.lines[0].flow_m3s);
  const Told less(s);
  CHECK(less.state.boxes[0].spill_m3s == 0.0);
  CHECK(*less.state.boxes[0].level_m < 30.0);
}
