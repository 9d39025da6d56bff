// Each remedy is built again here, by hand and without air/changed.h, and solved: it must reach the figure
// claimed, and a little less must not.
#include "runnel/air/tried_remedies.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "air/air_systems.h"
#include "runnel/air/line_air.h"
#include "runnel/air/remedy.h"
#include "runnel/base/constants.h"
#include "runnel/pipes/catalogue.h"
#include "support/rooms.h"

namespace air = runnel::air;
namespace steady = runnel::steady;
namespace test = runnel::test;
using runnel::Length;
using runnel::network::Model;

namespace {

/// `over_a_crest` with its crest cut off at a level, drawn by hand: the rise from (200, 90) climbs 7 in 400,
/// the fall to (1000, 69) drops 28 in 400.
test::Survey cut_at(double floor_m) {
  return {{0, 100},
          {200, 90},
          {200 + (floor_m - 90) * 400 / 7, floor_m},
          {600 + (97 - floor_m) * 400 / 28, floor_m},
          {1000, 69}};
}

struct Judged {
  explicit Judged(Model s)
      : system(std::move(s)), state(steady::solve(system)), air(air::judge_air(system, state)) {
    REQUIRE(air.lines.size() == system.pipelines.size());
  }
  const air::JudgedCrest& only_crest() const {
    REQUIRE(air.lines[0].crests.size() == 1);
    REQUIRE(air.lines[0].crests[0].remedies);
    return air.lines[0].crests[0];
  }
  Model system;
  steady::State state;
  air::AirJudgement air;
};

const air::TriedDig* dig_for(const air::CrestRemedies& remedies, air::DigGoal goal) {
  for (const auto& d : remedies.digs)
    if (d.goal == goal) return &d;
  return nullptr;
}

}  // namespace

TEST_CASE("a crest is dug down just far enough for the line to carry what is asked") {
  constexpr double bore = 0.05;
  const double now = steady::solve(test::crest_line(test::over_a_crest, bore)).lines[0].flow_m3s;
  const double asked = 1.2 * now;
  const Judged judged(test::asking(test::crest_line(test::over_a_crest, bore), "trough", asked));
  const auto* dig = dig_for(*judged.only_crest().remedies, air::DigGoal::asks_met);
  REQUIRE(dig != nullptr);
  const auto flow = [&](double depth) {
    return steady::solve(test::crest_line(cut_at(97 - depth), bore)).lines[0].flow_m3s;
  };
  CHECK(flow(dig->depth_m) >= asked * (1 - 1e-9));
  CHECK(flow(dig->depth_m) == Approx(dig->after.flow_m3s).epsilon(1e-9));  // two solves of the same line
  CHECK(flow(dig->depth_m - 0.011) < asked);                               // steps of a centimetre
  // By hand: the far end of the trench governs. Its floor z leaves 101 - z for Hazen-Williams friction over
  // the pipe so far and the velocity head; slope lengths by Pythagoras.
  const double z = 97 - dig->depth_m, fall = 97 - z;
  const double length = std::hypot(200, 10) + (z - 90) / 7 * std::hypot(400, 7) +
                        (600 + fall * 400 / 28 - 200 - (z - 90) * 400 / 7);
  const double j = 10.67 * std::pow(asked / 150, 1.852) / std::pow(bore, 4.8704);
  const double v = asked / (0.25 * runnel::pi * bore * bore);
  CHECK(101 - z == Approx(j * length + v * v / (2 * 9.80665)).margin(0.011));
}

