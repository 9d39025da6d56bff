// A line that runs with its air in it: worked lines, a slow bisection, and what holds for every line.
#include "runnel/steady/pocket_law.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "runnel/base/constants.h"
#include "steady/pocket_bisection.h"
#include "steady/random_line.h"
#include "support/resolved.h"

namespace steady = runnel::steady;
using runnel::test::laid;
using runnel::test::lay;
using runnel::test::PocketLine;
using runnel::test::PocketLines;
using steady::Compression;
using steady::PocketLaw;

namespace {

nlohmann::json table(const std::string& name) {
  std::ifstream in(std::string(RUNNEL_SOURCE_DIR) + "/tests/data/states/" + name + ".json");
  return nlohmann::json::parse(in);
}

int point_of(const steady::PocketCourse& course, double station_m) {
  int point = 0;
  while (course.passage.station_m(static_cast<std::size_t>(point)) != station_m) ++point;
  return point;
}

/// One bore, straight legs, entrance 0.5, a jet at full bore; open, so that floors stand at every point.
steady::PocketCourse course_of_table(const nlohmann::json& in) {
  steady::PocketCourse course;
  const double bore_m = in["bore_m"];
  course.pipes.emplace_back(runnel::losses::FrictionLaw{}, bore_m, in["roughness_m"].get<double>(), 140.0,
                            in["kinematic_viscosity_m2s"].get<double>());
  std::vector<runnel::network::CoursePoint> points;
  for (const auto& p : in["points"]) {
    course.points.push_back({0.0, p[1]});
    points.push_back({.station_m = p[0], .elevation_m = p[1]});
  }
  for (std::size_t i = 1; i < points.size(); ++i)
    points[i - 1].length_m = std::hypot(points[i].station_m - points[i - 1].station_m,
                                        points[i].elevation_m - points[i - 1].elevation_m);
  lay(course, std::move(points));
  const double area = course.pipes[0].area_m2(), square = 1.0 / (2.0 * runnel::gravity_ms2 * area * area);
  course.entrance_s2m5 = in["entrance_loss"].get<double>() * square;
  course.exit_s2m5 = square;
  course.atmospheric_head_m = in["atmospheric_head_m"];
  for (const auto& p : in["pockets"])
    course.pockets.push_back({point_of(course, p["crest_m"]), point_of(course, p["low_m"]), {}});
  return course;
}

const std::vector<std::string> tables = {"two_pockets", "one_pocket_high", "margin_thin"};
constexpr double digits = 1e-6;  // relative; the tables were bisected to rounding

}  // namespace

TEST_CASE("worked lines run with their air at the flow of the table") {
  for (const std::string& name : tables) {
    CAPTURE(name);
    const nlohmann::json whole = table(name), in = whole["inputs"], expected = whole["expected"];
    const steady::PocketCourse course = course_of_table(in);
    const double source_m = in["box_level_m"], sink_m = laid(course).back().elevation_m;
    const PocketLaw law(course);
    const double flow = law.flow_m3s(source_m, sink_m);
    CHECK(flow == Approx(expected["flow_at_first_m3s"].get<double>()).epsilon(digits));
    CHECK(flow / course.pipes[0].area_m2() ==
          Approx(expected["velocity_at_first_ms"].get<double>()).epsilon(digits));
    steady::PocketCourse drowned = course;  // the table asks what the air needs, the mouth aside
    drowned.points.front().floor_m = -steady::unbounded;
    CHECK(PocketLaw(drowned).need(0.0, sink_m).head_m ==
          Approx(expected["level_needed_to_start_m"].get<double>()).epsilon(digits));
    const auto pockets = law.pockets(flow, sink_m);
    REQUIRE(pockets.size() == expected["pockets_at_first"].size());
    for (std::size_t k = 0; k < pockets.size(); ++k) {
      const auto& row = expected["pockets_at_first"][k];
      CHECK(pockets[k].interface_m == Approx(row["interface_level_m"].get<double>()).epsilon(digits));
      CHECK(pockets[k].gauge_head_m == Approx(row["gauge_m"].get<double>()).epsilon(digits));
    }
    const PocketLaw rigid(course, Compression::none);
    CHECK(
        rigid.flow_m3s(source_m, sink_m) ==
        Approx(expected["flow_if_pockets_do_not_compress_m3s"].get<double>()).epsilon(digits).margin(1e-15));
    // One after the other from the top, then none.
    std::vector<int> gone;
    for (const auto& row : expected["as_pockets_go_from_the_top"]) {
      gone.push_back(static_cast<int>(gone.size()));
      CHECK(PocketLaw(without_pockets(course, gone)).flow_m3s(source_m, sink_m) ==
            Approx(row["flow_m3s"].get<double>()).epsilon(digits));
    }
    CHECK(PocketLaw(without_pockets(course, gone)).flow_m3s(source_m, sink_m) ==
          Approx(expected["flow_without_air_m3s"].get<double>()).epsilon(digits));
  }
}

