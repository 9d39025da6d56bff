// A valve that snaps shut: which pipes its wave runs through, and what they stand. Water of 1000 kg/m3 and
// 2.09e9 Pa in PE of 0.9e9 Pa, bore 50 mm, wall 5 mm: a = 293.7 m/s lying free, 327.2 m/s held throughout
// (Poisson's ratio 0.45), by the formula tested against published tables in tests/pipes/surge_test.cpp.
#include <catch2/catch.hpp>

#include "runnel/input/read_model.h"
#include "runnel/steady/state.h"
#include "runnel/units/print.h"
#include "runnel/verdict/flow_verdict.h"
#include "support/rooms.h"
#include "verdict/sample.h"

using runnel::Finding;
using runnel::Flow;
using runnel::Length;
using runnel::Pressure;
using runnel::verdict::FlowVerdict;
using runnel::verdict::judge_flow;
using sample::Sample;
namespace network = runnel::network;
namespace steady = runnel::steady;

namespace {

std::vector<Finding> all_of(const FlowVerdict& v, const std::string& code) {
  std::vector<Finding> all;
  for (const Finding& f : v.findings)
    if (f.code == code) all.push_back(f);
  return all;
}

bool says(const FlowVerdict& v, const std::string& code) { return !all_of(v, code).empty(); }

std::string message(const Finding& f) {
  return runnel::units::render(f.message, f.figures, runnel::units::UnitSystem::si);
}

void of_pe(runnel::pipes::Pipe& pipe, double rating_pa) {
  pipe.material = "PE100";
  pipe.wall = Length::millimetres(5);
  pipe.modulus_pa = 0.9e9;
  pipe.rating = Pressure::pascals(rating_pa);
}

// Water as fast as `share` times the sample's 0.40744 m/s.
void run_at(Sample& s, double share) {
  s.state.lines[0].flow_m3s *= share;
  s.state.outlets[0].flow_m3s *= share;
  for (auto& reach : s.state.lines[0].reaches) reach.velocity_ms *= share;
}

Sample tap_on_pe(double rating_pa, double share) {
  Sample s = sample::make();
  s.system.outlets[0].opening = Length::millimetres(15);
  of_pe(s.system.pipelines[0].pipes[0].pipe, rating_pa);
  run_at(s, share);
  return s;
}

network::Pipeline line_between(const network::Pipeline& like, const std::string& name,
                               const std::string& from, const std::string& to, double top_m, double end_m) {
  network::Pipeline line = like;
  line.name = name;
  line.from = from;
  line.to = to;
  line.survey = {{Length::metres(0), Length::metres(top_m)}, {Length::metres(200), Length::metres(end_m)}};
  return line;
}

// Spring, main of pipe, tee at 10 m; from there a line of pipe to the open trough at 0 m.
network::Model with_tee(double main_rating_pa) {
  network::Model m = sample::system();
  m.boxes[0].yield = Flow::litres_per_second(20.0);
  m.joints.push_back(sample::joint("tee", 10.0));
  const network::Pipeline like = m.pipelines[0];
  m.boxes[0].outlet = Length::metres(40.0);  // so deep that its mouth holds nothing back
  m.pipelines = {line_between(like, "main", "spring", "tee", 40, 10),
                 line_between(like, "tail", "tee", "trough", 10, 0)};
  m.pipelines[0].exit_loss = 0.0;
  m.pipelines[1].entrance_loss = 0.0;
  of_pe(m.pipelines[0].pipes[0].pipe, main_rating_pa);
  of_pe(m.pipelines[1].pipes[0].pipe, 10e6);
  return m;
}

}  // namespace

TEST_CASE("a tap on PE is held against one and a half times the rating, held pipe being the worse") {
  // 3 * 133.32 kPa of wave on 490.33 kPa standing: 890.3 kPa; 1.5 times 593 kPa is 889.5, 594 gives 891.
  const Sample over = tap_on_pe(593e3, 3.0), under = tap_on_pe(594e3, 3.0);
  const auto found = all_of(judge_flow(over.system, over.state), "surge-above-rating");
  REQUIRE(found.size() == 1);
  CHECK(found[0].figure->si == Approx(890.3e3).epsilon(1e-4));
  CHECK(found[0].limit->si == Approx(889.5e3).epsilon(1e-9));
  // The free pipe feels 3 * 119.68 kPa.
  CHECK(found[0].figures.back().si > 0.0);
  CHECK_THAT(message(found[0]), Catch::Contains("if it lies free"));
  bool free_told = false;
  for (const auto& figure : found[0].figures) free_told |= std::abs(figure.si - 359.03e3) < 50.0;
  CHECK(free_told);
  CHECK_THAT(found[0].source, Catch::Contains("[awwa-pe], from memory"));
  CHECK_FALSE(says(judge_flow(under.system, under.state), "surge-above-rating"));
}

