// Worked lines 03 to 06, 08, 10, 12, 15, 19a and 20 of tests/data/lines, whose README says how the expected
// figures were computed. g = 9.80665 m/s2.
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "support/resolved.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/newton.h"
#include "runnel/steady/state.h"
#include "support/worked_line.h"

namespace {

using namespace runnel;
using namespace runnel::network;

constexpr double tolerance = 1e-6;  // of a flow or loss; the figures themselves are good to 1e-11

Approx near(double value) { return Approx(value).epsilon(tolerance); }

Model site(double viscosity_m2s = 1.139e-6) {
  Model s;
  s.site.water = {.temperature_c = 15.0,
                  .density_kgm3 = 999.1,
                  .kinematic_viscosity_m2s = viscosity_m2s,
                  .vapour_pressure_pa = 1705.0};
  return s;
}

pipes::Pipe pipe(double bore_m, double roughness_m = 7e-6, double hazen_c = 150.0) {
  pipes::Pipe p;
  p.bore = Length::metres(bore_m);
  p.roughness = Length::metres(roughness_m);
  p.hazen_c = hazen_c;
  return p;
}

struct Profile {
  std::vector<double> station, elevation;
};

/// A straight line of a given pipe length between two elevations.
Profile straight(double length_m, double from_m, double to_m) {
  return {{0.0, std::sqrt(length_m * length_m - (from_m - to_m) * (from_m - to_m))}, {from_m, to_m}};
}

Pipeline line(std::string name, std::string from, std::string to, const Profile& profile,
              const pipes::Pipe& p, double entrance, double exit) {
  Pipeline l;
  l.name = std::move(name);
  l.from = std::move(from);
  l.to = std::move(to);
  l.pipes = {{p, Length::metres(profile.station.front()), {}, {}}};
  for (std::size_t i = 0; i < profile.station.size(); ++i)
    l.survey.push_back({Length::metres(profile.station[i]), Length::metres(profile.elevation[i])});
  l.entrance_loss = entrance;
  l.exit_loss = exit;
  return l;
}

Box box(double yield_m3s, double outlet_m, double lip_m) {
  Box b;
  b.name = "box";
  b.yield = Flow::from_si(yield_m3s);
  b.outlet = Length::metres(outlet_m);
  b.lip = Length::metres(lip_m);
  return b;
}

Outlet outlet(std::string name, double elevation_m, double opening_m = 0.0, double loss = 1.0,
              std::string on = {}) {
  Outlet o;
  o.name = std::move(name);
  o.elevation = Length::metres(elevation_m);
  o.opening = Length::metres(opening_m);
  o.loss = loss;
  o.on = std::move(on);
  return o;
}

Tank tank(std::string name, double level_m, double inlet_m) {
  Tank t;
  t.shape = network::UprightCylinder{Length::metres(1.0)};  // a fixed level: any will do
  t.name = std::move(name);
  t.level = Length::metres(level_m);
  t.inlet = Length::metres(inlet_m);
  t.lip = Length::metres(std::max(level_m, inlet_m) + 1.0);
  return t;
}

steady::State settled(const Model& s) {
  steady::State state = steady::solve(s);
  REQUIRE(state.outcome == steady::Outcome::settled);
  CHECK(state.proof.consistent);
  return state;
}

/// One line from a full box to an open end.
Model box_line(double yield_m3s, double lip_m, const Profile& profile, const pipes::Pipe& p,
                double entrance = 0.5) {
  Model s = site();
  s.boxes = {box(yield_m3s, profile.elevation.front(), lip_m)};
  s.outlets = {outlet("end", profile.elevation.back())};
  s.pipelines = {line("main", "box", "end", profile, p, entrance, 1.0)};
  return s;
}

/// The surveyed points of a worked line.
Profile profile_of(const test::WorkedLine& worked) {
  Profile profile;
  for (const auto& [station, elevation] : worked.points()) {
    profile.station.push_back(station);
    profile.elevation.push_back(elevation);
  }
  return profile;
}

}  // namespace