TEST_CASE("10,000 random lines with pockets carry what a bisection from the end back finds") {
  int flowing = 0, squeezed = 0, by_head = 0;
  for (std::uint64_t seed = 0; seed < 10000; ++seed) {
    PocketLines lines(seed);
    const PocketLine line = lines.draw();
    const PocketLaw law(line.course());
    const double slow = line.flow(lines.source_m, lines.sink_m);
    const double quick = law.flow_m3s(lines.source_m, lines.sink_m);
    // Heads near 100 m carry 1e-14 m, a bisected pocket as much; in a wide short pipe that is more than 1e-8
    // of the flow. There the same answer is asked for in heads.
    const auto asked = line.asked(quick, lines.sink_m);
    const double head_apart = std::abs(law.need(quick, lines.sink_m).head_m - asked.head_m);
    const double apart = std::abs(quick - slow);
    if (apart > 1e-8 * slow + 1e-12) ++by_head;
    if (head_apart > 1e-9 ||
        (apart > 1e-8 * slow + 1e-12 && std::abs(asked.head_m - lines.source_m) > 1e-9 && quick > 0.0))
      FAIL_CHECK("seed " << seed << ": " << quick << " against " << slow << ", heads apart by "
                         << head_apart);
    if (quick <= 0.0) {
      CHECK(slow <= 1e-12);
      continue;
    }
    ++flowing;
    auto at = asked.gauge_m.rbegin();
    for (const auto& pocket : law.pockets(quick, lines.sink_m)) {
      if (pocket.volume_m3 == 0.0) continue;  // nothing shut in
      REQUIRE(at != asked.gauge_m.rend());
      // The air's pressure is worth a millionth of a metre where a leg is nearly parallel to the grade line.
      CHECK(pocket.gauge_head_m == Approx(*at).epsilon(1e-9).margin(1e-6));
      if (pocket.gauge_head_m > 0.0) ++squeezed;
      ++at;
    }
  }
  CHECK(flowing > 3000);  // the set is not idle
  CHECK(squeezed > 3000);
  CHECK(by_head < 20);
}

