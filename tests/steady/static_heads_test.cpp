// How high the water stands with every tap shut, in systems whose answer a level tells. Expected figures
// follow from statics: a point stands under the highest source level that reaches it through open pipe.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/steady/state.h"
#include "steady/small_systems.h"

using namespace runnel;
using steady::State;

namespace {

constexpr double round_off_m = 1e-9;  // levels are copied, only differences are taken

/// Box with its lip at 101, down to a joint at 80, on to a tap at 60.
network::Model simple(const std::vector<std::pair<double, double>>& first = {{0, 100}, {200, 80}}) {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-4, 100.0, 101.0);
  small::joint(s, "tee", 80.0);
  small::outlet(s, "tap", 60.0, 0.0127, 2.5);
  small::line(s, "upper", "spring", "tee", 0.0332, first);
  small::line(s, "lower", "tee", "tap", 0.0332, {{0, 80}, {300, 60}});
  return s;
}

void stands(const std::optional<double>& head, double expected_m) {
  REQUIRE(head);
  CHECK(*head == Approx(expected_m).margin(round_off_m).epsilon(0));
}

}  // namespace

TEST_CASE("with everything shut the water stands level with the lip of the box") {
  const State state = steady::solve(simple());
  stands(state.place("tee")->static_head_m, 101.0 - 80.0);
  stands(state.place("tap")->static_head_m, 101.0 - 60.0);
  stands(state.line("lower")->points[0].static_head_m, 101.0 - 80.0);
  stands(state.line("lower")->points[1].static_head_m, 101.0 - 60.0);
}

TEST_CASE("a shut valve keeps the water back") {
  network::Model s = simple();
  auto valve = small::part(network::PartKind::valve, "V1", 50.0, 0.2);
  valve.open = 0.0;
  s.pipelines[0].parts.push_back(valve);
  const State state = steady::solve(s);
  stands(state.line("upper")->points[1].static_head_m, 101.0 - 95.0);  // at the valve: 100 - 50 * 20 / 200
  CHECK_FALSE(state.line("upper")->points[2].static_head_m);
  CHECK_FALSE(state.place("tee")->static_head_m);
  CHECK_FALSE(state.place("tap")->static_head_m);
}

TEST_CASE("a check valve lets the level through one way, and holds what stands behind it") {
  network::Model s = simple();
  s.pipelines[0].parts.push_back(small::part(network::PartKind::check_valve, "C1", 50.0, 2.0));
  stands(steady::solve(s).place("tap")->static_head_m, 101.0 - 60.0);
  // A tank that stands higher, beyond the tee: its water comes back as far as the valve and no further.
  small::tank(s, "tank", 110.0, 110.0);
  small::line(s, "from tank", "tank", "tee", 0.0332, {{0, 109}, {100, 80}});
  const State state = steady::solve(s);
  stands(state.place("tap")->static_head_m, 112.0 - 60.0);  // small::tank: its lip is 2 m above its level
  stands(state.line("upper")->points[1].static_head_m, 112.0 - 95.0);
  stands(state.line("upper")->points[0].static_head_m, 101.0 - 100.0);
}

TEST_CASE("behind a reducing valve the water stands no higher than it holds") {
  network::Model s = simple();
  auto valve = small::part(network::PartKind::reducing_valve, "R1", 150.0, 5.0);
  valve.set_pressure = Pressure::pascals(3.0 * s.site.specific_weight_nm3());
  s.pipelines[1].parts.push_back(valve);
  const State state = steady::solve(s);
  stands(state.place("tee")->static_head_m, 101.0 - 80.0);
  stands(state.line("lower")->points[1].static_head_m, 101.0 - 70.0);  // before the valve, at 70
  stands(state.place("tap")->static_head_m, 73.0 - 60.0);              // 3 m above the valve
}

TEST_CASE("a break-pressure box starts a level of its own") {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-4, 100.0, 101.0);
  small::box(s, "break", 0.0, 80.0, 80.5);
  small::outlet(s, "tap", 60.0, 0.0127, 2.5);
  small::line(s, "upper", "spring", "break", 0.0332, {{0, 100}, {200, 80.6}});
  small::line(s, "lower", "break", "tap", 0.0332, {{0, 80}, {300, 60}});
  const State state = steady::solve(s);
  stands(state.line("upper")->points[1].static_head_m, 101.0 - 80.6);
  stands(state.place("tap")->static_head_m, 80.5 - 60.0);
}