TEST_CASE("03: a laminar drip line between two levels") {
  const auto worked = test::worked_line("03_laminar_drip_line");
  Model s = site();
  s.tanks = {tank("upper", 10.8, 9.0), tank("lower", 10.0, 9.0)};
  s.pipelines = {line("drip", "upper", "lower", straight(25.0, 9.0, 9.0), pipe(0.004, 0.0), 0.0, 0.0)};
  CHECK(settled(s).line("drip")->flow_m3s == Approx(worked("Q")).epsilon(1e-8));  // Hagen-Poiseuille
}

TEST_CASE("04: box at constant level to a free outlet") {
  const auto worked = test::worked_line("04_box_to_free_outlet_dw");
  const Model s =
      box_line(1.0, 412.35, straight(1240.0, 411.0, 371.8), pipe(0.0514, 1.5e-6), 0.5 + 0.9 + 0.3);
  const steady::State state = settled(s);
  CHECK(state.line("main")->flow_m3s == near(worked("Q")));
  CHECK(state.place("end")->flow_m3s == near(worked("Q")));
  CHECK(*state.place("end")->static_head_m ==
        Approx(worked("static_pressure_head_at_outlet_if_shut")).epsilon(1e-12));
  CHECK(state.place("box")->spill_m3s == near(1.0 - worked("Q")));
}

TEST_CASE("05: US units, Hazen-Williams, box to trough") {
  const auto worked = test::worked_line("05_us_units_box_to_trough_hw");
  Model s = site();
  s.friction = {losses::Law::hazen_williams, 10.6744, 1.852, 4.8704};
  s.tanks = {tank("box", 1250.0 * 0.3048, 1200.0 * 0.3048)};
  s.outlets = {outlet("trough", 1190.0 * 0.3048)};
  s.pipelines = {line("main", "box", "trough", straight(1800.0 * 0.3048, 1240.0 * 0.3048, 1190.0 * 0.3048),
                      pipe(1.38 * 0.0254, 0.0, 140.0), 0.5, 1.0)};
  CHECK(Flow::from_si(settled(s).line("main")->flow_m3s).gallons_per_minute() == near(worked("Q_gpm")));
}

TEST_CASE("06: two pipes in series, Hazen-Williams") {
  const auto worked = test::worked_line("06_two_pipes_in_series_hw");
  Model s = site();
  s.friction = {losses::Law::hazen_williams, 10.6744, 1.852, 4.8704};
  s.tanks = {tank("A", 158.4, 150.0), tank("B", 131.9, 131.0)};
  s.joints = {{"J", Length::metres(140.0), {}, {}}};
  s.pipelines = {line("first", "A", "J", straight(600.0, 150.0, 140.0), pipe(0.075, 0, 140.0), 0.5, 0.0),
                 line("second", "J", "B", straight(900.0, 140.0, 131.0), pipe(0.055, 0, 150.0), 0.0, 3.2)};
  const steady::State state = settled(s);
  CHECK(state.line("second")->flow_m3s == near(worked("Q")));
  CHECK(*state.place("J")->grade_m == near(worked("H_junction")));
}

TEST_CASE("08: three troughs on one line, the highest dry") {
  const auto worked = test::worked_line("08_tree_free_outlets_one_dry_dw");
  Model s = site();
  s.tanks = {tank("BOX", 78.0, 70.0)};
  s.joints = {{"J1", Length::metres(60.0), {}, {}},
              {"J2", Length::metres(49.0), {}, {}},
              {"J3", Length::metres(41.0), {}, {}}};
  s.pipelines = {line("p1", "BOX", "J1", straight(380.0, 70.0, 60.0), pipe(0.0408), 0.5, 0.0),
                 line("p2", "J1", "J2", straight(450.0, 60.0, 49.0), pipe(0.0408), 0.0, 0.0),
                 line("p3", "J2", "J3", straight(300.0, 49.0, 41.0), pipe(0.0326), 0.0, 0.0)};
  s.outlets = {outlet("A", 69.5, 0.02, 2.5, "J1"), outlet("B", 50.5, 0.025, 1.8, "J2"),
               outlet("C", 41.0, 0.025, 6.0, "J3")};
  const steady::State state = settled(s);
  CHECK(state.line("p1")->flow_m3s == near(worked("flows", "p1")));
  CHECK(state.place("A")->flow_m3s == 0.0);  // above the grade line: never a source
  CHECK(state.place("B")->flow_m3s == near(worked("outlet_flows", "TroughB")));
  CHECK(state.place("C")->flow_m3s == near(worked("outlet_flows", "TroughC")));
  CHECK(*state.place("J1")->grade_m == near(worked("heads", "J1")));
  CHECK(*state.place("J2")->grade_m == near(worked("heads", "J2")));
  CHECK(*state.place("J3")->grade_m == near(worked("heads", "J3")));
}