TEST_CASE("PVC is held against its rating alone") {
  // 3e9 Pa, Poisson's ratio 0.38: a = 548.0 m/s held, 223.3 kPa of wave; with 490.3 standing 713.6 kPa.
  for (const double rating_pa : {713e3, 714.5e3}) {
    Sample s = tap_on_pe(rating_pa, 1.0);
    auto& pipe = s.system.pipelines[0].pipes[0].pipe;
    pipe.material = "PVC";
    pipe.modulus_pa = 3e9;
    CHECK(says(judge_flow(s.system, s.state), "surge-above-rating") == (rating_pa < 713.6e3));
  }
}

TEST_CASE("a line whose mouth governs leaves part-full, and is struck where it runs full again") {
  network::Model m = sample::system();
  m.boxes[0].yield = Flow::litres_per_second(20.0);
  m.boxes[0].outlet = Length::metres(49.95);
  m.pipelines[0].survey.front().elevation = Length::metres(49.95);
  m.outlets[0].opening = Length::millimetres(15);
  m.pipelines[0].exit_loss = 0.0;
  auto& pipe = m.pipelines[0].pipes[0].pipe;
  of_pe(pipe, 600e3);
  pipe.material = "PVC";
  pipe.modulus_pa = 3e9;
  const steady::State state = steady::solve(m);
  const steady::LineState& main = state.lines[0];
  REQUIRE(main.mouth_needs_m);
  REQUIRE(main.reaches.back().state == steady::ReachState::mixed);
  const auto found = all_of(judge_flow(m, state), "surge-above-rating");
  REQUIRE(found.size() == 1);
  // 490.33 kPa stand at the tap, and 548.0 m/s times the velocity that the tap stops come on top.
  const double velocity_ms = main.flow_m3s / (0.25 * 3.14159265358979 * 0.05 * 0.05);
  CHECK(found[0].figure->si == Approx(490.33e3 + 1000.0 * 548.0 * velocity_ms).epsilon(1e-3));
  CHECK(found[0].where.station_m >= *main.reaches.back().refill_station_m);
}

TEST_CASE("what cannot shut makes no surge") {
  Sample s = tap_on_pe(593e3, 3.0);
  s.system.outlets[0].opening = Length{};
  CHECK_FALSE(says(judge_flow(s.system, s.state), "surge-above-rating"));
}

TEST_CASE("a valve in a line is held against twice the rating of PE, and only before it") {
  // At 100 m 30 m stand: 294.2 kPa, and 9 * 133.32 kPa of wave: 1494.1 kPa. Behind the valve 50 m stand.
  for (const double rating_pa : {746e3, 748e3}) {
    Sample s = tap_on_pe(rating_pa, 9.0);
    s.system.outlets[0].opening = Length{};
    network::Part valve;
    valve.kind = network::PartKind::valve;
    valve.type = "gate_valve";
    valve.name = "V1";
    valve.at = Length::metres(100);
    s.system.pipelines[0].parts.push_back(valve);
    const auto found = all_of(judge_flow(s.system, s.state), "surge-above-rating");
    REQUIRE(found.size() == (rating_pa < 747.05e3 ? 1 : 0));
    if (found.empty()) continue;
    CHECK_THAT(message(found[0]), Catch::StartsWith("If V1 on main snaps shut"));
    CHECK(*found[0].where.station_m == Approx(100.0));
  }
}

TEST_CASE("every pipe on the way is judged, not the last alone") {
  Sample s = tap_on_pe(10e6, 3.0);
  auto& pipes = s.system.pipelines[0].pipes;
  pipes.push_back(pipes[0]);
  pipes[1].from = Length::metres(100);
  s.state.lines[0].reaches[1].pipe = 1;
  CHECK_FALSE(says(judge_flow(s.system, s.state), "surge-above-rating"));
  // 30 m stand at the end of the first pipe: 294.2 + 400.0 = 694.2 kPa, 1.5 times 462.8 kPa.
  pipes[0].pipe.rating = Pressure::pascals(462e3);
  CHECK(says(judge_flow(s.system, s.state), "surge-above-rating"));
  pipes[0].pipe.rating = Pressure::pascals(464e3);
  CHECK_FALSE(says(judge_flow(s.system, s.state), "surge-above-rating"));
  SECTION("but none beyond a free surface") {
    pipes[0].pipe.rating = Pressure::pascals(462e3);
    s.state.lines[0].reaches[0].state = steady::ReachState::part_full;
    CHECK_FALSE(says(judge_flow(s.system, s.state), "surge-above-rating"));
  }
  SECTION("a narrow pipe before a wide one feels no less than the stop of its own flow") {
    pipes[0].pipe.rating = Pressure::pascals(464e3);
    pipes[0].pipe.bore = Length::millimetres(45);
    CHECK(says(judge_flow(s.system, s.state), "surge-above-rating"));
  }
}

