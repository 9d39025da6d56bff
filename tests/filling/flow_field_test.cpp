// What runs into every storage at given levels: closed forms, and the steady solver run on the whole at once.
#include "runnel/filling/flow_field.h"

#include <catch2/catch.hpp>

#include "filling/random_filling.h"
#include "filling/systems.h"
#include "runnel/base/constants.h"
#include "runnel/steady/newton.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

constexpr double viscosity_m2s = 1.139e-6;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Two tanks side by side, joined by 25 m of 4 mm pipe at their floors: laminar for decimetres between them.
Model twins() {
  Model s = with_water(viscosity_m2s);
  for (const char* name : {"left", "right"}) {
    s.tanks.push_back(round_tank(name, 10.0, 2.0, 1.0));
    s.tanks.back().inlet = m(10.0);
  }
  s.pipelines.push_back(line("between", "left", "right", 25.0, 10.0, 10.0, 0.004, 0.0, 0.0));
  return s;
}

/// Flow for a metre between them [m2/s], after Hagen and Poiseuille: pi g d^4 / (128 nu L).
double per_metre() {
  return runnel::pi * runnel::gravity_ms2 * std::pow(0.004, 4) / (128.0 * viscosity_m2s * 25.0);
}

/// A spring into a tank whose float valve stands at its end, and a tap out of the tank's floor.
Model floated(double yield_m3s = 2e-4) {
  Model s = spring_and_tank(11.0);
  s.boxes[0].yield = Flow::from_si(yield_m3s);
  s.tanks[0].float_valve = FloatValve{m(11.8), m(11.5), 2.0};
  return s;
}

}  // namespace

TEST_CASE("between two tanks runs what their difference drives, either way") {
  const auto system = support::resolved(twins());
  FlowField field(system);
  REQUIRE(field.storages() == 2);
  Instant now;
  const double area_m2 = runnel::pi * 0.004 * 0.004 / 4.0;
  for (const double apart_m : {0.2, -0.2, 0.05, 0.0}) {
    REQUIRE(field.evaluate({11.0 + apart_m, 11.0}, now));
    double expected = per_metre() * apart_m;
    // The way back is not said to be without loss: half a velocity head at its mouth, a whole one at its end.
    for (int i = 0; apart_m < 0.0 && i < 50; ++i)
      expected =
          per_metre() * (apart_m + 1.5 * std::pow(expected / area_m2, 2) / (2.0 * runnel::gravity_ms2));
    CHECK(now.net_m3s[0] ==
          Approx(-expected).epsilon(1e-7).margin(1e-18));  // smoothed below Re 0.1, at Re some 100
    CHECK(now.net_m3s[1] == -now.net_m3s[0]);
    CHECK(now.head_m[at(field.node(0))] == 11.0 + apart_m);
    CHECK(now.law[0].kind == (apart_m > 0.0   ? Law::Kind::forward
                              : apart_m < 0.0 ? Law::Kind::backward
                                              : Law::Kind::still));
  }
}

TEST_CASE("slopes are the conductance between two tanks, and are kept until they are asked for afresh") {
  const auto system = support::resolved(twins());
  FlowField field(system);
  Eigen::MatrixXd slopes;
  CHECK(field.slopes({11.2, 11.0}, false, slopes));  // the first are of these levels, whoever asks
  const double g = per_metre();
  for (const auto& [row, column] : {std::pair{0, 0}, {0, 1}, {1, 0}, {1, 1}})
    CHECK(slopes(row, column) == Approx(row == column ? -g : g).epsilon(1e-8));
  CHECK_FALSE(field.slopes({11.9, 11.0}, false, slopes));
  CHECK(field.slopes({11.9, 11.0}, true, slopes));
  field.forget_slopes();
  CHECK(field.slopes({11.9, 11.0}, false, slopes));
}

TEST_CASE("storages are the tanks and then the boxes that have a plan") {
  Model s = spring_and_tank(11.0);
  Box cistern = spring("cistern", 1e-4, 40.0, 41.0);
  cistern.plan_length = cistern.plan_width = m(0.8);
  cistern.floor = m(39.9);
  s.boxes.push_back(cistern);
  s.pipelines.push_back(line("from cistern", "cistern", "tank", 100.0, 40.0, 12.0, 0.026));
  const auto system = support::resolved(s);
  FlowField field(system);
  REQUIRE(field.storages() == 2);
  CHECK(field.node(0) == field.assembly().nodes_of(runnel::network::PlaceKind::tank)[0]);
  CHECK(field.node(1) == field.assembly().nodes_of(runnel::network::PlaceKind::box)[1]);
  Instant now;
  REQUIRE(field.evaluate({11.0, 40.5}, now));
  const double out = now.flow_m3s[at(field.assembly().line_link[1])];
  CHECK(out > 1e-4);
  CHECK(now.net_m3s[1] == Approx(1e-4 - out).epsilon(1e-12));  // its spring less what its line takes
  CHECK(now.net_m3s[0] == Approx(2e-4 + out).epsilon(1e-9));   // the other box holds nothing back
  CHECK(field.through_m3s(1, now) == Approx(1e-4 + out).epsilon(1e-12));
  CHECK(field.scale_m3s() == Approx(std::max(2e-4, out)).epsilon(1e-9));
  // A film over its mouth gives all that its own spring brings.
  field.set_follows(1, true, 40.0);
  REQUIRE(field.evaluate({11.0, 40.0}, now));
  CHECK(now.flow_m3s[at(field.assembly().line_link[1])] == Approx(1e-4).epsilon(1e-9));
}