TEST_CASE("10: six places, two loops, mixed roughness") {
  Model s = site();
  s.tanks = {tank("BOX", 101.2, 90.0)};
  const std::vector<std::tuple<const char*, double, double>> joints = {
      {"A", 88.0, 0.0},    {"B", 84.5, 0.0006}, {"C", 80.0, 0.0003},
      {"D", 82.0, 0.0004}, {"E", 79.0, 0.0008}, {"F", 76.5, 0.0009}};
  auto elevation = [&](const std::string& n) {
    for (const auto& [name, z, draw] : joints)
      if (n == name) return z;
    return 90.0;
  };
  for (const auto& [name, z, draw] : joints)
    s.joints.push_back({name, Length::metres(z), Flow::from_si(draw), {}});
  auto add = [&](const char* name, const char* a, const char* b, double length, double bore, double roughness,
                 double k) {
    s.pipelines.push_back(
        line(name, a, b, straight(length, elevation(a), elevation(b)), pipe(bore, roughness), k, 0.0));
  };
  add("p0", "BOX", "A", 650, 0.079, 7e-6, 0.5);
  add("p1", "A", "B", 300, 0.0514, 7e-6, 0.0);
  add("p2", "B", "C", 280, 0.0408, 7e-6, 0.0);
  add("p3", "A", "D", 240, 0.0614, 7e-6, 0.0);
  add("p4", "B", "E", 250, 0.0408, 0.00015, 0.0);
  add("p5", "D", "E", 320, 0.0514, 7e-6, 0.0);
  add("p6", "C", "F", 260, 0.0408, 7e-6, 0.9);
  add("p7", "E", "F", 210, 0.0408, 0.00015, 0.0);
  const steady::State state = settled(s);
  const auto worked = test::worked_line("10_two_loops_dw");
  for (const char* pipeline : {"p0", "p1", "p2", "p3", "p4", "p5", "p6", "p7"})
    CHECK(state.line(pipeline)->flow_m3s == near(worked("flows", pipeline)));
  for (const char* joint : {"A", "B", "C", "D", "E", "F"})
    CHECK(*state.place(joint)->grade_m == near(worked("heads", joint)));
}

TEST_CASE("12: a box whose spring gives less, and more, than the pipe carries") {
  const auto worked = test::worked_line("12_box_supply_against_pipe");
  const auto scenario = [&](int i,
                            const char* figure) {  // of yields 0.6, 1.45, 1.5, 3 and 1.455950638892362 L/s
    return worked.expected.at("scenarios").at(i).at(figure).get<double>();
  };
  const Profile fall = straight(700.0, 229.2, 205.0);
  auto at_yield = [&](double yield) { return settled(box_line(yield, 230.0, fall, pipe(0.0408), 1.7)); };
  SECTION("far less: the top of the line runs part-full and no level is claimed") {
    const steady::State state = at_yield(0.0006);
    CHECK(state.line("main")->flow_m3s == near(0.0006));
    CHECK_FALSE(state.place("box")->level_m);
    CHECK(state.place("box")->top_part_full);
    CHECK(state.place("box")->spill_m3s == 0.0);
    CHECK(*state.line("main")->capacity_m3s == near(worked("capacity")));
  }
  SECTION("a little less: the box finds its level") {
    CHECK(*at_yield(0.00145).place("box")->level_m == near(scenario(1, "box_level")));
    CHECK(*at_yield(0.001455950638892362).place("box")->level_m == near(scenario(4, "box_level")));
  }
  SECTION("more: it stands at the lip and spills the rest") {
    const steady::State state = at_yield(0.003);
    CHECK(*state.place("box")->level_m == near(230.0));
    CHECK(state.place("box")->spill_m3s == near(scenario(3, "overflow")));
    CHECK(at_yield(0.0015).place("box")->spill_m3s == near(scenario(2, "overflow")));
  }
}

