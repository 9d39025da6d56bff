#include "runnel/air/risk.h"

#include <catch2/catch.hpp>

namespace air = runnel::air;
using air::Risk;
using air::StartVerdict;
using air::Swept;

TEST_CASE("a crest is graded by the gravest thing that holds") {
  air::CrestEvidence e;
  e.start = StartVerdict::blocked;
  CHECK(grade_crest(e).risk == Risk::high);
  e.start = StartVerdict::doubtful;
  CHECK(grade_crest(e).risk == Risk::moderate);
  e.swept = Swept::by_none;
  CHECK(grade_crest(e).risk == Risk::high);
  e.start = StartVerdict::starts;
  CHECK(grade_crest(e).risk == Risk::moderate);
  e.swept = Swept::by_all;
  CHECK(grade_crest(e).risk == Risk::low);
  e.clearance_m = 0.5;
  e.wanted_clearance_m = 1.0;
  CHECK(grade_crest(e).risk == Risk::moderate);
  e.clearance_m = -0.5;
  CHECK(grade_crest(e).risk == Risk::high);
}

TEST_CASE("a vent lowers the risk unless the grade line runs below it") {
  air::CrestEvidence e;
  e.start = StartVerdict::doubtful;
  e.swept = Swept::by_none;
  e.vented = true;
  CHECK(grade_crest(e).risk == Risk::low);
  e.clearance_m = -1.0;
  CHECK(grade_crest(e).risk == Risk::high);
}

TEST_CASE("grades within the survey's error are found once, however fine the survey") {
  const auto coarse = air::profile_of({{0, 10}, {100, 9.9}, {200, 5}, {300, 5}}, 0.03);
  const auto fine = air::profile_of(
      {{0, 10}, {25, 9.975}, {50, 9.95}, {100, 9.9}, {150, 7.45}, {200, 5}, {250, 5}, {300, 5}}, 0.03);
  for (const auto& p : {coarse, fine}) {
    const auto found = air::uncertain_grades(p, 0.06);
    REQUIRE(found.size() == 2);
    CHECK(found[0].to_station_m == 100.0);
    CHECK(found[1].from_station_m == 200.0);
    CHECK(air::uncertain_grades(p, 0.04).size() == 1);
  }
}

TEST_CASE("low points without a washout") {
  auto p = air::profile_of({{0, 20}, {50, 5}, {100, 12}, {160, 4}, {220, 10}}, 0.03);
  CHECK(air::lows_without_washout(p) == std::vector<int>{1, 3});
  p.washouts.push_back({160.0, "W1"});
  CHECK(air::lows_without_washout(p) == std::vector<int>{1});
  p.washouts.push_back({80.0, "W2"});  // on the rise: drains nothing below it
  CHECK(air::lows_without_washout(p) == std::vector<int>{1});
}
