// A last leg that falls to a free end and is closed by the water before its air has left: a narrow tap, a
// float, a throttle, a gentle tail. The flows are held against a slow bisection that shares no code with the
// law.
#include "runnel/air/closed_leg.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "air/air_systems.h"
#include "runnel/air/at_first.h"
#include "runnel/steady/newton.h"
#include "steady/plain_network.h"
#include "steady/pocket_bisection.h"

using namespace runnel;
using runnel::test::Survey;

namespace {

/// 20 m down, 18 m up to the crest, and 38 m down to the end.
const Survey to_a_tap = {{0, 50}, {200, 30}, {400, 48}, {800, 10}};
constexpr double bore_m = 0.026;

network::Model line_to(const Survey& survey, double opening_m, double loss = 6.0, double yield_m3s = 3e-4) {
  network::Model s = small::empty();
  s.site.water.kinematic_viscosity_m2s = test::PocketLine::viscosity_m2s;
  small::box(s, "spring", yield_m3s, survey.front().second, survey.front().second + 0.5);
  small::outlet(s, "tap", survey.back().second, opening_m, loss);
  small::line(s, "main", "spring", "tap", bore_m, survey);
  return s;
}

std::vector<air::Way> ways(const network::System& system) { return air::ways_of(system, 40); }

std::optional<air::Pocket> closed(const network::Model& model) {
  const network::System system = support::resolved(model);
  const auto all = ways(system);
  const auto& pockets = all.at(0).start.pockets;
  const auto turns = air::turns(all[0].profile);
  if (pockets.empty() || turns.empty() || pockets.back().crest != turns.back().point) return std::nullopt;
  return pockets.back();
}

/// What the first line carries with its air in it; with none where no air is held.
double at_first_m3s(const network::Model& model) {
  const network::System system = support::resolved(model);
  const auto found = air::at_first(system, ways(system));
  if (!found) return steady::solve(system).lines.at(0).flow_m3s;
  CHECK(found->proved());
  return found->first().runs[0].flow_m3s;
}

double without_air_m3s(const network::Model& model) {
  return steady::solve(support::resolved(model)).lines.at(0).flow_m3s;
}

/// The same line for the bisection; every point is a floor, and the opening a loss at the end.
test::PocketLine by_hand(const network::Model& model, std::vector<test::PocketLine::Air> air) {
  test::PocketLine line;
  for (const auto& p : model.pipelines[0].survey) {
    line.station_m.push_back(p.station.metres());
    line.elevation_m.push_back(p.elevation.metres());
    line.floor_m.push_back(p.elevation.metres());
    line.local_k.push_back(0.0);
  }
  line.pipe.assign(line.station_m.size() - 1, 0);
  line.pipes = {{bore_m, 1.5e-6}};
  const network::Outlet& tap = model.outlets[0];
  const double opening_m = tap.opening.metres();
  line.exit_k = opening_m > 0.0 ? tap.loss * std::pow(bore_m / opening_m, 4) : 1.0;
  line.atmosphere_m = model.site.atmospheric_head_m();
  line.air = std::move(air);
  line.measure();
  return line;
}

}  // namespace

TEST_CASE(
    "a narrow tap below a crest shuts the air of its leg in, and passes less than the full line would") {
  const network::Model model = line_to(to_a_tap, 0.004);
  const auto pocket = closed(model);
  REQUIRE(pocket);
  CHECK(pocket->crest_station_m == 400.0);
  CHECK(pocket->low_station_m == 800.0);
  // The whole leg: 402 m of pipe.
  CHECK(pocket->volume_start_m3 == Approx(std::hypot(400.0, 38.0) * 0.25 * pi * bore_m * bore_m));
  // Sources by hand: 2.5 m over the crest, 40.5 m over the tap.
  const test::PocketLine hand = by_hand(model, {{2, 3, std::nullopt}});
  const double found_m3s = at_first_m3s(model);
  CHECK(found_m3s == Approx(hand.flow(50.5, 10.0)).epsilon(1e-6));
  CHECK(found_m3s < 0.55 * without_air_m3s(model));
  // Started it is all the same: the air asks for nothing while nothing stands over the tap.
  const network::System system = support::resolved(model);
  CHECK(ways(system)[0].start.verdict == air::StartVerdict::starts);
  CHECK(ways(system)[0].start.required_level_m == Approx(48.0));
}

