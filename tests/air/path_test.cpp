#include "runnel/air/path.h"

#include <catch2/catch.hpp>

#include "support/rooms.h"

namespace air = runnel::air;
namespace network = runnel::network;
using runnel::Length;

namespace {

network::Pipeline pipeline(const std::string& name, const std::string& from, const std::string& to, double z0,
                           double z1) {
  network::Pipeline line;
  line.name = name;
  line.from = from;
  line.to = to;
  line.survey = {{Length::metres(0), Length::metres(z0)}, {Length::metres(100), Length::metres(z1)}};
  network::LaidPipe laid;
  laid.pipe.bore = Length::metres(0.03);
  line.pipes.push_back(laid);
  return line;
}

/// An invented system: seep - tee - (tank, tap at the far joint), tank - trough. The branch is drawn from the
/// tap to the tee.
network::Model village() {
  network::Model s;
  network::Box seep;
  seep.name = "seep";
  seep.outlet = Length::metres(100);
  seep.lip = Length::metres(101);
  s.boxes.push_back(seep);
  network::Tank tank;
  tank.name = "tank";
  tank.shape = network::UprightCylinder{Length::metres(2)};
  tank.floor = Length::metres(50);
  tank.inlet = Length::metres(51);
  tank.lip = Length::metres(53);
  tank.level = Length::metres(52);
  s.tanks.push_back(tank);
  for (const auto& [name, height] : {std::pair{"tee", 80.0}, {"far", 60.0}}) {
    network::Joint joint;
    joint.name = name;
    joint.elevation = Length::metres(height);
    s.joints.push_back(joint);
  }
  network::Outlet tap;
  tap.name = "tap";
  tap.on = "far";
  tap.elevation = Length::metres(60);
  tap.opening = Length::metres(0.01);
  network::Outlet trough;
  trough.name = "trough";
  trough.elevation = Length::metres(20);
  s.outlets = {tap, trough};
  s.pipelines = {pipeline("main", "seep", "tee", 100, 80), pipeline("branch", "far", "tee", 60, 80),
                 pipeline("rise", "tee", "tank", 80, 51), pipeline("down", "tank", "trough", 50, 20)};
  return s;
}

const air::Path* find(const std::vector<air::Path>& all, const std::string& from, const std::string& to) {
  for (const auto& p : all)
    if (p.source == from && p.end == to) return &p;
  return nullptr;
}

bool leads(const network::Model& system, const std::string& from, const std::string& to) {
  const auto all = air::paths(system);
  return find(all, from, to) != nullptr;
}

}  // namespace

TEST_CASE("paths lead from each source to where water comes out, and stop at tanks") {
  const auto s = village();
  const auto all = air::paths(s);
  CHECK(all.size() == 3);
  const auto* tap = find(all, "seep", "far");
  REQUIRE(tap);
  CHECK(tap->source_level_m == 101.0);
  REQUIRE(tap->legs.size() == 2);
  CHECK(tap->legs[1].reversed);  // drawn from the tap up
  CHECK(air::profile_of(*tap).points.back().elevation_m == 60.0);
  const auto* tank = find(all, "seep", "tank");
  REQUIRE(tank);
  REQUIRE(tank->end_level_m);
  CHECK(*tank->end_level_m == 52.0);
  CHECK(find(all, "tank", "trough"));
  CHECK_FALSE(find(all, "seep", "trough"));
  CHECK_FALSE(find(all, "tank", "far"));  // up the supply and down again is no way
}

TEST_CASE("shut valves, shut outlets and check valves against the way end a path") {
  auto s = village();
  s.outlets[0].shut = true;
  CHECK_FALSE(leads(s, "seep", "far"));
  s = village();
  network::Part part;
  part.kind = network::PartKind::check_valve;
  part.type = "check_valve";
  s.pipelines[1].parts.push_back(part);  // lets water run from the tap to the tee only
  CHECK_FALSE(leads(s, "seep", "far"));
  CHECK(leads(s, "seep", "tank"));
  s = village();
  part.kind = network::PartKind::valve;
  part.open = 0.0;
  s.pipelines[0].parts.push_back(part);
  CHECK(air::paths(s).size() == 1);
}

TEST_CASE("a tap on a joint ends a path at its own height") {
  auto s = village();
  s.outlets[0].elevation = Length::metres(61.5);
  CHECK_FALSE(leads(s, "seep", "tap"));
  const auto all = air::paths(s);
  const auto* tap = find(all, "seep", "far");
  REQUIRE(tap);
  REQUIRE(tap->end_level_m);
  CHECK(*tap->end_level_m == 61.5);
  auto higher = s.outlets[0];
  higher.name = "upper tap";
  higher.elevation = Length::metres(63);
  s.outlets.push_back(higher);  // the lower one is where the water comes out first
  const auto two = air::paths(s);
  CHECK(*find(two, "seep", "far")->end_level_m == 61.5);
}

TEST_CASE("a line drawn uphill from its source is a path: it will be found blocked") {
  auto s = village();
  network::Outlet hill;
  hill.name = "hill";
  hill.elevation = Length::metres(120);
  s.outlets.push_back(hill);
  s.pipelines.push_back(pipeline("wish", "tee", "hill", 80, 120));
  CHECK(leads(s, "seep", "hill"));
}

TEST_CASE("an inlet that is not under water is no way out of its tank") {
  auto s = village();
  s.outlets.erase(s.outlets.begin() + 1);
  s.pipelines.pop_back();
  s.outlets[0].elevation = s.joints[1].elevation = Length::metres(40);
  s.pipelines[1].survey.front().elevation = Length::metres(40);
  CHECK(leads(s, "tank", "far"));  // drowned at 52 m: it may run back, and down to the tap
  SECTION("its end hangs over the water") { s.tanks[0].level = Length::metres(50.5); }
  SECTION("a float valve shuts it off") {
    s.tanks[0].float_valve = network::FloatValve{Length::metres(52.5), Length::metres(52.0), 2.0};
  }
  CHECK_FALSE(leads(s, "tank", "far"));
  CHECK(leads(s, "seep", "tank"));
}
