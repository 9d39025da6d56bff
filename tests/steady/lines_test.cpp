// Worked lines with full inputs and expected values from an independent slow calculator (bracketing in
// double precision; not from the literature): the project's check set "lines", cases 03 to 06, 08, 10, 12,
// 15, 19a and 20, in the tolerance stated there (1e-6 of a flow or loss). g = 9.80665 m/s2.
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "runnel/steady/assemble.h"
#include "runnel/steady/newton.h"
#include "runnel/steady/state.h"

namespace {

using namespace runnel;
using namespace runnel::network;

constexpr double tolerance = 1e-6;  // stated with the cases

Approx near(double value) { return Approx(value).epsilon(tolerance); }

System site(double viscosity_m2s = 1.139e-6) {
  System s;
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
  t.name = std::move(name);
  t.level = Length::metres(level_m);
  t.inlet = Length::metres(inlet_m);
  t.lip = Length::metres(std::max(level_m, inlet_m) + 1.0);
  return t;
}

steady::State settled(const System& s) {
  steady::State state = steady::solve(s);
  REQUIRE(state.outcome == steady::Outcome::settled);
  CHECK(state.proof.consistent);
  return state;
}

/// One line from a full box to an open end.
System box_line(double yield_m3s, double lip_m, const Profile& profile, const pipes::Pipe& p,
                double entrance = 0.5) {
  System s = site();
  s.boxes = {box(yield_m3s, profile.elevation.front(), lip_m)};
  s.outlets = {outlet("end", profile.elevation.back())};
  s.pipelines = {line("main", "box", "end", profile, p, entrance, 1.0)};
  return s;
}

const Profile forty_points{
    {0,    52,   98,   155,  201,  247,  304,  350,  396,  453,  499,  545,  602,  648,
     705,  751,  797,  854,  900,  946,  1003, 1049, 1095, 1152, 1198, 1255, 1301, 1347,
     1404, 1450, 1496, 1553, 1599, 1645, 1702, 1748, 1805, 1851, 1897, 1954},
    {100,  96.5, 92,   88.4, 86,   84.2, 86.1, 89,   92.3, 94.6, 95.4, 93,   88.5, 83,
     78.2, 74,   71.5, 73,   76.4, 79.8, 82.5, 84,   82,   77.5, 71,   65.8, 62,   58.5,
     57,   58.8, 62,   65.5, 68.2, 69,   66,   60.5, 54,   48.5, 44,   42}};

}  // namespace

TEST_CASE("03: a laminar drip line between two levels") {
  System s = site();
  s.tanks = {tank("upper", 10.8, 9.0), tank("lower", 10.0, 9.0)};
  s.pipelines = {line("drip", "upper", "lower", straight(25.0, 9.0, 9.0), pipe(0.004, 0.0), 0.0, 0.0)};
  CHECK(settled(s).line("drip")->flow_m3s ==
        Approx(1.7311185023396717e-06).epsilon(1e-8));  // Hagen-Poiseuille
}

TEST_CASE("04: box at constant level to a free outlet") {
  const System s =
      box_line(1.0, 412.35, straight(1240.0, 411.0, 371.8), pipe(0.0514, 1.5e-6), 0.5 + 0.9 + 0.3);
  const steady::State state = settled(s);
  CHECK(state.line("main")->flow_m3s == near(0.0026312761067931157));
  CHECK(state.place("end")->flow_m3s == near(0.0026312761067931157));
  CHECK(*state.place("end")->static_head_m == Approx(40.55).epsilon(1e-12));
  CHECK(state.place("box")->spill_m3s == near(1.0 - 0.0026312761067931157));
}

TEST_CASE("05: US units, Hazen-Williams, box to trough") {
  System s = site();
  s.friction = {losses::Law::hazen_williams, 10.6744, 1.852, 4.8704};
  s.tanks = {tank("box", 1250.0 * 0.3048, 1200.0 * 0.3048)};
  s.outlets = {outlet("trough", 1190.0 * 0.3048)};
  s.pipelines = {line("main", "box", "trough", straight(1800.0 * 0.3048, 1240.0 * 0.3048, 1190.0 * 0.3048),
                      pipe(1.38 * 0.0254, 0.0, 140.0), 0.5, 1.0)};
  CHECK(Flow::from_si(settled(s).line("main")->flow_m3s).gallons_per_minute() == near(14.63193651738899));
}

TEST_CASE("06: two pipes in series, Hazen-Williams") {
  System s = site();
  s.friction = {losses::Law::hazen_williams, 10.6744, 1.852, 4.8704};
  s.tanks = {tank("A", 158.4, 150.0), tank("B", 131.9, 131.0)};
  s.joints = {{"J", Length::metres(140.0), {}, {}}};
  s.pipelines = {line("first", "A", "J", straight(600.0, 150.0, 140.0), pipe(0.075, 0, 140.0), 0.5, 0.0),
                 line("second", "J", "B", straight(900.0, 140.0, 131.0), pipe(0.055, 0, 150.0), 0.0, 3.2)};
  const steady::State state = settled(s);
  CHECK(state.line("second")->flow_m3s == near(0.0027747509620850226));
  CHECK(*state.place("J")->grade_m == near(154.62621679716102));
}

