// The checker of a run must see flows that are wrong, and must not call right ones wrong.
#include <catch2/catch.hpp>

#include "filling/systems.h"
#include "runnel/filling/check.h"
#include "support/rooms.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

constexpr double two_days_s = 2.0 * 86400.0;

void add_end(Model& s, const std::string& from, double from_m, double end_m) {
  Outlet end;
  end.name = "end";
  end.elevation = m(end_m);
  end.opening = m(0.012);
  end.loss = 2.5;
  s.outlets.push_back(end);
  s.pipelines.push_back(line("out", from, "end", 60.0, from_m, end_m, 0.0266));
}

/// A spring of a cup a minute, a tank with a line out of its floor, and a draw in the evening.
Model evening() {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 3.4e-6, 92.0, 93.0));
  Tank tank = round_tank("tank", 65.0, 1.5, 1.2);
  tank.inlet = m(66.4);
  tank.level = m(65.3);
  Draw draw;
  draw.flow = Flow::from_si(5e-8);  // of a day; within its two hours twelve times as much
  draw.from_hour = 17.0;
  draw.to_hour = 19.0;
  tank.draws = {draw};
  s.tanks.push_back(tank);
  s.pipelines.push_back(line("main", "spring", "tank", 300.0, 92.0, 66.4, 0.0152));
  add_end(s, "tank", 65.0, 55.0);
  return s;
}

}  // namespace

TEST_CASE("a draw from a film over a mouth in the floor is met before the line gets the rest") {
  const FillHistory history = fill(evening(), {.duration_s = two_days_s});
  REQUIRE(history.outcome == FillOutcome::done);
  CHECK(history.proof.consistent);
  CHECK(history.proof.instants >= 5);
  const StorageHistory& tank = history.storages[0];
  CHECK(tank.short_days.empty());
  CHECK(tank.drawn_m3 == Approx(5e-8 * two_days_s).epsilon(1e-9));  // all that is asked, to rounding
}

TEST_CASE("in the hollow of a lying tank a film of micrometres is checked by the water that it holds") {
  Model s = evening();
  s.tanks[0].shape = LyingCylinder{m(1.5), m(1.2)};
  for (const double yield_m3s : {3.4e-8, 3.4e-7, 3.4e-6}) {
    INFO("yield " << yield_m3s << " m3/s");
    s.boxes[0].yield = Flow::from_si(yield_m3s);
    const FillHistory history = fill(s, {.duration_s = two_days_s});
    REQUIRE(history.outcome == FillOutcome::done);
    CHECK(history.proof.consistent);
  }
}

TEST_CASE("flows, levels and sums that are not those of the run fail their check") {
  const network::System system = support::resolved(evening());
  const FillOptions options{.duration_s = two_days_s};
  const FillHistory good = fill(system, options);
  REQUIRE(check(system, options, good).consistent);

  SECTION("a flow that is a hundred-thousandth of the largest too great") {
    FillHistory wrong = good;
    for (StepRecord& step : wrong.record)
      for (StepRecord::Stage& stage : step.stage) stage.line_m3s[1] += 1e-8;
    CHECK_FALSE(check(system, options, wrong).consistent);
  }
  SECTION("levels that are a centimetre too high") {
    FillHistory wrong = good;
    for (StepRecord& step : wrong.record) step.level_m[0] += 0.01, step.last_level_m[0] += 0.01;
    CHECK(check(system, options, wrong).flow_share > 1e-6);
  }
  SECTION("levels of the last flows that the step did not end at") {
    FillHistory wrong = good;
    for (StepRecord& step : wrong.record) {
      for (double& q : step.stage[2].line_m3s) q *= 1.01;
      step.last_level_m[0] += 0.01;
    }
    CHECK(check(system, options, wrong).flow_share > 1e-6);
  }
  SECTION("a draw of more than was asked") {
    FillHistory wrong = good;
    wrong.record[1].stage[0].drawn_m3s[0] += 1e-7;
    CHECK_FALSE(check(system, options, wrong).bounded);
  }
}