TEST_CASE("a crest is dug down until the grade line stands clear of it") {
  // The spring gives 1.6 L/s; back from the end (95.3) the grade line passes 0.7 m above the crest.
  constexpr double bore = 0.06, yield = 1.6e-3;
  const test::Survey u = {{0, 100}, {200, 90}, {600, 97}, {700, 85}, {1000, 95.3}};
  const auto cut = [](double floor_m) {  // 7 in 400 up, 12 in 100 down
    return test::Survey{{0, 100},
                        {200, 90},
                        {200 + (floor_m - 90) * 400 / 7, floor_m},
                        {600 + (97 - floor_m) * 100 / 12, floor_m},
                        {700, 85},
                        {1000, 95.3}};
  };
  const Judged judged(test::crest_line(u, bore, yield));
  const auto& crest = judged.only_crest();
  REQUIRE(crest.crest.clearance_m);
  CHECK(*crest.crest.clearance_m < 1.0);
  CHECK(*crest.crest.clearance_m > 0.5);
  const auto* dig = dig_for(*crest.remedies, air::DigGoal::grade_line_clear);
  REQUIRE(dig != nullptr);
  const auto clearance = [&](double depth) {
    const auto state = steady::solve(test::crest_line(cut(97 - depth), bore, yield));
    return std::min(*state.lines[0].points[2].pressure_head_m, *state.lines[0].points[3].pressure_head_m);
  };
  CHECK(clearance(dig->depth_m) >= 1.0 - 1e-6);
  CHECK(clearance(dig->depth_m) == Approx(*dig->after.clearance_m).margin(1e-6));
  CHECK(clearance(dig->depth_m - 0.011) < 1.0);
}

TEST_CASE("no trench is advised where the pipe beyond lies as near the grade line") {
  // A weak spring over a crest to a free end far below: wherever the trench ends, the water falls free.
  const Judged judged(test::crest_line(test::over_a_crest, 0.06, 1.6e-3));
  CHECK(*judged.only_crest().crest.clearance_m == Approx(0.0).margin(1e-6));
  CHECK(dig_for(*judged.only_crest().remedies, air::DigGoal::grade_line_clear) == nullptr);
}

TEST_CASE("a crest is dug down until the water starts") {
  // Behind the crest a deep U to a free end: the pocket asks for more than there is.
  const test::Survey u = {{0, 100}, {100, 80}, {200, 99}, {300, 75}, {400, 96}, {500, 60}};
  const Judged judged(test::crest_line(u, 0.03, 1e-4));
  std::size_t seen = 0;
  for (const auto& c : judged.air.lines[0].crests) {
    const auto* dig = c.remedies ? dig_for(*c.remedies, air::DigGoal::water_starts) : nullptr;
    if (!dig) continue;
    ++seen;
    // The same from the profile alone, by the search of air/remedy.h: one millimetre against one centimetre.
    const auto& way = judged.air.ways[c.crest.way];
    const auto fine = air::dig_until(way.profile, way.conditions, c.crest.point, air::StartVerdict::starts);
    REQUIRE(fine);
    CHECK(dig->depth_m == Approx(fine->depth_m).margin(0.011));
    CHECK(dig->start_after.verdict == air::StartVerdict::starts);
  }
  CHECK(seen > 0);
}

TEST_CASE("the bore tried carries the air down, and the next larger one does not") {
  constexpr double bore = 0.1;
  const double yield = GENERATE(8e-4, 1.1e-3, 1.5e-3, 2e-3, 2.6e-3);
  const Judged judged(test::crest_line(test::over_a_crest, bore, yield));
  const auto& crest = judged.only_crest();
  const auto& bore_tried = crest.remedies->bore;
  REQUIRE(bore_tried);
  const auto swept = [&](double d, double& flow) {
    auto s = test::crest_line(test::over_a_crest, bore, yield);
    auto pipe = bore_tried->pipe;
    pipe.bore = Length::metres(d);
    s.pipelines[0].pipes.push_back({pipe, Length::metres(600.0), {}, {}});
    const auto state = steady::solve(s);
    flow = state.lines[0].flow_m3s;
    // The hardest laws by hand: Wisner 0.825 + 0.25 sqrt(sin), Escarameia 1.1 (0.61 + 0.56 sqrt(sin)).
    const double root = std::sqrt(std::sin(std::atan(28.0 / 400.0)));
    const double froude = std::max(0.825 + 0.25 * root, 1.1 * (0.61 + 0.56 * root));
    const double v = flow / (0.25 * runnel::pi * d * d);
    return v > froude * std::sqrt(9.80665 * d) &&
           state.lines[0].reaches.back().state == steady::ReachState::full;
  };
  double flow = 0.0;
  CHECK(swept(bore_tried->pipe.bore.metres(), flow));
  CHECK(flow == Approx(bore_tried->after.flow_m3s).epsilon(1e-9));  // two solves of the same line
  const auto wider = air::narrower_pipes(small::pipe(bore), bore);
  double next = 0.0;
  for (const auto& p : wider)
    if (p.bore > bore_tried->pipe.bore) next = p.bore.metres();
  REQUIRE(next > 0.0);
  CHECK_FALSE(swept(next, flow));
}