TEST_CASE("15: forty points, three crests, the first governs") {
  const auto worked = test::worked_line("15_profile_40pts_pipe_limited");
  const auto& at_full = worked.expected.at("scenarios").at(0);
  const steady::State state = settled(box_line(0.005, 100.6, profile_of(worked), pipe(0.0514)));
  const steady::LineState& main = *state.line("main");
  CHECK(main.flow_m3s == near(worked("capacity")));  // end to end it would seem to be 0.00248
  CHECK(*main.capacity_m3s == near(worked("capacity")));
  CHECK(*main.governed_by_station_m == 499.0);
  for (const std::size_t i : {std::size_t{9}, std::size_t{24}})
    CHECK(*main.points[i].grade_m == near(at_full.at("heads").at(i).get<double>()));
  using steady::ReachState;
  const auto& states = at_full.at("reach_states");
  REQUIRE(main.reaches.size() == states.size());
  for (std::size_t i = 0; i < states.size(); ++i) {
    const auto state_there = states[i].get<std::string>();
    CHECK(main.reaches[i].state == (state_there == "slack"   ? ReachState::part_full
                                    : state_there == "mixed" ? ReachState::mixed
                                                             : ReachState::full));
  }
  CHECK(at_full.at("slack_reaches").size() == 11);
  for (const auto& slack : at_full.at("slack_reaches")) {
    const steady::Reach& reach = main.reaches[slack.at("reach").get<std::size_t>()];
    CHECK(reach.lost_in_air_m == near(slack.at("head_lost_in_air").get<double>()));
    if (reach.state == ReachState::mixed)
      CHECK(*reach.refill_station_m == near(slack.at("to_station").get<double>()));
  }
}

TEST_CASE("19a: a crest above the straight grade line, air can enter") {
  const auto worked = test::worked_line("19a_crest_above_grade_open");
  const auto& at_full = worked.expected.at("scenarios").at(0);
  const steady::State state = settled(box_line(0.009, 50.8, profile_of(worked), pipe(0.0408)));
  const steady::LineState& main = *state.line("main");
  CHECK(main.flow_m3s == near(worked("capacity")));
  CHECK(*main.points[0].grade_m == near(at_full.at("heads").at(0).get<double>()));
  CHECK(*main.points[1].grade_m == near(at_full.at("heads").at(1).get<double>()));
  CHECK(main.reaches[2].state == steady::ReachState::part_full);
  CHECK(main.reaches[2].lost_in_air_m == near(at_full.at("total_head_lost_in_air").get<double>()));
}

TEST_CASE("20: a crest above the box stops an open line, a primed sealed one runs as a siphon") {
  const auto worked = test::worked_line("20_crest_above_box");
  Model s = box_line(0.009, 50.8, profile_of(worked), pipe(0.0326));
  CHECK(settled(s).line("main")->flow_m3s == 0.0);
  CHECK(settled(s).line("main")->condition == steady::LineCondition::blocked);
  s.pipelines[0].air = Air::sealed;
  const steady::State state = settled(s);
  CHECK(state.line("main")->flow_m3s == near(worked("Q_sealed_primed")));
  CHECK(*state.line("main")->points[1].pressure_head_m == near(worked("pressure_head_at_crest_sealed")));
  CHECK(*state.line("main")->points[0].grade_m ==
        near(worked.expected.at("heads_sealed").at(0).get<double>()));
}