TEST_CASE("what passes all that comes shuts nothing in") {
  SECTION("the open end of the pipe") { CHECK_FALSE(closed(line_to(to_a_tap, 0.0))); }
  SECTION("an opening as wide as the pipe") { CHECK_FALSE(closed(line_to(to_a_tap, bore_m, 1.0))); }
  SECTION("a tap that passes the little that the spring gives at half a bore of water") {
    // 4 mm and K 6 at 13 mm of head: 2.6e-6 m3/s.
    CHECK_FALSE(closed(line_to(to_a_tap, 0.004, 6.0, 2.5e-6)));
    CHECK(closed(line_to(to_a_tap, 0.004, 6.0, 2.7e-6)));
  }
  SECTION("an air valve at the crest") {
    network::Model s = line_to(to_a_tap, 0.004);
    s.pipelines[0].parts.push_back(small::part(network::PartKind::air_valve, "A1", 400.0));
    CHECK_FALSE(closed(s));
  }
  SECTION("a line without a crest") { CHECK_FALSE(closed(line_to({{0, 50}, {800, 10}}, 0.004))); }
  SECTION("a crest above the source") {
    CHECK_FALSE(closed(line_to({{0, 50}, {200, 30}, {400, 51}, {800, 10}}, 0.004)));
  }
}

TEST_CASE("with several crests only the last leg is closed by the tap, and all air counts") {
  const Survey two = {{0, 50}, {150, 42}, {260, 46}, {400, 38}, {520, 44}, {900, 8}};
  const network::Model model = line_to(two, 0.005);
  const network::System system = support::resolved(model);
  const auto all = ways(system);
  REQUIRE(all[0].start.pockets.size() == 2);
  CHECK(all[0].start.pockets[0].low_station_m == 400.0);
  CHECK(all[0].start.pockets[1].crest_station_m == 520.0);
  const auto hand = by_hand(model, {{2, 3, std::nullopt}, {4, 5, std::nullopt}});
  CHECK(at_first_m3s(model) == Approx(hand.flow(50.5, 8.0)).epsilon(1e-6));
  network::Model wide = model;
  wide.outlets[0].opening = Length{};
  wide.pipelines[0].exit_loss = 1.0;
  const network::System open = support::resolved(wide);
  CHECK(ways(open)[0].start.pockets.size() == 1);
}

TEST_CASE("a tap on a dead end, a draw there and a float close a leg as a tap at the end of the pipe does") {
  const network::Model at_end = line_to(to_a_tap, 0.004);
  network::Model on_joint = at_end;
  small::joint(on_joint, "yard", 10.0);
  on_joint.outlets[0].on = "yard";
  on_joint.pipelines[0].to = "yard";
  REQUIRE(closed(on_joint));
  CHECK(at_first_m3s(on_joint) == Approx(at_first_m3s(at_end)).epsilon(1e-6));
  SECTION("two taps pass twice as much before it closes") {
    on_joint.boxes[0].yield = Flow::from_si(4e-6);  // each passes 2.6e-6 m3/s
    CHECK(closed(on_joint));
    on_joint.outlets.push_back(on_joint.outlets[0]);
    on_joint.outlets.back().name = "second tap";
    CHECK_FALSE(closed(on_joint));
  }
  SECTION("a draw takes what it takes and no more") {
    on_joint.outlets.clear();
    on_joint.joints[0].draw = Flow::from_si(5e-5);
    CHECK(closed(on_joint));
    on_joint.boxes[0].yield = Flow::from_si(4e-5);
    CHECK_FALSE(closed(on_joint));
  }
  SECTION("a float at the end of a line over the water") {
    network::Model tank = line_to(to_a_tap, 0.0);
    tank.outlets.clear();
    small::tank(tank, "tank", 10.0, 8.5);
    tank.pipelines[0].to = "tank";
    CHECK_FALSE(closed(tank));
    tank.tanks[0].float_valve = network::FloatValve{Length::metres(9.5), Length::metres(9.0), 20.0};
    CHECK(closed(tank));
  }
  SECTION("where another pipeline leads on, that is the way that counts") {
    small::outlet(on_joint, "trough", 5.0);
    small::line(on_joint, "on", "yard", "trough", bore_m, {{0, 10}, {50, 5}});
    CHECK_FALSE(closed(on_joint));
    on_joint.outlets[1].opening = Length::metres(0.004);
    on_joint.pipelines[1].exit_loss = 0.0;
    const network::System system = support::resolved(on_joint);
    for (const air::Way& way : ways(system)) {
      if (way.path.end != "trough") continue;
      REQUIRE(way.start.pockets.size() == 1);
      CHECK(way.start.pockets[0].low_station_m == 850.0);  // the leg runs on over the joint
    }
    on_joint.outlets[1].shut = true;  // it leads nowhere now: it fills and is still
    REQUIRE(closed(on_joint));
    CHECK(at_first_m3s(on_joint) == Approx(at_first_m3s(at_end)).epsilon(1e-6));
  }
}