TEST_CASE("an air valve on a siphon stops it, and the figure says so") {
  // A sealed line over a crest 1 m above the lip (101): sealed it runs, with air let in it cannot.
  const test::Survey over = {{0, 100}, {50, 102}, {300, 90}};
  const Judged judged(test::crest_line(over, 0.03, 1e-2, runnel::network::Air::sealed));
  const auto& remedies = *judged.only_crest().remedies;
  CHECK(remedies.before.flow_m3s > 0.0);
  CHECK(*remedies.before.clearance_m < -1.0);
  REQUIRE(remedies.vent);
  const auto open = steady::solve(test::crest_line(over, 0.03, 1e-2, runnel::network::Air::open));
  CHECK(open.lines[0].flow_m3s == 0.0);
  CHECK(remedies.vent->after.flow_m3s == 0.0);
}

TEST_CASE("a vent's gain is what the start-up gives with the valve built in") {
  // models/blocked_until_vented, 850 m lower: the first crest gains most.
  const test::Survey u = {{0, 49}, {60, 30}, {130, 44}, {210, 18}, {300, 43}, {380, 22}, {460, 32}};
  const Judged judged(test::crest_line(u, 0.03, 1e-4));
  std::size_t best = 0;
  double most = -1.0, marked = -2.0;
  for (const auto& c : judged.air.lines[0].crests) {
    if (!c.remedies || !c.remedies->vent) continue;
    auto with = judged.system;
    with.pipelines[0].parts.push_back(
        small::part(runnel::network::PartKind::air_valve, "A", c.crest.station_m));
    const auto ways = air::ways_of(with, 10);
    REQUIRE(ways.size() == 1);
    CHECK(ways[0].start.required_level_m == c.remedies->vent->start_after.required_level_m);
    const double gain = judged.air.ways[0].start.required_level_m - ways[0].start.required_level_m;
    CHECK(c.remedies->vent->gain_m == gain);
    most = std::max(most, gain);
    if (c.remedies->vent_gains_most) marked = gain, ++best;
  }
  CHECK(best == 1);
  CHECK(marked == most);
}

TEST_CASE("pipes tried instead are narrower, of the same make and rated no lower") {
  const auto& all = runnel::pipes::standard_catalogue().pipes();
  for (std::size_t i = 0; i < all.size(); i += 7) {
    double before = all[i].bore.metres();
    for (const auto& p : air::narrower_pipes(all[i], 1.0)) {
      CHECK(p.bore.metres() < before);
      CHECK(p.standard == all[i].standard);
      CHECK_FALSE(p.rating < all[i].rating);
      before = p.bore.metres();
    }
  }
}

TEST_CASE("what is tried stays within its budget and says so") {
  const auto s = test::asking(test::crest_line(test::over_a_crest, 0.05), "trough", 9e-3);
  const auto state = steady::solve(s);
  air::AirOptions options;
  options.pipelines_solved = 1;
  const auto cut = air::judge_air(s, state, options);
  CHECK(cut.solves <= 1);
  CHECK(cut.cut_short);
  CHECK_FALSE(air::judge_air(s, state).cut_short);
}

TEST_CASE("a trench goes no deeper than the higher of the low points beside the crest") {
  constexpr double bore = 0.05;
  const double most = steady::solve(test::crest_line(cut_at(90.001), bore)).lines[0].flow_m3s;
  const Judged less(test::asking(test::crest_line(test::over_a_crest, bore), "trough", 0.99 * most));
  CHECK(dig_for(*less.only_crest().remedies, air::DigGoal::asks_met) != nullptr);
  const Judged more(test::asking(test::crest_line(test::over_a_crest, bore), "trough", 1.01 * most));
  CHECK(dig_for(*more.only_crest().remedies, air::DigGoal::asks_met) == nullptr);
}

