// Lines that do not run full, on random single lines: the network's law against the backward trace.
#include <catch2/catch.hpp>

#include "runnel/steady/newton.h"
#include "steady/random_line.h"
#include "support/resolved.h"

using runnel::test::RandomLine;
namespace steady = runnel::steady;

TEST_CASE("the network form gives what the backward trace gives, on 10,000 random lines") {
  int flowing = 0, by_level = 0;
  for (std::uint64_t seed = 0; seed < 10000; ++seed) {
    const RandomLine line(seed);
    const steady::Assembly assembly = steady::assemble(line.system);
    const steady::KernelState solved = steady::solve(assembly.kernel);
    REQUIRE(solved.outcome == steady::Outcome::settled);
    const double traced = line.flow_by_trace(), found = solved.flow_m3s[0];
    if (traced > 0.0) ++flowing;
    // Heads near 100 m carry a rounding of 1.4e-14 m; in a wide pipe with a centimetre of room that is more
    // than 1e-9 of the flow. There the same answer is asked for in heads instead.
    const double apart = std::abs(found - traced) / std::max(traced, 1e-9);
    const double level_apart = std::abs(line.asked_level(found) - line.asked_level(traced));
    if (apart > 1e-9 && level_apart > 1e-9)  // and local losses below Re = 0.1 are smoothed by less than that
      FAIL_CHECK("seed " << seed << ": " << found << " against " << traced << ", apart by " << found - traced
                         << ", level by " << level_apart);
    if (apart > 1e-9) ++by_level;
  }
  CHECK(by_level < 50);
  CHECK(flowing > 9000);  // the set is not idle
}

TEST_CASE("Newton settles from cold on 100,000 random lines with crests, by plain steps alone") {
  int failures = 0;
  std::size_t most = 0;
  for (std::uint64_t seed = 100000; seed < 200000; ++seed) {
    const RandomLine line(seed);
    const steady::KernelState solved = steady::solve(steady::assemble(line.system).kernel);
    if (solved.outcome != steady::Outcome::settled) {
      ++failures;
      UNSCOPED_INFO("seed " << seed);
    }
    most = std::max(most, solved.history.size());
  }
  CHECK(failures == 0);
  CHECK(most <= 40);  // seen: 19; the slow way is not needed
}

TEST_CASE("raising a crest never lets a line carry more, a finer survey changes nothing") {
  for (std::uint64_t seed = 0; seed < 1000; ++seed) {
    RandomLine line(seed);
    auto carried = [](const runnel::network::Model& system) {
      return steady::solve(steady::assemble(system).kernel).flow_m3s[0];
    };
    const double before = carried(line.system);
    runnel::network::Model finer = line.system;
    auto& survey = finer.pipelines[0].survey;
    for (std::size_t i = survey.size() - 1; i > 0; --i)
      survey.insert(survey.begin() + static_cast<std::ptrdiff_t>(i),
                    {0.5 * (survey[i - 1].station + survey[i].station),
                     0.5 * (survey[i - 1].elevation + survey[i].elevation)});
    // Rounding of the midpoints, and of heads near 100 m at the mouth's steep law.
    CHECK(carried(finer) == Approx(before).epsilon(1e-8).margin(1e-12));
    if (line.system.pipelines[0].survey.size() < 3) continue;
    runnel::network::Model raised = line.system;
    auto& points = raised.pipelines[0].survey;
    points[points.size() / 2].elevation += runnel::Length::metres(0.7);
    const double after = carried(raised);
    // The line also gets longer or shorter by the change of slope; compare where the point stood high.
    if (points[points.size() / 2].elevation > points[points.size() / 2 - 1].elevation &&
        points[points.size() / 2].elevation > points[points.size() / 2 + 1].elevation)
      CHECK(after <= before * (1.0 + 1e-3) + 1e-12);
  }
}

TEST_CASE("an expansion on a crest is paid once") {
  // Box at 10 m, 40 m of 30 mm pipe level to a crest at 9 m, from there 60 mm pipe steeply down. The crest
  // holds the flow: before it the water has the velocity head of the narrow pipe, of which the expansion then
  // takes its share; what is left is more than the wide pipe needs.
  runnel::network::Model model;
  model.site.water.kinematic_viscosity_m2s = 1.3e-6;
  runnel::network::Box box;
  box.name = "box";
  box.yield = runnel::Flow::from_si(0.05);
  box.outlet = runnel::Length::metres(9.0);
  box.lip = runnel::Length::metres(10.0);
  model.boxes = {box};
  runnel::network::Outlet end;
  end.name = "end";
  end.elevation = runnel::Length::metres(0.0);
  model.outlets = {end};
  runnel::network::Pipeline line;
  line.name = "main";
  line.from = "box";
  line.to = "end";
  const auto point = [](double station_m, double elevation_m) {
    return runnel::network::SurveyPoint{runnel::Length::metres(station_m),
                                        runnel::Length::metres(elevation_m)};
  };
  line.survey = {point(0, 9), point(40, 9), point(60, 0)};
  runnel::pipes::Pipe narrow, wide;
  narrow.bore = runnel::Length::metres(0.03);
  wide.bore = runnel::Length::metres(0.06);
  narrow.roughness = wide.roughness = runnel::Length::metres(1.5e-6);
  line.pipes = {{narrow, {}, {}, {}}, {wide, runnel::Length::metres(40), {}, {}}};
  line.entrance_loss = 0.5;
  line.exit_loss = 1.0;
  model.pipelines = {line};
  const steady::State state = steady::solve(model);
  REQUIRE(state.outcome == steady::Outcome::settled);
  CHECK(state.proof.consistent);
  const double q = state.lines[0].flow_m3s;
  const double area = 3.14159265358979323846 * 0.03 * 0.03 / 4.0;
  const double velocity_head_m = q * q / (2.0 * 9.80665 * area * area);
  const runnel::losses::PipeFriction friction({}, 0.03, 1.5e-6, 0.0, 1.3e-6);
  // Level = crest + velocity head + entrance + friction: no share of the expansion besides.
  CHECK(9.0 + 1.5 * velocity_head_m + 40.0 * friction.per_metre(q).head_m == Approx(10.0).margin(1e-8));
  CHECK(*state.lines[0].points[1].grade_m == Approx(9.0).margin(1e-8));

  // Where it narrows instead, the water behind the crest is the fast one, and it pays to get in there.
  std::swap(model.pipelines[0].pipes[0].pipe, model.pipelines[0].pipes[1].pipe);
  const steady::State narrowing = steady::solve(model);
  REQUIRE(narrowing.outcome == steady::Outcome::settled);
  CHECK(narrowing.proof.consistent);
}
