// Lines that do not run full, on random single lines: the network's law against the backward trace.
#include <catch2/catch.hpp>

#include "support/resolved.h"
#include "runnel/steady/newton.h"
#include "steady/random_line.h"

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
