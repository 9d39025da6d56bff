#include "runnel/air/profile.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "air/random_profile.h"
#include "runnel/base/constants.h"
#include "support/rooms.h"

namespace air = runnel::air;
namespace network = runnel::network;
using runnel::Length;

namespace {

network::Pipeline pipeline(const std::string& name, std::vector<std::pair<double, double>> points,
                           std::vector<std::pair<double, double>> bores) {
  network::Pipeline line;
  line.name = name;
  for (auto [s, z] : points) line.survey.push_back({Length::metres(s), Length::metres(z)});
  for (auto [from, bore] : bores) {
    network::LaidPipe laid;
    laid.from = Length::metres(from);
    laid.pipe.bore = Length::metres(bore);
    line.pipes.push_back(laid);
  }
  return line;
}

Approx near(double v) { return Approx(v).epsilon(0.0).margin(1e-12); }  // sums of a few exact numbers

}  // namespace

TEST_CASE("a profile follows the slope and splits where the pipe changes") {
  // 3-4-5 triangles: plan 40 and fall 30 make 50 of pipe.
  const auto line = pipeline("main", {{10, 100}, {50, 70}, {90, 100}}, {{10, 0.05}, {30, 0.03}});
  const auto p = air::profile_of(line);
  REQUIRE(p.points.size() == 4);
  CHECK(p.points[0].station_m == 0.0);
  CHECK(p.points[1].station_m == near(20.0));
  CHECK(p.points[1].elevation_m == near(85.0));
  CHECK(p.points[1].own_station_m == near(30.0));
  CHECK(p.points[1].distance_m == near(25.0));
  CHECK(p.points[3].distance_m == near(100.0));
  CHECK(p.points[0].bore_m == 0.05);
  CHECK(p.points[1].bore_m == 0.03);
  CHECK(p.points[3].bore_m == 0.03);
  const auto volume = air::bore_volume_to_points_m3(p);
  CHECK(volume.back() == near(runnel::pi / 4 * (25 * 0.0025 + 75 * 0.0009)));
  CHECK(air::elevation_at_m(p, 30.0) == near(77.5));
  CHECK(air::elevation_at_m(p, -1.0) == 100.0);
  CHECK(air::elevation_at_m(p, 99.0) == 100.0);
}

TEST_CASE("pipelines are chained, turned round where asked, parts with them") {
  auto upper = pipeline("upper", {{0, 100}, {40, 70}}, {{0, 0.05}});
  auto lower = pipeline("lower", {{0, 20}, {40, 50}, {80, 70}}, {{0, 0.02}, {40, 0.04}});  // drawn uphill
  network::Part valve;
  valve.kind = network::PartKind::air_valve;
  valve.name = "A1";
  valve.at = Length::metres(10);
  lower.parts.push_back(valve);
  const auto top = support::line_of(upper), bottom = support::line_of(lower);
  const auto p = air::profile_of({{&top, false}, {&bottom, true}});
  REQUIRE(p.points.size() == 4);
  CHECK(p.points[1].elevation_m == 70.0);
  CHECK(p.points[1].pipeline == 1);
  CHECK(p.points[1].own_station_m == 80.0);
  CHECK(p.points[1].bore_m == 0.04);
  CHECK(p.points[2].bore_m == 0.02);
  CHECK(p.points[3].station_m == near(120.0));
  CHECK(p.points[3].own_station_m == 0.0);
  REQUIRE(p.air_valves.size() == 1);
  CHECK(p.air_valves[0].station_m == near(110.0));
}

TEST_CASE("surveys that disagree at a joint leave a vertical piece") {
  const auto a = pipeline("a", {{0, 10}, {30, 8}}, {{0, 0.05}});
  const auto b = pipeline("b", {{0, 9}, {30, 5}}, {{0, 0.02}});
  const auto first = support::line_of(a), second = support::line_of(b);
  const auto p = air::profile_of({{&first, false}, {&second, false}});
  REQUIRE(p.points.size() == 4);
  CHECK(p.points[2].distance_m - p.points[1].distance_m == near(1.0));
  CHECK(p.points[1].bore_m == 0.02);
}

TEST_CASE("turns skip swings smaller than the bore and take the last point of a plateau") {
  const auto p = air::profile_of(
      {{0, 50}, {10, 40}, {20, 40}, {30, 45}, {40, 45}, {50, 44.97}, {60, 45}, {70, 30}, {80, 35}, {90, 20}},
      0.05);
  const auto t = air::turns(p);
  REQUIRE(t.size() == 4);
  CHECK((!t[0].crest && t[0].point == 2));
  CHECK((t[1].crest && t[1].point == 6));  // the dip of 30 mm at 50 m does not close a bore of 50 mm
  CHECK((!t[2].crest && t[2].point == 7));
  CHECK((t[3].crest && t[3].point == 8));
  const auto small = air::profile_of(
      {{0, 50}, {10, 40}, {20, 40}, {30, 45}, {40, 45}, {50, 44.97}, {60, 45}, {70, 30}, {80, 35}, {90, 20}},
      0.02);
  CHECK(air::turns(small).size() == 6);
  CHECK(air::turns(air::profile_of({{0, 5}, {10, 5}, {20, 5}}, 0.05)).empty());
  CHECK(air::turns(air::profile_of({{0, 5}, {10, 4}, {20, 3}}, 0.05)).empty());
}

TEST_CASE("where the bore changes at a dip the larger one has to be closed") {
  const std::vector<std::pair<double, double>> points{{0, 50}, {10, 40}, {20, 40.03}, {30, 30}};
  CHECK(air::turns(air::profile_of(points, 0.02)).size() == 2);
  const std::vector<double> wide_to_the_dip{0.05, 0.02, 0.02};
  CHECK(air::turns(air::profile_of(points, wide_to_the_dip)).empty());
}

TEST_CASE("a finer survey has the same turns and the same straight legs") {
  std::mt19937 dice(90210);
  for (int i = 0; i < 500; ++i) {
    const auto p = runnel::test::random_profile(dice);
    const auto fine = runnel::test::surveyed_finer(p, dice);
    const auto a = air::turns(p), b = air::turns(fine);
    REQUIRE(a.size() == b.size());
    for (std::size_t k = 0; k < a.size(); ++k) {
      REQUIRE(a[k].crest == b[k].crest);
      REQUIRE(p.points[static_cast<std::size_t>(a[k].point)].station_m ==
              Approx(fine.points[static_cast<std::size_t>(b[k].point)].station_m).epsilon(1e-12));
    }
    REQUIRE(air::straight_legs(p).size() == air::straight_legs(fine).size());
  }
}
