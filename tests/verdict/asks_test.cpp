// Needs against a state written by hand: what counts where, and where the limit lies.
#include <catch2/catch.hpp>

#include "runnel/verdict/flow_verdict.h"
#include "support/resolved.h"
#include "verdict/sample.h"

namespace network = runnel::network;
namespace steady = runnel::steady;
using runnel::Flow;
using runnel::Length;
using runnel::verdict::AskResult;
using sample::Sample;

namespace {

AskResult judged(const Sample& s) {
  const auto asks = runnel::verdict::judge_asks(support::resolved(s.system), s.state);
  REQUIRE(asks.size() == 1);
  return asks[0];
}

network::Ask pressure_at(const std::string& place, double pascals) {
  network::Ask ask;
  ask.kind = network::AskKind::pressure;
  ask.at = place;
  ask.pressure = runnel::Pressure::pascals(pascals);
  return ask;
}

/// Two lines into a tank and one out of it: 0.8 and 0.3 L/s come, 0.5 L/s leave.
Sample tank_between() {
  Sample s = sample::make();
  s.system.outlets.clear();
  network::Tank tank;
  tank.name = "tank";
  tank.shape = network::UprightCylinder{Length::metres(2.0)};
  tank.floor = Length::metres(-2.0);
  tank.lip = tank.inlet = Length::metres(0.0);
  tank.level = Length::metres(-1.0);
  s.system.tanks = {tank};
  s.system.pipelines[0].to = "tank";
  network::Pipeline second = s.system.pipelines[0];
  second.name = "second";
  network::Pipeline out = second;
  out.name = "out";
  out.from = "tank";
  out.to = "tap";
  out.survey = {{Length::metres(0), Length::metres(-1.5)}, {Length::metres(50), Length::metres(-20)}};
  s.system.pipelines.push_back(second);
  s.system.pipelines.push_back(out);
  network::Outlet tap;
  tap.name = "tap";
  tap.elevation = Length::metres(-20.0);
  s.system.outlets = {tap};
  s.state.outlets[0].name = "tap";
  s.state.outlets[0].flow_m3s = 0.5e-3;
  steady::PlaceState place = sample::place("tank", network::PlaceKind::tank);
  place.inflow_m3s = 0.6e-3;
  s.state.tanks = {place};
  for (const auto& [name, flow_m3s] : {std::pair{"second", 0.3e-3}, std::pair{"out", 0.5e-3}}) {
    steady::LineState line = s.state.lines[0];
    line.name = name;
    line.flow_m3s = flow_m3s;
    s.state.lines.push_back(line);
  }
  return s;
}

}  // namespace

TEST_CASE("a need is met at just what is asked, and by no more than rounding below it") {
  Sample s = sample::make();  // 0.8 L/s
  for (const auto& [asked, met] :
       {std::pair{0.8, true}, std::pair{0.8 * (1.0 + 0.9e-6), true}, std::pair{0.8 * (1.0 + 2e-6), false},
        std::pair{0.79, true}, std::pair{0.81, false}}) {
    s.system.asks = {sample::ask_flow("trough", asked)};
    INFO(asked);
    CHECK(judged(s).judged);
    CHECK(judged(s).met == met);
    CHECK(judged(s).margin_si() == Approx(0.8e-3 - asked * 1e-3).margin(1e-15));
  }
}

TEST_CASE("a pressure is met at just what is asked, and by no more than rounding below it") {
  Sample s = sample::make();
  const double stands_pa = 0.1 * 1000.0 * 9.80665;  // 0.1 m of water 1000 kg/m3 heavy at the trough
  network::Ask ask;
  ask.kind = network::AskKind::pressure;
  ask.at = "trough";
  for (const auto& [share, met] :
       {std::pair{1.0, true}, std::pair{1.0 + 0.9e-6, true}, std::pair{1.0 + 2e-6, false}}) {
    ask.pressure = runnel::Pressure::from_si(stands_pa * share);
    s.system.asks = {ask};
    INFO(share);
    CHECK(judged(s).judged);
    CHECK(judged(s).met == met);
  }
}

TEST_CASE("at a spring counts what leaves it, and what comes back is taken off") {
  Sample s = sample::make();
  s.system.asks = {sample::ask_flow("spring", 0.5)};
  CHECK(judged(s).got->si == Approx(0.8e-3).epsilon(1e-12));
  s.state.lines[0].flow_m3s = -0.2e-3;
  CHECK(judged(s).got->si == 0.0);
  CHECK_FALSE(judged(s).met);
}

TEST_CASE("at a tank counts what arrives by all lines, not what is left") {
  Sample s = tank_between();
  s.system.asks = {sample::ask_flow("tank", 1.05)};
  CHECK(judged(s).got->si == Approx(1.1e-3).epsilon(1e-12));  // 0.8 + 0.3
  CHECK(judged(s).met);
  s.state.lines[2].flow_m3s = -0.1e-3;  // the third brings water as well
  CHECK(judged(s).got->si == Approx(1.2e-3).epsilon(1e-12));
}

TEST_CASE("at a break-pressure box counts what arrives") {
  Sample s = sample::make();
  network::Box box;
  box.name = "trough";
  box.outlet = Length::metres(-1.0);
  box.lip = Length::metres(0.0);
  s.system.outlets.clear();
  s.system.boxes.push_back(box);
  s.state.outlets.clear();
  s.state.boxes.push_back(sample::place("trough", network::PlaceKind::box));
  s.system.asks = {sample::ask_flow("trough", 0.7)};
  CHECK(judged(s).got->si == Approx(0.8e-3).epsilon(1e-12));
}

TEST_CASE("at a joint counts its draw, or what passes if it draws nothing") {
  Sample s = sample::make();
  s.system.outlets.clear();
  s.system.joints = {sample::joint("trough", 0.0)};
  s.state.outlets.clear();
  s.state.joints = {sample::place("trough", network::PlaceKind::joint)};
  s.system.asks = {sample::ask_flow("trough", 0.7)};
  CHECK(judged(s).got->si == Approx(0.8e-3).epsilon(1e-12));
  s.state.joints[0].draw_asked_m3s = 0.5e-3;
  s.state.joints[0].draw_given_m3s = 0.4e-3;
  CHECK(judged(s).got->si == 0.4e-3);
}

TEST_CASE("pressure is read at the place, and where no water stands there is none") {
  Sample s = sample::make();  // 0.1 m at the trough: 980.665 Pa
  for (const auto& [asked, met] : {std::pair{980.6, true}, std::pair{980.7, false}}) {
    s.system.asks = {pressure_at("trough", asked)};
    CHECK(judged(s).met == met);
  }
  s.state.outlets[0].dry = true;
  CHECK_FALSE(judged(s).got);
  CHECK_FALSE(judged(s).met);
}

TEST_CASE("no pressure is judged at a tap that is shut, nor a flow at a float that is") {
  Sample s = sample::make();
  s.system.outlets[0].shut = true;
  s.system.asks = {pressure_at("trough", 100.0)};
  CHECK_FALSE(judged(s).judged);
  Sample t = tank_between();
  t.state.tanks[0].float_shut = true;
  t.system.asks = {sample::ask_flow("tank", 0.1)};
  CHECK_FALSE(judged(t).judged);
  CHECK(judged(t).margin_si() == 0.0);
}