TEST_CASE("a crest that stands above the water is dug down for what is asked") {
  const Judged judged(
      test::asking(test::crest_line({{0, 100}, {200, 90}, {600, 102}, {1000, 69}}, 0.05), "trough", 5e-4));
  CHECK(judged.state.lines[0].flow_m3s == 0.0);
  const auto* dig = dig_for(*judged.only_crest().remedies, air::DigGoal::asks_met);
  REQUIRE(dig != nullptr);
  CHECK(dig->depth_m > 1.0);  // the crest stands 1 m above the lip
  CHECK(dig->after.flow_m3s >= 5e-4);
}

TEST_CASE("a vented crest is offered no second vent") {
  auto s = test::crest_line(test::over_a_crest, 0.05);
  s.pipelines[0].parts.push_back(small::part(runnel::network::PartKind::air_valve, "A", 600.0));
  const Judged judged(s);
  CHECK(judged.only_crest().crest.vented);
  CHECK_FALSE(judged.only_crest().remedies->vent);
}

TEST_CASE("the gravest crest is tried first") {
  // A vented crest that the grade line passes close by, then a siphon's crest.
  auto s = test::crest_line({{0, 100}, {100, 90}, {200, 99.8}, {300, 95}, {400, 102}, {600, 80}}, 0.03, 1e-2,
                            runnel::network::Air::sealed);
  s.pipelines[0].parts.push_back(small::part(runnel::network::PartKind::air_valve, "A", 200.0));
  air::AirOptions options;
  options.pipelines_solved = 1;
  const auto judged = air::judge_air(s, steady::solve(s), options);
  REQUIRE(judged.lines[0].crests.size() == 2);
  REQUIRE(judged.lines[0].crests[0].crest.graded.risk == air::Risk::moderate);
  REQUIRE(judged.lines[0].crests[1].crest.graded.risk == air::Risk::high);
  CHECK_FALSE(judged.lines[0].crests[0].remedies);
  CHECK(judged.lines[0].crests[1].remedies);
}

TEST_CASE("what is missing counts flows asked for, but not at a shut float nor by rounding") {
  auto s = test::asking(small::empty(), "tank", 1e-3);
  small::tank(s, "tank", 10.0, 10.0);
  steady::State state;
  steady::PlaceState tank;
  tank.name = "tank";
  tank.kind = runnel::network::PlaceKind::tank;
  tank.inflow_m3s = 4e-4;
  state.tanks = {tank};
  CHECK(air::missing_m3s(s, state) == Approx(6e-4).epsilon(1e-12));
  state.tanks[0].inflow_m3s = 1e-3 * (1.0 - 1e-9);
  CHECK(air::missing_m3s(s, state) == 0.0);
  state.tanks[0].inflow_m3s = 4e-4;
  state.tanks[0].float_shut = true;
  CHECK(air::missing_m3s(s, state) == 0.0);
}

TEST_CASE("a trench beside the box may go below its outlet") {
  // From the box at 100 (lip 101) over 103 down to 90: for a flow the trench has to fall away from the box.
  constexpr double bore = 0.03;
  const Judged judged(
      test::asking(test::crest_line({{0, 100}, {100, 103}, {400, 90}}, bore), "trough", 4e-4));
  const auto* dig = dig_for(*judged.only_crest().remedies, air::DigGoal::asks_met);
  REQUIRE(dig != nullptr);
  const auto flow = [&](double depth) {  // 3 in 100 up; 13 in 300 down
    const double floor_m = 103 - depth;
    test::Survey cut = {{0, 100}, {100, floor_m}, {100 + depth * 300 / 13, floor_m}, {400, 90}};
    if (floor_m > 100) cut.insert(cut.begin() + 1, {(floor_m - 100) * 100 / 3, floor_m});
    return steady::solve(test::crest_line(cut, bore)).lines[0].flow_m3s;
  };
  CHECK(flow(dig->depth_m) == Approx(dig->after.flow_m3s).epsilon(1e-9));  // two solves of the same line
  CHECK(flow(dig->depth_m) >= 4e-4 * (1 - 1e-6));
  CHECK(flow(dig->depth_m - 0.011) < 4e-4);
}
