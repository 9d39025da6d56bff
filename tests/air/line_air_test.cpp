#include "runnel/air/line_air.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "air/air_systems.h"
#include "steady/random_line.h"

namespace air = runnel::air;
namespace network = runnel::network;
namespace steady = runnel::steady;
namespace test = runnel::test;
using air::Risk;
using air::RiskKind;
using runnel::Length;

namespace {

air::AirJudgement judged(const network::System& s, std::size_t budget = 2000) {
  air::AirOptions options;
  options.pipelines_solved = budget;
  return air::judge_air(s, steady::solve(s), options);
}

const air::RiskPoint* of_kind(const air::LineAir& line, RiskKind kind) {
  for (const auto& p : line.stretches)
    if (p.kind == kind) return &p;
  return nullptr;
}

}  // namespace

TEST_CASE("a worked line: clearance at a crest by hand") {
  // 1.5 L/s in 50 mm, C 150. Loss per metre 10.67 * (0.0015 / 150)^1.852 / 0.05^4.8704 = 0.012718. The line
  // is fed 1.5 L/s and gives it. Back from the free end (75) the 400.061 m of pipe below the crest cost 5.088
  // m, so the grade line asks for 80.09 at the crest, where the pipe lies at 82: it lies on its floor and the
  // descent runs part-full.
  const double j = 10.67 * std::pow(1.5e-3 / 150, 1.852) / std::pow(0.05, 4.8704);
  CHECK(j == Approx(0.012718).epsilon(1e-3));
  auto s = test::crest_line({{0, 100}, {300, 70}, {600, 82}, {1000, 75}}, 0.05, 1.5e-3);
  const auto governed = judged(s).lines[0];
  REQUIRE(governed.crests.size() == 1);
  CHECK(*governed.crests[0].crest.clearance_m == Approx(0.0).margin(1e-6));
  REQUIRE(of_kind(governed, RiskKind::part_full));
  // With the end at 79 instead: 400.011 m cost 5.087 m, and 84.087 at the crest is 2.087 m clear of it.
  s = test::crest_line({{0, 100}, {300, 70}, {600, 82}, {1000, 79}}, 0.05, 1.5e-3);
  CHECK(*judged(s).lines[0].crests[0].crest.clearance_m ==
        Approx(79 + j * std::hypot(400, 3) - 82).margin(1e-6));
}

TEST_CASE("wanted clearance is the survey's stated error, else a stated custom") {
  auto s = test::crest_line(test::over_a_crest, 0.05);
  CHECK(judged(s).lines[0].wanted_clearance_m == 1.0);
  CHECK_FALSE(judged(s).lines[0].clearance_stated);
  s.pipelines[0].survey_error = Length::metres(0.25);
  CHECK(judged(s).lines[0].wanted_clearance_m == 0.25);
  CHECK(judged(s).lines[0].clearance_stated);
  s.pipelines[0].survey_error.reset();
  air::AirOptions options;
  options.clearance.unstated_m = 3.0;
  CHECK(air::judge_air(s, steady::solve(s), options).lines[0].wanted_clearance_m == 3.0);
}

TEST_CASE("suction is graded by how far the water is under the air's pressure") {
  // A sealed line that falls steeply at its end: the grade line runs far below the pipe at the brink.
  const auto line = [](double brink_m, double end_m) {
    return judged(
        test::crest_line({{0, 100}, {400, brink_m}, {420, end_m}}, 0.03, 1e-2, network::Air::sealed));
  };
  const auto gentle = line(99.0, 97.0);
  const auto deep = line(99.0, 89.0);
  const auto* little = of_kind(gentle.lines[0], RiskKind::sub_atmospheric);
  const auto* much = of_kind(deep.lines[0], RiskKind::sub_atmospheric);
  REQUIRE(little);
  REQUIRE(much);
  CHECK(little->risk == Risk::moderate);
  CHECK(*much->clearance_m < -air::air_comes_out_m);
  CHECK(much->risk == Risk::high);
  CHECK(much->worst_m == 400.0);
  CHECK(much->limit_m == -7.5);
  // It ends where the pressure comes back to the air's: at the free end.
  CHECK(much->to_m == Approx(420.0).margin(0.01));
}

TEST_CASE("what is near the grade line by nature is no risk") {
  // From the box straight down to a free end, part-full at the top: its air rises back to the box.
  const auto straight = judged(test::crest_line({{0, 100}, {300, 70}}, 0.04, 2e-4));
  CHECK(straight.lines[0].stretches.empty());
  CHECK(straight.lines[0].crests.empty());
}