TEST_CASE("a throttle on the way down closes what lies before it, and a gentle tail that has to run full") {
  SECTION("a throttle") {
    network::Model s = line_to({{0, 50}, {200, 30}, {400, 48}, {600, 29}, {800, 10}}, 0.0);
    s.pipelines[0].parts.push_back(small::part(network::PartKind::fitting, "orifice", 600.0, 400.0));
    const auto pocket = closed(s);
    REQUIRE(pocket);
    CHECK(pocket->low_station_m == 600.0);
  }
  SECTION("a tail that falls 1 in 400") {
    const Survey tail = {{0, 50}, {200, 30}, {400, 48}, {500, 14}, {2100, 10}};
    const network::Model model = line_to(tail, 0.0);
    const auto pocket = closed(model);
    REQUIRE(pocket);
    CHECK(pocket->low_station_m == 500.0);
    const auto hand = by_hand(model, {{2, 3, std::nullopt}});
    CHECK(at_first_m3s(model) == Approx(hand.flow(50.5, 10.0)).epsilon(1e-6));
    CHECK(at_first_m3s(model) < without_air_m3s(model));
    // A finer survey, and one with swings of less than a bore in it, say the same.
    network::Model finer = model;
    auto& points = finer.pipelines[0].survey;
    for (int k = 1; k < 40; ++k)
      points.insert(points.end() - 1, {Length::metres(500.0 + 40.0 * k), Length::metres(14.0 - 0.1 * k)});
    CHECK(at_first_m3s(finer) == Approx(at_first_m3s(model)).epsilon(1e-9));
    for (std::size_t i = 5; i + 1 < points.size(); i += 2)
      points[i].elevation = Length::metres(points[i].elevation.metres() + 0.2 * bore_m);
    REQUIRE(closed(finer));
    CHECK(closed(finer)->low_station_m == 500.0);
  }
  SECTION("the same tail under a trickle runs part-full") {
    CHECK_FALSE(closed(line_to({{0, 50}, {200, 30}, {400, 48}, {500, 14}, {2100, 10}}, 0.0, 6.0, 2e-5)));
  }
  SECTION("a leg that has to run full from its crest on holds no air") {
    CHECK_FALSE(closed(line_to({{0, 50}, {100, 46}, {150, 47.5}, {3000, 46}}, 0.0)));
  }
}

TEST_CASE("a wide opening gives the plain answer, and narrowing it never raises the flow") {
  plain::Dice dice(2027);
  int shut_in = 0;
  for (int i = 0; i < 300; ++i) {
    CAPTURE(i);
    const double top_m = dice.real(40.0, 60.0), low_m = top_m - dice.real(3.0, 25.0);
    const double crest_m = dice.real(low_m + 1.0, top_m - 0.3), end_m = crest_m - dice.real(2.0, 40.0);
    const double first_m = dice.real(50.0, 300.0), second_m = dice.real(50.0, 300.0);
    const double leg_m = (crest_m - end_m) * dice.real(1.5, 8.0);
    const Survey survey = {
        {0, top_m}, {first_m, low_m}, {first_m + second_m, crest_m}, {first_m + second_m + leg_m, end_m}};
    network::Model model = line_to(survey, 0.0, dice.real(1.0, 6.0), std::pow(10.0, dice.real(-5.0, -3.0)));
    const double open_m3s = at_first_m3s(model);
    CHECK(open_m3s == Approx(without_air_m3s(model)).epsilon(1e-12));  // the steep leg lets its air out
    double before_m3s = open_m3s;
    model.pipelines[0].exit_loss = 0.0;
    for (double opening_m = bore_m; opening_m > 0.002; opening_m *= 0.8) {
      CAPTURE(opening_m);
      model.outlets[0].opening = Length::metres(opening_m);
      const double flow_m3s = at_first_m3s(model);
      // The water's velocity head stands over the tap at most when the end is hardly closed.
      CHECK(flow_m3s <= before_m3s * (1.0 + 1e-9) + 1e-11);
      CHECK(flow_m3s <= without_air_m3s(model) * (1.0 + 1e-9) + 1e-11);
      shut_in += closed(model).has_value();
      before_m3s = flow_m3s;
    }
  }
  CHECK(shut_in > 300);
}