TEST_CASE("a tap that hangs on a joint strikes the main") {
  network::Model m = with_tee(400e3);
  network::Outlet tap;
  tap.name = "tap";
  tap.elevation = Length::metres(10.0);
  tap.opening = Length::millimetres(40);
  tap.on = "tee";
  SECTION("no tap, no finding") { CHECK_FALSE(says(judge_flow(m, steady::solve(m)), "surge-above-rating")); }
  SECTION("a tap") {
    m.outlets.push_back(tap);
    const steady::State state = steady::solve(m);
    REQUIRE(state.outcome == steady::Outcome::settled);
    const double flow_m3s = state.place("tap")->flow_m3s;
    // 327.22 m/s times what the tap takes from the main, on 40 m standing (392.3 kPa), against 600 kPa.
    const double wave_pa = 1000.0 * 327.22 * flow_m3s / 1.9634954e-3;
    REQUIRE(wave_pa > 210e3);
    const auto found = all_of(judge_flow(m, state), "surge-above-rating");
    REQUIRE(found.size() == 1);
    CHECK(found[0].where.pipeline == "main");
    CHECK(found[0].figure->si == Approx(392.27e3 + wave_pa).epsilon(1e-4));
    CHECK_THAT(message(found[0]), Catch::StartsWith("If tap snaps shut, main feels"));
    // The main drawn against the flow is the same main.
    std::swap(m.pipelines[0].from, m.pipelines[0].to);
    std::swap(m.pipelines[0].survey[0].elevation, m.pipelines[0].survey[1].elevation);
    std::swap(m.pipelines[0].entrance_loss, m.pipelines[0].exit_loss);
    const auto turned = all_of(judge_flow(m, steady::solve(m)), "surge-above-rating");
    REQUIRE(turned.size() == 1);
    CHECK(*turned[0].where.station_m == Approx(0.0).margin(1e-9));
    CHECK(turned[0].figure->si == Approx(found[0].figure->si).epsilon(1e-3));  // entrance paid otherwise
  }
}

TEST_CASE("a joint that stands higher than all its lines is a high point") {
  network::Model m = with_tee(10e6);
  m.joints[0].elevation = Length::metres(45.0);
  m.boxes[0].outlet = Length::metres(49.0);
  m.pipelines[0].survey = {{Length::metres(0), Length::metres(49)},
                           {Length::metres(100), Length::metres(30)},
                           {Length::metres(200), Length::metres(45)}};
  m.pipelines[1].survey[0].elevation = Length::metres(45.0);
  CHECK_FALSE(says(judge_flow(m, steady::solve(m)), "surge-parts-column"));
  m.outlets[0].opening = Length::millimetres(8);  // so little that the tail runs full
  const auto found = all_of(judge_flow(m, steady::solve(m)), "surge-parts-column");
  REQUIRE(found.size() == 1);
  CHECK(*found[0].where.station_m == Approx(found[0].where.pipeline == "main" ? 200.0 : 0.0).margin(1e-9));
}

TEST_CASE("a float valve strikes all lines before it, told once") {
  network::Model m = with_tee(400e3);
  network::Tank tank;
  tank.name = "tank";
  tank.shape = network::UprightCylinder{Length::metres(2.0)};
  tank.floor = Length::metres(0.0);
  tank.lip = tank.inlet = Length::metres(2.0);
  tank.level = Length::metres(0.5);
  m.outlets.clear();
  m.pipelines[1].to = "tank";
  m.pipelines[1].survey.back().elevation = Length::metres(2.0);
  m.pipelines[1].pipes[0].pipe.rating = Pressure::pascals(500e3);
  m.tanks = {tank};
  const auto found_with = [&] {
    const steady::State state = steady::solve(m);
    REQUIRE(state.outcome == steady::Outcome::settled);
    return all_of(judge_flow(m, state), "surge-above-rating");
  };
  CHECK(found_with().empty());
  m.tanks[0].float_valve = network::FloatValve{Length::metres(1.9), Length::metres(1.5), 5.0};
  const auto found = found_with();
  REQUIRE(found.size() == 1);
  CHECK_THAT(message(found[0]),
             Catch::Contains("the float valve of tank") && Catch::Contains("The same is true of"));
}