TEST_CASE("parts between storages are solved as the whole is at once, on random systems") {
  std::mt19937 random(5);
  const auto share = [&] { return static_cast<double>(random()) / 4294967296.0; };
  for (unsigned seed = 1; seed <= 60; ++seed) {
    const auto system = support::resolved(RandomFilling(seed).make());
    FlowField field(system);
    steady::Kernel whole = field.assembly().kernel;
    for (std::size_t i = 0; i < field.storages(); ++i) whole.nodes[at(field.node(i))].fixed = true;
    std::vector<double> level_m(field.storages());
    for (int round = 0; round < 4; ++round) {
      std::size_t i = 0;
      for (const Tank& tank : system.tanks())
        level_m[i++] = tank.floor.metres() + (tank.lip - tank.floor).metres() * (0.1 + 0.8 * share());
      for (const Box& box : system.boxes())
        if (box.plan_length.metres() > 0.0)
          level_m[i++] = box.outlet.metres() + (box.lip - box.outlet).metres() * share();
      REQUIRE(i == field.storages());
      for (std::size_t k = 0; k < i; ++k) whole.nodes[at(field.node(k))].head_m = level_m[k];
      Instant now;
      REQUIRE(field.evaluate(level_m, now));
      const steady::KernelState once = steady::solve(whole);
      REQUIRE(once.outcome == steady::Outcome::settled);
      CAPTURE(seed, round);
      double brought = 0.0;
      for (std::size_t k = 0; k < whole.links.size(); ++k)
        CHECK(now.flow_m3s[k] ==
              Approx(once.flow_m3s[k]).margin(1e-8 * field.scale_m3s()));  // 1e-10 of all, added up
      for (std::size_t k = 0; k < i; ++k) {
        brought = whole.nodes[at(field.node(k))].inflow_m3s;
        for (const steady::Link& link : whole.links) {
          const double q = now.flow_m3s[static_cast<std::size_t>(&link - whole.links.data())];
          if (link.a == field.node(k)) brought -= q;
          if (link.b == field.node(k)) brought += q;
        }
        CHECK(now.net_m3s[k] == Approx(brought).margin(1e-15));
      }
    }
  }
}

TEST_CASE("a float valve lets through all, nothing, or just what is needed") {
  const auto system = support::resolved(floated());
  FlowField field(system);
  REQUIRE(field.floats() == 1);
  Instant now;
  CHECK(field.valve(0) == Valve::open);
  REQUIRE(field.evaluate({11.0}, now));
  CHECK(now.net_m3s[0] == Approx(2e-4).epsilon(1e-9));
  field.set_valve(0, Valve::shut);
  REQUIRE(field.evaluate({11.0}, now));
  CHECK(now.net_m3s[0] == 0.0);
  CHECK_FALSE(field.held(0));
  field.set_valve(0, Valve::held);
  CHECK(field.held(0));
  for (const double need : {5e-5, 1.5e-4, 1e-5}) {  // up and down again
    field.set_need(0, need);
    REQUIRE(field.evaluate({11.0}, now));
    CHECK(now.net_m3s[0] == Approx(need).epsilon(1e-10));
    CHECK(field.passes_m3s(0, now) == Approx(need).epsilon(1e-10));
    CHECK(now.holding[0] == Holding::holds);
    CHECK(now.law[at(field.assembly().line_link[0])].kind == Law::Kind::held);
  }
  field.set_need(0, 3e-4);
  REQUIRE(field.evaluate({11.0}, now));
  CHECK(now.holding[0] == Holding::too_little);  // the spring gives no more
  CHECK(now.net_m3s[0] == Approx(2e-4).epsilon(1e-9));
}

