// Water stands only before something that shuts; and what a pipe sees when a reducing valve fails open.
#include "runnel/verdict/shutting.h"

#include <catch2/catch.hpp>

#include "runnel/steady/state.h"
#include "runnel/units/print.h"
#include "runnel/verdict/flow_verdict.h"
#include "support/rooms.h"
#include "verdict/sample.h"

namespace network = runnel::network;
using runnel::Length;
using runnel::verdict::Shutting;

namespace {

network::Part part(network::PartKind kind, const char* type, const char* name, double at_m) {
  network::Part made;
  made.kind = kind;
  made.type = type;
  made.name = name;
  made.at = Length::metres(at_m);
  return made;
}

bool stands(const network::Model& m, double station_m) {
  const network::System system = support::resolved(m);
  return Shutting(system, runnel::steady::solve(system)).can_stand(0, station_m);
}

/// A trunk to a tee, and from there a branch to an end.
network::Model tee_line() {
  network::Model m = sample::system();
  m.joints = {sample::joint("tee", 0.0)};
  network::Pipeline branch = m.pipelines[0];
  branch.name = "branch";
  branch.from = "tee";
  branch.to = "trough";
  branch.survey = {{Length::metres(0), Length::metres(0)}, {Length::metres(50), Length::metres(-5)}};
  branch.entrance_loss = 0.0;
  m.outlets[0].elevation = Length::metres(-5.0);
  m.pipelines[0].to = "tee";
  m.pipelines[0].exit_loss = 0.0;
  m.pipelines.push_back(branch);
  return m;
}

}  // namespace

TEST_CASE("an open end lets nothing stand, a tap does") {
  network::Model m = sample::system();
  CHECK_FALSE(stands(m, 150.0));
  m.outlets[0].opening = Length::millimetres(12.0);
  CHECK(stands(m, 150.0));
}

TEST_CASE("a valve lets water stand before it only") {
  network::Model m = sample::system();
  m.pipelines[0].parts = {part(network::PartKind::valve, "gate_valve", "V1", 120.0)};
  CHECK(stands(m, 0.0));
  CHECK(stands(m, 120.0));
  CHECK_FALSE(stands(m, 121.0));
}

TEST_CASE("a trunk stands if all that leaves its tee can be shut") {
  network::Model m = tee_line();
  CHECK_FALSE(stands(m, 100.0));
  m.pipelines[1].parts = {part(network::PartKind::valve, "gate_valve", "V1", 10.0)};
  CHECK(stands(m, 100.0));
  network::Outlet second;
  second.name = "second";
  second.elevation = Length::metres(-1.0);
  second.on = "tee";
  second.opening = Length::millimetres(10.0);
  m.outlets.push_back(second);  // a tap screwed to the tee
  CHECK(stands(m, 100.0));
  m.pipelines[1].parts.clear();
  CHECK_FALSE(stands(m, 100.0));
}

TEST_CASE("a tank shuts its line by a float valve alone") {
  network::Model m = sample::system();
  m.outlets.clear();
  network::Tank tank;
  tank.name = "trough";
  tank.shape = network::UprightCylinder{Length::metres(2.0)};
  tank.floor = Length::metres(-2.0);
  tank.lip = Length::metres(-1.0);
  tank.inlet = Length::metres(0.0);
  tank.level = Length::metres(-1.5);
  m.tanks = {tank};
  CHECK_FALSE(stands(m, 150.0));
  m.tanks[0].float_valve = network::FloatValve{Length::metres(-1.2), Length::metres(-1.4), 0.0};
  CHECK(stands(m, 150.0));
}

TEST_CASE("a pipe that only a reducing valve saves is told of") {
  network::Model m = sample::system();
  m.outlets[0].opening = Length::millimetres(12.0);
  network::Part valve = part(network::PartKind::reducing_valve, "reducing_valve", "R1", 100.0);
  valve.set_pressure = runnel::Pressure::bar(1.0);
  valve.loss = 5.0;
  m.pipelines[0].parts = {valve};
  // 30 m of water before the valve are 294 kPa; behind it at most 1 bar and 20 m, 296 kPa; without it 490
  // kPa.
  m.pipelines[0].pipes[0].pipe.rating = runnel::Pressure::pascals(420e3);
  const auto found = [](const network::Model& model, const char* code) {
    const auto v = runnel::verdict::judge_flow(model, runnel::steady::solve(model));
    return std::any_of(v.findings.begin(), v.findings.end(), [&](const auto& f) { return f.code == code; });
  };
  CHECK(found(m, "reducing-valve-fails-open"));
  CHECK_FALSE(found(m, "static-above-rating"));
  m.pipelines[0].pipes[0].pipe.rating = runnel::Pressure::pascals(500e3);
  CHECK_FALSE(found(m, "reducing-valve-fails-open"));
}

TEST_CASE("behind the crest of a primed siphon water stands as high as before it") {
  network::Model m = sample::system();
  m.pipelines[0].air = network::Air::sealed;
  m.outlets[0].opening = Length::millimetres(12.0);
  m.pipelines[0].survey = {{Length::metres(0), Length::metres(49)},
                           {Length::metres(50), Length::metres(52)},
                           {Length::metres(200), Length::metres(0)}};
  const auto state = runnel::steady::solve(m);
  REQUIRE(state.lines[0].points.back().static_head_m);
  CHECK(*state.lines[0].points.back().static_head_m == Approx(50.0).margin(1e-9));
  m.pipelines[0].air = network::Air::open;
  CHECK_FALSE(runnel::steady::solve(m).lines[0].points.back().static_head_m);
}