TEST_CASE("a grade within the survey's error is bent and tried") {
  // Almost level from 300 to 500: bent by 0.5 m at both ends it rises on the way down, a low point before it.
  auto s = test::crest_line({{0, 100}, {300, 90}, {500, 89.9}, {700, 80}}, 0.03, 1e-4);
  CHECK_FALSE(of_kind(judged(s).lines[0], RiskKind::uncertain_grade));
  s.pipelines[0].survey_error = Length::metres(0.5);
  const auto line = judged(s).lines[0];
  const auto* doubt = of_kind(line, RiskKind::uncertain_grade);
  REQUIRE(doubt);
  CHECK(doubt->from_m == 300.0);
  CHECK(doubt->to_m == 500.0);
  CHECK(doubt->limit_m == 1.0);  // both ends off by 0.5 m, opposite ways
  // Worked out again from the bent survey: low point at 89.5, crest at 90.4, free end: no more than 90.4 is
  // asked.
  REQUIRE(doubt->level_rise_m);
  const auto bent = test::crest_line({{0, 100}, {300, 89.5}, {500, 90.4}, {700, 80}}, 0.03, 1e-4);
  CHECK(*doubt->level_rise_m == Approx(air::ways_of(bent, 1)[0].start.uncompressed_level_m -
                                       air::ways_of(s, 1)[0].start.uncompressed_level_m)
                                    .margin(1e-9));
}

TEST_CASE("a washout drains what lies between the crests beside it") {
  const auto s = test::crest_line({{0, 100}, {200, 80}, {400, 95}, {600, 70}, {800, 85}}, 0.04);
  const auto wanted = air::washouts_wanted(s.pipelines[0]);
  REQUIRE(wanted.size() == 2);
  CHECK(wanted[0].station_m == 200.0);
  // By Pythagoras: 200.998 + 200.562 = 401.559 m of a bore of 1.25664e-3 m2.
  CHECK(wanted[0].drains_length_m == Approx(401.559).epsilon(1e-5));
  CHECK(wanted[0].drains_m3 == Approx(0.504615).epsilon(1e-4));
  auto fitted = s;
  fitted.pipelines[0].parts.push_back(small::part(network::PartKind::washout, "W", 200.0));
  CHECK(air::washouts_wanted(fitted.pipelines[0]).size() == 1);
}

TEST_CASE("venting a crest never raises its risk") {
  std::size_t compared = 0, lowered = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    const test::RandomLine line(seed);
    const auto before = judged(line.system, 0);
    for (const auto& c : before.lines[0].crests) {
      auto with = line.system;
      auto valve = small::part(network::PartKind::air_valve, "A", c.crest.station_m);
      with.pipelines[0].parts.push_back(valve);
      std::stable_sort(with.pipelines[0].parts.begin(), with.pipelines[0].parts.end(),
                       [](const auto& a, const auto& b) { return a.at < b.at; });
      const auto crests = judged(with, 0).lines[0].crests;
      const auto same = std::find_if(crests.begin(), crests.end(), [&](const auto& o) {
        return std::abs(o.crest.station_m - c.crest.station_m) < 1e-9;
      });
      REQUIRE(same != crests.end());
      INFO("seed " << seed << " station " << c.crest.station_m);
      CHECK(same->crest.vented);
      CHECK(same->crest.graded.risk <= c.crest.graded.risk);
      ++compared;
      lowered += same->crest.graded.risk < c.crest.graded.risk;
    }
  }
  CHECK(compared > 300);  // the test saw what it is about
  CHECK(lowered > 30);
}

TEST_CASE("the datum does not matter") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    INFO("seed " << seed);
    const network::System here = test::RandomLine(seed).system;
    const auto a = judged(here, 300), b = judged(test::lifted(here, 1234.5), 300);
    const air::LineAir &x = a.lines[0], &y = b.lines[0];
    REQUIRE(x.crests.size() == y.crests.size());
    CHECK(x.stretches.size() == y.stretches.size());
    CHECK(x.descents.size() == y.descents.size());
    CHECK(x.jumps.size() == y.jumps.size());
    CHECK(x.washouts.size() == y.washouts.size());
    for (std::size_t i = 0; i < x.crests.size(); ++i) {
      CHECK(x.crests[i].crest.graded.risk == y.crests[i].crest.graded.risk);
      CHECK(x.crests[i].crest.graded.reason == y.crests[i].crest.graded.reason);
      if (!x.crests[i].remedies || !y.crests[i].remedies) continue;
      REQUIRE(x.crests[i].remedies->digs.size() == y.crests[i].remedies->digs.size());
      for (std::size_t k = 0; k < x.crests[i].remedies->digs.size();
           ++k)  // the bisection may fall on either side
        CHECK(x.crests[i].remedies->digs[k].depth_m ==
              Approx(y.crests[i].remedies->digs[k].depth_m).margin(0.011));
      CHECK(x.crests[i].remedies->bore.has_value() == y.crests[i].remedies->bore.has_value());
    }
  }
}