TEST_CASE("08: three troughs on one line, the highest dry") {
  System s = site();
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
  CHECK(state.line("p1")->flow_m3s == near(0.0014084041631977767));
  CHECK(state.place("A")->flow_m3s == 0.0);  // above the grade line: never a source
  CHECK(state.place("B")->flow_m3s == near(0.0006778247825437901));
  CHECK(state.place("C")->flow_m3s == near(0.0007305793806539864));
  CHECK(*state.place("J1")->grade_m == near(65.47371574552429));
  CHECK(*state.place("J2")->grade_m == near(50.67499148766779));
  CHECK(*state.place("J3")->grade_m == near(41.67763464749599));
}

TEST_CASE("10: six places, two loops, mixed roughness") {
  System s = site();
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
  CHECK(state.line("p0")->flow_m3s == near(0.003));
  CHECK(state.line("p1")->flow_m3s == near(0.0014348912006607107));
  CHECK(state.line("p2")->flow_m3s == near(0.0005803974712836668));
  CHECK(state.line("p4")->flow_m3s == near(0.00025449372937704396));
  CHECK(state.line("p7")->flow_m3s == near(0.000619602528716333));
  CHECK(*state.place("A")->grade_m == near(97.73897591339833));
  CHECK(*state.place("F")->grade_m == near(91.96144291447935));
}

TEST_CASE("12: a box whose spring gives less, and more, than the pipe carries") {
  const Profile fall = straight(700.0, 229.2, 205.0);
  auto at_yield = [&](double yield) { return settled(box_line(yield, 230.0, fall, pipe(0.0408), 1.7)); };
  SECTION("far less: the top of the line runs part-full and no level is claimed") {
    const steady::State state = at_yield(0.0006);
    CHECK(state.line("main")->flow_m3s == near(0.0006));
    CHECK_FALSE(state.place("box")->level_m);
    CHECK(state.place("box")->top_part_full);
    CHECK(state.place("box")->spill_m3s == 0.0);
    CHECK(*state.line("main")->capacity_m3s == near(0.0014691178006007804));
  }
  SECTION("a little less: the box finds its level") {
    CHECK(*at_yield(0.00145).place("box")->level_m == near(229.42018761485045));
    CHECK(*at_yield(0.001455950638892362).place("box")->level_m == near(229.6));
  }
  SECTION("more: it stands at the lip and spills the rest") {
    const steady::State state = at_yield(0.003);
    CHECK(*state.place("box")->level_m == near(230.0));
    CHECK(state.place("box")->spill_m3s == near(0.0015308821993992197));
    CHECK(at_yield(0.0015).place("box")->spill_m3s == near(3.088219939921966e-05));
  }
}

TEST_CASE("15: forty points, three crests, the first governs") {
  const steady::State state = settled(box_line(0.005, 100.6, forty_points, pipe(0.0514)));
  const steady::LineState& main = *state.line("main");
  CHECK(main.flow_m3s == near(0.0013705888854963842));  // end to end it would seem to be 0.00248
  CHECK(*main.capacity_m3s == near(0.0013705888854963842));
  CHECK(*main.governed_by_station_m == 499.0);
  CHECK(*main.points[9].grade_m == near(95.87555128388135));
  CHECK(*main.points[24].grade_m == near(73.62957675566881));
  using steady::ReachState;
  const std::vector<int> part_full = {10, 21, 22, 33, 34, 35, 36, 37, 38}, mixed = {11, 23};
  for (int i = 0; i < 39; ++i) {
    const bool slack = std::count(part_full.begin(), part_full.end(), i) > 0,
               both = std::count(mixed.begin(), mixed.end(), i) > 0;
    CHECK(main.reaches[static_cast<std::size_t>(i)].state == (slack  ? ReachState::part_full
                                                              : both ? ReachState::mixed
                                                                     : ReachState::full));
  }
  CHECK(*main.reaches[11].refill_station_m == near(600.0710903804398));
  CHECK(*main.reaches[23].refill_station_m == near(1177.906211495601));
  CHECK(main.reaches[10].lost_in_air_m == near(1.9238739013328683));
  CHECK(main.reaches[38].lost_in_air_m == near(1.4104564522570868));
}

TEST_CASE("19a: a crest above the straight grade line, air can enter") {
  const Profile crest{{0, 200, 400, 800}, {50, 44, 47.5, 38}};
  const steady::State state = settled(box_line(0.009, 50.8, crest, pipe(0.0408)));
  const steady::LineState& main = *state.line("main");
  CHECK(main.flow_m3s == near(0.0006440248351300165));
  CHECK(*main.points[0].grade_m == near(50.78144224644907));
  CHECK(*main.points[1].grade_m == near(49.140477725476714));
  CHECK(main.reaches[2].state == steady::ReachState::part_full);
  CHECK(main.reaches[2].lost_in_air_m == near(6.218621770106694));
}

TEST_CASE("20: a crest above the box stops an open line, a primed sealed one runs as a siphon") {
  const Profile crest{{0, 150, 500}, {50, 52.5, 35}};
  System s = box_line(0.009, 50.8, crest, pipe(0.0326));
  CHECK(settled(s).line("main")->flow_m3s == 0.0);
  CHECK(settled(s).line("main")->condition == steady::LineCondition::blocked);
  s.pipelines[0].air = Air::sealed;
  const steady::State state = settled(s);
  CHECK(state.line("main")->flow_m3s == near(0.00075033846170886));
  CHECK(*state.line("main")->points[1].pressure_head_m == near(-6.4795952899624965));
  CHECK(*state.line("main")->points[0].grade_m == near(50.73819767095139));
}
