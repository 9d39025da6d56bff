#include "runnel/network/change.h"

#include <catch2/catch.hpp>

#include "air/air_systems.h"
#include "runnel/air/profile.h"
#include "runnel/network/validate.h"
#include "support/resolved.h"

namespace network = runnel::network;
namespace test = runnel::test;
using runnel::Length;

namespace {

/// The changed model, if it makes a system.
network::Model changed(runnel::Checked<network::System> system) {
  return support::built(std::move(system)).model();
}

test::Survey survey_of(const runnel::network::Model& s) {
  test::Survey points;
  for (const auto& p : s.pipelines[0].survey) points.emplace_back(p.station.metres(), p.elevation.metres());
  return points;
}

bool valid(const runnel::network::Model& s) { return !any_error(runnel::network::validate(s)); }

}  // namespace

TEST_CASE("a trench cuts off what stands higher, between its ends only") {
  const auto s = test::crest_line(test::over_a_crest, 0.04);
  // By hand: 95 is met 5/7 of the way up (200 + 400 * 5/7) and 2/28 of the way down (600 + 400 / 14).
  const auto dug = changed(network::with_trench(support::resolved(s), 0, {200, 1000}, 95.0));
  const auto points = survey_of(dug);
  REQUIRE(points.size() == 6);
  CHECK(points[2].first == Approx(200.0 + 400.0 * 5.0 / 7.0).epsilon(1e-12));
  CHECK(points[2].second == 95.0);
  CHECK(points[3] == std::pair{600.0, 95.0});
  CHECK(points[4].first == Approx(600.0 + 400.0 / 14.0).epsilon(1e-12));
  CHECK(valid(dug));
  CHECK(survey_of(changed(network::with_trench(support::resolved(s), 0, {200, 1000}, 98.0))) ==
        test::over_a_crest);
  // The ends belong to their places and stay.
  CHECK(survey_of(changed(network::with_trench(support::resolved(s), 0, {0, 1000}, 95.0))).front().second ==
        100.0);
}

TEST_CASE("a point is dug down to a level floor, nowhere deeper than it is told") {
  using Points = std::vector<std::pair<double, double>>;
  const auto dug = [](const Points& ground, std::size_t point, double depth_m) {
    auto s = test::crest_line(ground, 0.04);
    network::dig_down(s.pipelines[0], point, Length::metres(depth_m));
    return survey_of(s);
  };
  // By hand: 96 m is met half way up from 94 to 98, and three quarters down from 98 to 90 is 92.
  CHECK(dug({{0, 100}, {100, 94}, {200, 98}, {300, 90}, {400, 80}}, 2, 2.0) ==
        Points{{0, 100}, {100, 94}, {150, 96}, {200, 96}, {225, 96}, {300, 90}, {400, 80}});
  // A second point on the top comes down with the first.
  CHECK(dug({{0, 100}, {100, 94}, {200, 98}, {250, 97.5}, {300, 95.5}, {400, 80}}, 2, 2.0) ==
        Points{{0, 100}, {100, 94}, {150, 96}, {200, 96}, {250, 96}, {287.5, 96}, {300, 95.5}, {400, 80}});
  // Higher ground is not dug, nor are the ends: the floor rises to them.
  CHECK(dug({{0, 100}, {100, 99}, {200, 98}, {300, 90}, {400, 80}}, 2, 2.0) ==
        Points{{0, 100}, {100, 99}, {200, 96}, {225, 96}, {300, 90}, {400, 80}});
  CHECK(dug({{0, 97}, {200, 98}, {400, 97.5}}, 1, 2.0) == Points{{0, 97}, {200, 96}, {400, 97.5}});
}

TEST_CASE("an air valve takes its place among the parts") {
  auto s = test::crest_line(test::over_a_crest, 0.04);
  s.pipelines[0].parts.push_back(small::part(runnel::network::PartKind::fitting, "a", 10.0));
  s.pipelines[0].parts.push_back(small::part(runnel::network::PartKind::fitting, "b", 900.0));
  const auto with = changed(network::with_air_valve(support::resolved(s), 0, 600.0));
  REQUIRE(with.pipelines[0].parts.size() == 3);
  CHECK(with.pipelines[0].parts[1].kind == runnel::network::PartKind::air_valve);
  CHECK(with.pipelines[0].parts[1].at.metres() == 600.0);
  CHECK(valid(with));
  auto two = with;
  network::put_air_valve(two.pipelines[0], 300.0);
  CHECK(valid(two));
  CHECK(s.pipelines[0].parts.size() == 2);
}

TEST_CASE("another pipe on a stretch leaves what is before and after it") {
  auto s = test::crest_line(test::over_a_crest, 0.04);
  s.pipelines[0].pipes.push_back({small::pipe(0.03), Length::metres(700.0), {}, {}});
  s.pipelines[0].pipes.push_back({small::pipe(0.05), Length::metres(900.0), {}, {}});
  const auto bores = [&](network::Stretch stretch) {
    std::vector<std::pair<double, double>> found;
    const auto other = changed(network::with_pipe(support::resolved(s), 0, stretch, small::pipe(0.02)));
    CHECK(valid(other));
    for (const auto& laid : other.pipelines[0].pipes)
      found.emplace_back(laid.from.metres(), laid.pipe.bore.metres());
    return found;
  };
  using Bores = std::vector<std::pair<double, double>>;
  CHECK(bores({600, 800}) == Bores{{0, 0.04}, {600, 0.02}, {800, 0.03}, {900, 0.05}});
  CHECK(bores({0, 700}) == Bores{{0, 0.02}, {700, 0.03}, {900, 0.05}});
  CHECK(bores({600, 1000}) == Bores{{0, 0.04}, {600, 0.02}});
  CHECK(bores({700, 900}) == Bores{{0, 0.04}, {700, 0.02}, {900, 0.05}});
}

TEST_CASE("a crest stands between the low points or ends on both sides") {
  const auto s = test::crest_line(test::over_a_crest, 0.04);
  const auto mound = runnel::air::mound_around(support::resolved(s).lines()[0], 600.0);
  CHECK(mound.from_m == 200.0);
  CHECK(mound.to_m == 1000.0);
}

TEST_CASE("another datum moves every height, the rims of the walls as well") {
  auto s = test::crest_line(test::over_a_crest, 0.04);
  for (auto& box : s.boxes) box.rim = box.lip + Length::metres(0.25);
  for (auto& tank : s.tanks) tank.rim = tank.lip + Length::metres(0.5);
  const auto low = network::lowered(support::resolved(s), 100.0);
  REQUIRE_FALSE(low.boxes().empty());
  for (const auto& box : low.boxes()) CHECK((*box.rim - box.lip).metres() == Approx(0.25).epsilon(1e-12));
  for (const auto& tank : low.tanks()) CHECK((*tank.rim - tank.lip).metres() == Approx(0.5).epsilon(1e-12));
  CHECK(low.boxes()[0].lip.metres() == Approx(s.boxes[0].lip.metres() - 100.0).epsilon(1e-12));
}