/// Q = 3.33 L h^1.5 in feet and seconds [weir-page], over a lip as wide as the box.
double over_weir_m(double flow_m3s, double length_m) {
  return 0.3048 * std::pow(flow_m3s / std::pow(0.3048, 3) / (3.33 * length_m / 0.3048), 2.0 / 3.0);
}

TEST_CASE("with everything shut water stands over an overflow by what lets out all that springs bring") {
  network::Model s = simple();
  s.boxes[0].yield = Flow::from_si(1.5e-3);
  s.boxes[0].overflow = losses::WeirLip{0.2, 0};
  const double head_m = over_weir_m(1.5e-3, 0.2);
  CHECK(head_m == Approx(0.0255).epsilon(0.01));
  const auto tap_m = [&] { return *steady::solve(s).place("tap")->static_head_m - (101.0 - 60.0); };
  CHECK(tap_m() == Approx(head_m).epsilon(1e-9));
  SECTION("no higher than the wall, over which it runs then") {
    s.boxes[0].rim = Length::metres(101.01);
    CHECK(tap_m() == Approx(0.01).epsilon(1e-9));
  }
  SECTION("a break-pressure box has to let out what the line above it brings") {
    small::box(s, "break", 0.0, 50.0, 50.5);
    s.boxes[1].overflow = losses::WeirLip{0.1, 0};
    small::line(s, "on", "tee", "break", 0.0332, {{0, 80}, {200, 50.6}});
    small::outlet(s, "low tap", 30.0, 0.0127, 2.5);
    small::line(s, "down", "break", "low tap", 0.0332, {{0, 50}, {300, 30}});
    CHECK(*steady::solve(s).place("low tap")->static_head_m ==
          Approx(50.5 + over_weir_m(1.5e-3, 0.1) - 30.0).epsilon(1e-9));
  }
  SECTION("a tank that nothing shuts off spills too, one with a float does not") {
    small::tank(s, "tank", 70.0, 69.0);  // its lip at 71 m
    s.tanks[0].overflow = losses::WeirLip{0.1, 0};
    small::line(s, "to tank", "tee", "tank", 0.0332, {{0, 80}, {100, 70}});
    small::outlet(s, "yard", 40.0, 0.0127, 2.5);
    small::line(s, "to yard", "tank", "yard", 0.0332, {{0, 68.5}, {100, 40}});
    CHECK(*steady::solve(s).place("yard")->static_head_m ==
          Approx(71.0 + over_weir_m(1.5e-3, 0.1) - 40.0).epsilon(1e-9));
    s.tanks[0].float_valve = network::FloatValve{Length::metres(70.5), Length::metres(70.0), 6.0};
    CHECK(*steady::solve(s).place("yard")->static_head_m == Approx(70.5 - 40.0).epsilon(1e-9));
  }
}

TEST_CASE("a crest above every level keeps the water back") {
  const State state = steady::solve(simple({{0, 100}, {80, 102}, {200, 80}}));
  CHECK_FALSE(state.place("tee")->static_head_m);
  CHECK_FALSE(state.place("tap")->static_head_m);
  stands(state.line("upper")->points[0].static_head_m, 1.0);
}

TEST_CASE("a tank with a float valve fills to the level where it shuts") {
  network::Model s = small::empty();
  small::tank(s, "tank", 52.0, 50.0);
  s.tanks[0].float_valve = network::FloatValve{Length::metres(51.5), Length::metres(51.0), 6.0};
  small::outlet(s, "tap", 30.0, 0.0127, 2.5);
  small::line(s, "out", "tank", "tap", 0.0266, {{0, 49}, {120, 30}});
  stands(steady::solve(s).place("tap")->static_head_m, 51.5 - 30.0);
}

TEST_CASE("behind a check valve where nothing is drawn the water stands at what came through") {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-4, 100.0, 101.0);
  small::joint(s, "dead end", 90.0);
  auto& line = small::line(s, "line", "spring", "dead end", 0.0332, {{0, 100}, {100, 90}});
  line.parts.push_back(small::part(network::PartKind::check_valve, "C1", 50.0, 2.0));
  const State state = steady::solve(s);
  CHECK(state.proof.consistent);
  CHECK_FALSE(state.place("dead end")->dry);
  stands(state.place("dead end")->pressure_head_m, 101.0 - 90.0);
  CHECK(state.line("line")->condition == steady::LineCondition::still);
}