TEST_CASE("the need of a line with air rises with flow and with the head below, by the slopes it states") {
  for (std::uint64_t seed = 0; seed < 3000; ++seed) {
    PocketLines lines(seed);
    steady::PocketCourse course = lines.draw().course();
    course.smooth_m3s = 1e-9;  // a mouth that governs has no slope at zero flow without it
    const PocketLaw law(course, seed % 5 == 0 ? Compression::none : Compression::isothermal);
    const steady::Need still = law.need(0.0, lines.sink_m);
    CHECK(std::isfinite(still.flow_slope_sm2));
    CHECK(still.flow_slope_sm2 > 0.0);
    double before_m = still.head_m;
    for (double flow = 1e-7; flow < 0.05; flow *= lines.between(1.01, 2.0)) {
      const steady::Need here = law.need(flow, lines.sink_m);
      CAPTURE(seed, flow);
      CHECK(here.head_m >= before_m - 1e-13 * std::abs(before_m));  // rounding of heads
      before_m = here.head_m;
      CHECK(here.flow_slope_sm2 > 0.0);
      CHECK((here.sink_slope >= 0.0 && here.sink_slope <= 1.0));
      CHECK(law.need(flow, lines.sink_m + lines.between(0.0, 1.0)).head_m >= here.head_m);
      // At a kink the slope is that of one side; curvature is worth some 1e-4 of it over such a step.
      const auto between_sides = [](double slope, double a, double b, double rounding) {
        const double slack = 2e-3 * std::max(std::abs(a), std::abs(b)) + rounding;
        return slope >= std::min(a, b) - slack && slope <= std::max(a, b) + slack;
      };
      const double dq = 1e-4 * flow, dh = 1e-4, heads = 1e-12 * (1.0 + std::abs(here.head_m));
      CHECK(between_sides(here.flow_slope_sm2, (here.head_m - law.need(flow - dq, lines.sink_m).head_m) / dq,
                          (law.need(flow + dq, lines.sink_m).head_m - here.head_m) / dq, heads / dq));
      CHECK(between_sides(here.sink_slope, (here.head_m - law.need(flow, lines.sink_m - dh).head_m) / dh,
                          (law.need(flow, lines.sink_m + dh).head_m - here.head_m) / dh, heads / dh + 1e-4));
    }
  }
}

TEST_CASE("a pocket never lowers the need, and one that gives way asks no more than one that does not") {
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    PocketLines lines(seed);
    const steady::PocketCourse course = lines.draw().course();
    const PocketLaw all(course), rigid(course, Compression::none);
    const int pick = lines.whole(0, static_cast<int>(course.pockets.size()) - 1);
    const PocketLaw fewer(without_pockets(course, {pick}));
    for (double flow : {0.0, 1e-5, 1e-4, 1e-3, 1e-2}) {
      CAPTURE(seed, flow);
      const double with = all.need(flow, lines.sink_m).head_m, rounding = 1e-13 * std::abs(with);
      CHECK(fewer.need(flow, lines.sink_m).head_m <= with + rounding);
      CHECK(rigid.need(flow, lines.sink_m).head_m >= with - rounding);
      for (const auto& pocket : all.pockets(flow, lines.sink_m)) {
        CHECK(pocket.gauge_head_m >= 0.0);
        CHECK(pocket.head_taken_m >= 0.0);
      }
    }
    CHECK(all.flow_m3s(lines.source_m, lines.sink_m) <=
          fewer.flow_m3s(lines.source_m, lines.sink_m) * (1.0 + 1e-9));
  }
}

TEST_CASE("without its pockets a line asks for what the plain trace asks for") {
  int compared = 0;
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    const runnel::test::RandomLine line(seed);
    // Where bores change the plain trace charges a floor with the change as well, which is too much.
    if (line.system.pipelines[0].pipes.size() > 1 || line.system.outlets[0].opening.metres() > 0.0) continue;
    const PocketLaw law(steady::course_of(steady::plan_line(line.system, line.system.pipelines[0]), 10.0));
    const double sink_m = line.system.outlets[0].elevation.metres();
    for (double flow : {0.0, 1e-6, 1e-4, 3e-3})
      CHECK(law.need(flow, sink_m).head_m == Approx(line.asked_level(flow)).epsilon(1e-12));
    CHECK(law.flow_m3s(line.lip_m, sink_m, line.system.boxes[0].yield.si()) ==
          Approx(line.flow_by_trace(false)).epsilon(1e-8).margin(1e-12));  // heads near 100 m carry 1e-14 m
    ++compared;
  }
  CHECK(compared > 200);
}