TEST_CASE("a held valve has too much where other lines bring more than is needed") {
  Model s = floated();
  s.boxes.push_back(spring("other", 1e-4, 29.0, 30.0));
  s.pipelines.push_back(line("free", "other", "tank", 100.0, 29.0, 12.0, 0.026));
  s.pipelines[0].float_valve = s.tanks[0].float_valve;  // of the first line alone
  s.tanks[0].float_valve.reset();
  const auto system = support::resolved(s);
  FlowField field(system);
  field.set_valve(0, Valve::held);
  Instant now;
  field.set_need(0, 1.6e-4);
  REQUIRE(field.evaluate({11.0}, now));
  CHECK(now.holding[0] == Holding::holds);
  CHECK(field.passes_m3s(0, now) == Approx(0.6e-4).epsilon(1e-9));
  field.set_need(0, 0.4e-4);
  REQUIRE(field.evaluate({11.0}, now));
  CHECK(now.holding[0] == Holding::too_much);
  CHECK(field.passes_m3s(0, now) == Approx(0.0).margin(1e-15));
  CHECK(now.net_m3s[0] == Approx(1e-4).epsilon(1e-9));
}

TEST_CASE("draws of joints and taps are what they are set to, as far as the water comes") {
  Model s = with_water();
  s.tanks.push_back(round_tank("tank", 20.0, 2.0, 2.0));
  s.joints.push_back(joint_at("tee", 10.0));
  s.outlets.push_back(open_tap("tap", 5.0, 0.01, 2.5));
  s.pipelines.push_back(line("down", "tank", "tee", 100.0, 20.0, 10.0, 0.04, 0.5, 0.0));
  s.pipelines.push_back(line("out", "tee", "tap", 50.0, 10.0, 5.0, 0.04, 0.0, 0.0));
  const auto system = support::resolved(s);
  FlowField field(system);
  Instant now;
  REQUIRE(field.evaluate({21.0}, now));
  const double open = -now.net_m3s[0];
  CHECK(open > 1e-4);
  field.set_outlet_most(0, 0.5 * open);
  field.set_joint_draw(0, 2e-4);
  REQUIRE(field.evaluate({21.0}, now));
  CHECK(now.net_m3s[0] == Approx(-0.5 * open - 2e-4).epsilon(1e-9));
  field.set_outlet_most(0, 0.0);
  REQUIRE(field.evaluate({21.0}, now));
  CHECK(now.net_m3s[0] == Approx(-2e-4).epsilon(1e-9));
  field.set_joint_draw(0, 1.0);  // more than any pipe here carries: the tee's head sinks to the tee
  REQUIRE(field.evaluate({21.0}, now));
  const int node = field.assembly().nodes_of(runnel::network::PlaceKind::joint)[0];
  CHECK(now.hold[at(node)] == steady::Hold::draw_short);
  CHECK(now.head_m[at(node)] == Approx(10.0).epsilon(1e-12));
  CHECK(now.surplus_m3s[at(node)] == Approx(-now.net_m3s[0]).epsilon(1e-9));
  field.set_joint_draw(0, 0.0);
  field.set_outlet_most(0, steady::unbounded);
  REQUIRE(field.evaluate({21.0}, now));
  CHECK(now.net_m3s[0] == Approx(-open).epsilon(1e-9));
}

TEST_CASE("a film over a mouth gives what it gets, its draw first") {
  Model s = spring_and_tank(10.0);
  Outlet end;
  end.name = "end";
  end.elevation = m(4.0);
  end.opening = m(0.02);
  end.loss = 1.0;
  s.outlets.push_back(end);
  s.pipelines.push_back(line("out", "tank", "end", 30.0, 10.0, 4.0, 0.04));
  const auto system = support::resolved(s);
  FlowField field(system);
  const auto out = [&](const Instant& now) { return now.flow_m3s[at(field.assembly().line_link[1])]; };
  Instant now;
  REQUIRE(field.evaluate({10.5}, now));
  CHECK(out(now) > 5e-4);  // half a metre of water drives far more than the spring brings
  field.set_follows(0, true, 10.0);
  CHECK(field.follows(0));
  CHECK(field.mouth_m(0) == 10.0);
  REQUIRE(field.evaluate({10.0}, now));
  CHECK(out(now) == Approx(2e-4).epsilon(1e-9));
  CHECK(now.head_m[at(field.node(0))] > 10.0);  // found with the flows
  field.set_need(0, 0.5e-4);
  REQUIRE(field.evaluate({10.0}, now));
  CHECK(out(now) == Approx(1.5e-4).epsilon(1e-9));
  field.set_need(0, 5e-4);
  REQUIRE(field.evaluate({10.0}, now));
  CHECK(out(now) == Approx(0.0).margin(1e-12));
  CHECK(now.hold[at(field.node(0))] == steady::Hold::draw_short);
  field.set_follows(0, false);
  field.set_need(0, 0.0);
  REQUIRE(field.evaluate({10.5}, now));
  CHECK(out(now) > 5e-4);
}

TEST_CASE("no storage, and nothing to be solved for") {
  const auto system = support::resolved(spring_to_an_end());
  FlowField field(system);
  CHECK(field.storages() == 0);
  Instant now;
  REQUIRE(field.evaluate({}, now));
  CHECK(now.net_m3s.empty());
  CHECK(now.flow_m3s[0] == Approx(1e-4).epsilon(1e-9));
}