TEST_CASE("a high point where the wave swings too low is told, unless it has an air valve") {
  const auto at_crest = [](double share, double air_pressure_pa) {
    Sample s = tap_on_pe(10e6, share);
    s.system.site.air_pressure_pa = air_pressure_pa;
    s.system.pipelines[0].survey[1].elevation = Length::metres(49.5);
    s.state.lines[0].points[1] = {100, 49.5, 49.8, 0.3, 0.5};
    return s;
  };
  // 33.367 s times 0.40744 m/s swings 13.595 m about the 0.5 m that stand: -7 m at 0.5517 of that speed.
  const Sample above = at_crest(0.551, 101325.0), below = at_crest(0.553, 101325.0);
  CHECK_FALSE(says(judge_flow(above.system, above.state), "surge-parts-column"));
  const auto found = all_of(judge_flow(below.system, below.state), "surge-parts-column");
  REQUIRE(found.size() == 1);
  CHECK(*found[0].where.station_m == 100.0);
  CHECK(found[0].figure->si == Approx(0.5 - 0.553 * 13.595).epsilon(1e-3));
  SECTION("under thinner air it is told sooner") {
    const Sample high = at_crest(0.551, 80000.0);
    CHECK(says(judge_flow(high.system, high.state), "surge-parts-column"));
  }
  SECTION("an air valve lets air in") {
    Sample s = at_crest(0.553, 101325.0);
    network::Part valve;
    valve.kind = network::PartKind::air_valve;
    valve.type = "air_valve";
    valve.name = "A1";
    valve.at = Length::metres(100);
    s.system.pipelines[0].parts.push_back(valve);
    CHECK_FALSE(says(judge_flow(s.system, s.state), "surge-parts-column"));
  }
}

TEST_CASE("a pipe of which too little is known is not passed over") {
  Sample s = tap_on_pe(0.0, 1.0);
  s.system.pipelines[0].pipes[0].pipe.wall = Length{};
  const auto found = all_of(judge_flow(s.system, s.state), "surge-not-judged");
  REQUIRE(found.size() == 1);
  CHECK_THAT(message(found[0]), Catch::Contains("wall, rating of hand pipe on main"));
  SECTION("nothing is missing") {
    of_pe(s.system.pipelines[0].pipes[0].pipe, 10e6);
    CHECK_FALSE(says(judge_flow(s.system, s.state), "surge-not-judged"));
  }
  SECTION("the material tells the modulus") {
    of_pe(s.system.pipelines[0].pipes[0].pipe, 10e6);
    s.system.pipelines[0].pipes[0].pipe.modulus_pa = 0.0;
    CHECK_FALSE(says(judge_flow(s.system, s.state), "surge-not-judged"));
  }
  SECTION("nothing can shut") {
    s.system.outlets[0].opening = Length{};
    CHECK_FALSE(says(judge_flow(s.system, s.state), "surge-not-judged"));
  }
}

TEST_CASE("behind a valve the wave returns from the far end of what it runs through") {
  const auto model = runnel::input::read_model(
      "runnel: 1\n"
      "boxes:\n  spring: {yield: 0.3 L/s, outlet: 50 m, lip: 50.5 m}\n"
      "outlets:\n  tap: {elevation: 10 m}\n"
      "pipelines:\n"
      "  line:\n    from: spring\n    to: tap\n    pipe: PE100 SDR11 32 mm\n"
      "    survey: {unit: m, points: [[0, 50], [200, 30], [400, 49], [800, 10]]}\n"
      "    parts: [{ball_valve: V1, at: 1 m}]\n",
      "wave.yaml");
  REQUIRE(model);
  const auto system = network::resolve(*model.value);
  REQUIRE(system);
  const auto found = all_of(judge_flow(*system.value, steady::solve(*system.value)), "surge-parts-column");
  REQUIRE(found.size() == 1);
  // Of 0.4 km of full pipe there and back at less than 500 m/s, which PE does not reach.
  CHECK(found[0].figures.back().kind == runnel::Kind::duration);
  CHECK(found[0].figures.back().si > 2.0 * 400.0 / 500.0);
}