TEST_CASE("the datum, and more points on the same legs, change nothing about a line with air") {
  for (std::uint64_t seed = 0; seed < 1000; ++seed) {
    PocketLines lines(seed);
    const steady::PocketCourse course = lines.draw().course();
    const double flow = PocketLaw(course).flow_m3s(lines.source_m, lines.sink_m);
    const double need_m = PocketLaw(course).need(1e-4, lines.sink_m).head_m;
    steady::PocketCourse lifted = course;
    auto points = laid(course);
    for (auto& p : points) p.elevation_m += 800.0;
    for (auto& p : lifted.points) p.floor_m += 800.0;
    lay(lifted, points);
    CHECK(
        PocketLaw(lifted).need(1e-4, lines.sink_m + 800.0).head_m - 800.0 ==
        Approx(need_m).epsilon(0.0).margin(1e-9));  // rounding of heads near 900 m, magnified by gentle legs
    steady::PocketCourse finer = course;
    points = laid(course);
    for (std::size_t i = course.points.size() - 1; i-- > 0;) {
      const auto at = static_cast<std::ptrdiff_t>(i);
      finer.points.insert(
          finer.points.begin() + at + 1,
          {0.0, -steady::unbounded});  // floors between the points are the straight line's own
      auto &a = points[i], &b = points[i + 1];
      a.length_m *= 0.5;
      points.insert(points.begin() + at + 1, {.station_m = 0.5 * (a.station_m + b.station_m),
                                              .elevation_m = 0.5 * (a.elevation_m + b.elevation_m),
                                              .length_m = a.length_m,
                                              .pipe = a.pipe});
    }
    lay(finer, points);
    for (auto& air : finer.pockets) air.crest *= 2, air.low *= 2;
    CHECK(PocketLaw(finer).need(1e-4, lines.sink_m).head_m == Approx(need_m).epsilon(0.0).margin(1e-9));
    CHECK(PocketLaw(finer).flow_m3s(lines.source_m, lines.sink_m) ==
          Approx(flow).epsilon(1e-7).margin(1e-12));
  }
}

TEST_CASE("the deeper the leg behind a crest, the less the line carries at first") {
  for (const std::string& name : tables) {
    const nlohmann::json in = table(name)["inputs"];
    steady::PocketCourse course = course_of_table(in);
    const double sink_m = laid(course).back().elevation_m;
    double before = PocketLaw(course).flow_m3s(in["box_level_m"], sink_m);
    const auto low = static_cast<std::size_t>(course.pockets[0].low);
    for (int deeper = 0; deeper < 5; ++deeper) {
      auto points = laid(course);
      points[low].elevation_m -= 0.3;
      lay(course, points);
      course.points[low].floor_m -= 0.3;  // lengths are left as they are: only the depth is asked about
      const double after = PocketLaw(course).flow_m3s(in["box_level_m"], sink_m);
      CHECK(after < before);
      before = after;
    }
  }
}

TEST_CASE("air in a leg without height, and no air at all, change nothing") {
  for (std::uint64_t seed = 0; seed < 500; ++seed) {
    PocketLines lines(seed);
    PocketLine line = lines.draw();
    const auto carried = [&] { return PocketLaw(line.course()).flow_m3s(lines.source_m, lines.sink_m); };
    for (auto& air : line.air)
      for (int i = air.crest; i <= air.low; ++i)
        line.elevation_m[static_cast<std::size_t>(i)] = line.elevation_m[static_cast<std::size_t>(air.crest)];
    for (std::size_t i = 0; i < line.elevation_m.size(); ++i) line.floor_m[i] = line.elevation_m[i];
    std::fill(line.pipe.begin(), line.pipe.end(),
              0);  // where bores change the jet's excess is lost in any air
    line.measure();
    const double level = carried();
    for (auto& air : line.air) air.volume_m3 = 0.0;
    const double empty = carried();
    line.air.clear();
    CHECK(level == Approx(carried()).epsilon(1e-8).margin(1e-12));
    CHECK(empty == carried());
  }
}

TEST_CASE("one pocket in closed form, with water at rest") {
  // A leg from 10 m down to 0 m, the air worth 10 m, a column of 8 m over the low point. From y + g = 8 and
  // (10 + g)(10 - y) = 10 * 10 comes (18 - y)(10 - y) = 100, that is y^2 - 28 y + 80 = 0.
  PocketLine line;
  line.station_m = {0.0, 50.0, 100.0, 200.0};
  line.elevation_m = {11.0, 5.0, 10.0, 0.0};
  line.local_k = line.floor_m = {0.0, 0.0, 0.0, 0.0};
  for (double& floor : line.floor_m) floor = -steady::unbounded;
  line.pipe = {0, 0, 0};
  line.pipes = {{0.05, 1.5e-6}};
  line.atmosphere_m = 10.0;
  line.air = {{2, 3, {}}};
  line.measure();
  const PocketLaw law(line.course());
  const double y = 14.0 - std::sqrt(14.0 * 14.0 - 80.0);
  const auto pocket = law.pockets(0.0, 8.0)[0];
  CHECK(pocket.interface_m == Approx(y).epsilon(1e-13));
  CHECK(pocket.gauge_head_m == Approx(8.0 - y).epsilon(1e-13));
  CHECK(law.need(0.0, 8.0).head_m == Approx(18.0 - y).epsilon(1e-13));
  CHECK(pocket.head_taken_m == Approx(10.0 - y).epsilon(1e-13));
  SECTION("a spring gives no more than its yield") {
    const double most = law.flow_m3s(60.0, 8.0);
    CHECK(law.flow_m3s(60.0, 8.0, 0.5 * most) == 0.5 * most);
    CHECK(law.flow_m3s(60.0, 8.0, 2.0 * most) == Approx(most).epsilon(1e-12));
    CHECK(law.flow_m3s(60.0, 8.0, 0.0) == 0.0);
    CHECK(law.flow_m3s(18.0 - y, 8.0) == Approx(0.0).margin(1e-15));
  }
  SECTION("a sink below the low point leaves the air at the air's pressure") {
    CHECK(law.pockets(0.0, -3.0)[0].gauge_head_m == 0.0);
    CHECK(law.need(0.0, -3.0).head_m == 10.0);
    CHECK(law.need(0.0, -3.0).sink_slope == 0.0);
    line.floor_m[2] = 12.0;  // something else already asks for more at the crest
    const PocketLaw raised(line.course());
    CHECK(raised.need(0.0, -3.0).head_m == 12.0);
    CHECK(raised.pockets(0.0, -3.0)[0].head_taken_m == 0.0);
  }
}

TEST_CASE("a point of a course is found where the line drops at one station") {
  std::vector<runnel::network::CoursePoint> points;
  for (auto [x, z] : {std::pair{0.0, 10.0}, {50.0, 8.0}, {50.0, 2.0}, {90.0, 5.0}})
    points.push_back({.station_m = x, .elevation_m = z});
  const runnel::network::Passage passage{runnel::network::Course(points)};
  CHECK(passage.nearest(50.0, 8.0) == 1);
  CHECK(passage.nearest(50.0, 2.0) == 2);
  CHECK(passage.nearest(89.9999999999, 5.0) == 3);
}

TEST_CASE("an unsound course is refused") {
  PocketLines lines(1);
  const steady::PocketCourse sound = lines.draw().course();
  const auto refused = [&](auto&& spoil) {
    steady::PocketCourse course = sound;
    spoil(course);
    CHECK_THROWS_AS(PocketLaw(course), std::invalid_argument);
  };
  CHECK_NOTHROW(PocketLaw(sound));
  refused([](auto& c) { c.points.resize(1); });
  const auto refused_laid = [&](auto&& spoil) {
    refused([&](steady::PocketCourse& course) {
      auto points = laid(course);
      spoil(points);
      lay(course, points);
    });
  };
  refused_laid([](auto& points) { points.pop_back(); });
  refused_laid([](auto& points) { points[0].pipe = 7; });
  refused_laid([](auto& points) { points[0].length_m = -1.0; });
  refused([](auto& c) { c.mouth_m = -1.0; });
  refused([](auto& c) { c.atmospheric_head_m = 0.0; });
  refused([](auto& c) { std::swap(c.pockets[0].crest, c.pockets[0].low); });
  refused([](auto& c) { c.pockets[0].low = static_cast<int>(c.points.size()); });
  refused([](auto& c) { c.pockets[0].volume_m3 = -0.1; });
  refused([](auto& c) { c.pockets.push_back(c.pockets[0]); });
}
