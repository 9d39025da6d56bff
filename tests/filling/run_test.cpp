// The march through time: where it halts, what it shows on the way and when it ends.
#include "runnel/filling/run.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>

#include "filling/systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

constexpr double yield_m3s = 2e-4, area_m2 = std::numbers::pi;  // of spring_and_tank

FillHistory go(const Model& model, const FillOptions& options) {
  const auto system = support::resolved(model);
  const StateTeller teller(system, 0.0);
  return Run(system, options, options.look ? &teller : nullptr).go();
}

Model drawn(double from_hour, double to_hour) {
  Model s = spring_and_tank(11.0);
  s.tanks[0].draws = {draw(1e-4, from_hour, to_hour)};
  return s;
}

}  // namespace

TEST_CASE("a run of a given length ends at its very end, and the level has risen by what came") {
  for (const double length_s : {1.0, 3600.0, 4321.5}) {
    const FillHistory history = go(spring_and_tank(10.5), {.duration_s = length_s});
    CHECK(history.outcome == FillOutcome::done);
    CHECK(history.duration_s == length_s);
    CHECK(history.storages[0].end_level_m == Approx(10.5 + yield_m3s * length_s / area_m2).epsilon(1e-12));
    CHECK(history.storages[0].inflow_m3 == Approx(yield_m3s * length_s).epsilon(1e-9));
  }
}

TEST_CASE("steps follow one another without a gap from the start to the end") {
  const FillHistory history = go(drawn(6.0, 9.0), {.duration_s = 2.0 * day_s});
  REQUIRE(history.record.size() > 4);
  CHECK(static_cast<long>(history.record.size()) == history.steps);
  CHECK(history.tries >= history.steps);
  double time_s = 0.0;
  for (const StepRecord& step : history.record) {
    CHECK(step.start_s == Approx(time_s).margin(1e-9));
    CHECK(step.length_s > 0.0);
    time_s = step.start_s + step.length_s;
  }
  CHECK(time_s == Approx(2.0 * day_s).margin(1e-9));
}

TEST_CASE("a step up to a mark is taken once where what comes does not depend on the level") {
  // The tank fills to its lip and sinks below its inlet again, day after day.
  const FillHistory history = go(drawn(6.0, 9.0), {.duration_s = 5.0 * day_s});
  const auto marks = std::count_if(history.events.begin(), history.events.end(),
                                   [](const Event& event) { return event.what == EventKind::spill_begins; });
  CHECK(marks >= 5);
  CHECK(history.tries == history.steps);
}

TEST_CASE("no step passes an hour in which draws change, or a midnight") {
  const FillHistory history = go(drawn(6.5, 9.0), {.duration_s = 3.0 * day_s, .start_hour = 4.0});
  std::vector<double> halts;
  for (int d = 0; d < 3; ++d)
    for (const double hour : {2.5, 5.0, 24.0}) halts.push_back(d * day_s + hour * 3600.0);
  for (const StepRecord& step : history.record)
    for (const double halt : halts)
      CHECK_FALSE((step.start_s < halt - 1e-6 && step.start_s + step.length_s > halt + 1e-6));
  // Each change is told at its very second.
  std::vector<double> told;
  for (const Event& event : history.events)
    if (event.what == EventKind::draw_changes) told.push_back(event.time_s);
  CHECK(told == std::vector<double>{2.5 * 3600.0, 5.0 * 3600.0, day_s + 2.5 * 3600.0, day_s + 5.0 * 3600.0,
                                    2.0 * day_s + 2.5 * 3600.0, 2.0 * day_s + 5.0 * 3600.0});
}

TEST_CASE("until full, it stops at the moment the water reaches the lip") {
  const FillHistory history = go(spring_and_tank(10.5), {.until_full = true});
  CHECK(history.outcome == FillOutcome::done);
  CHECK(history.duration_s == Approx(1.5 * area_m2 / yield_m3s).epsilon(1e-10));
  CHECK(history.storages[0].full_after_s == history.duration_s);
  const FillHistory from_empty = go(spring_and_tank(10.5), {.until_full = true, .from_empty = true});
  CHECK(from_empty.duration_s == Approx(2.0 * area_m2 / yield_m3s).epsilon(1e-10));
  CHECK(from_empty.storages[0].start_m3 == 0.0);
}

TEST_CASE("until empty, it stops at the moment the water reaches the level that counts as emptied") {
  Model s = spring_and_tank(11.5);
  s.tanks[0].draws = {draw(5e-4)};
  const FillHistory history = go(s, {.emptied_at_m = {10.25}, .until_empty = true});
  CHECK(history.outcome == FillOutcome::done);
  CHECK(history.duration_s == Approx(1.25 * area_m2 / (5e-4 - yield_m3s)).epsilon(1e-9));
}

TEST_CASE("until empty, it stops once it is certain that nothing will empty any more") {
  const FillOptions years{.duration_s = 3650.0 * day_s, .emptied_at_m = {10.05}, .until_empty = true};
  // The spring brings twice what is drawn: the tank fills, spills and stays so.
  Model rests = spring_and_tank(11.5);
  rests.tanks[0].draws = {draw(0.5 * yield_m3s)};
  CHECK(go(rests, years).duration_s < 10.0 * day_s);
  // A float valve lets in each time what was drawn since the last.
  Model cycles = rests;
  cycles.tanks[0].float_valve = FloatValve{m(11.8), m(11.2), 2.0};
  const FillHistory history = go(cycles, years);
  CHECK(history.outcome == FillOutcome::done);
  CHECK_FALSE(history.storages[0].emptied_at_s);
  CHECK(history.duration_s < 10.0 * day_s);
  // By the hour, a day like the day before tells as much.
  Model daily = rests;
  daily.tanks[0].draws = {draw(yield_m3s, 6.0, 9.0)};
  CHECK(go(daily, years).duration_s < 30.0 * day_s);
}

TEST_CASE("until empty, it stops where float valves open for ever and never at the same time again") {
  // Two tanks in a row, both behind narrow floats: the upper one is drawn from by the lower one's float.
  Model s = spring_and_tank(11.5);
  s.tanks[0].float_valve = FloatValve{m(11.8), m(11.7), 2.0};
  s.tanks[0].draws = {draw(0.3 * yield_m3s)};
  Tank below = round_tank("below", 2.0, 2.0, 2.5);
  below.level = m(3.8);
  below.float_valve = FloatValve{m(3.8), m(3.65), 2.0};
  below.draws = {draw(0.2 * yield_m3s, 6.0, 9.0)};
  s.tanks.push_back(below);
  s.pipelines.push_back(line("on", "tank", "below", 100.0, 10.1, 4.0, 0.026));
  const FillOptions years{.duration_s = 3650.0 * day_s, .emptied_at_m = {10.15, 2.05}, .until_empty = true};
  const FillHistory history = go(s, years);
  CHECK(history.outcome == FillOutcome::done);
  CHECK_FALSE(history.storages[0].emptied_at_s);
  CHECK_FALSE(history.storages[1].emptied_at_s);
  CHECK(history.rest == RestKind::no);
  CHECK(history.duration_s < 100.0 * day_s);
  // Where more is drawn than comes it goes on until both are empty.
  s.tanks[1].draws = {draw(0.75 * yield_m3s, 6.0, 9.0)};
  const FillHistory sinks = go(s, years);
  CHECK(sinks.storages[1].emptied_at_s);
}

TEST_CASE("a run of a given length may end once one day is like the day before") {
  FillOptions options{.duration_s = 100.0 * day_s};
  CHECK(go(drawn(6.0, 9.0), options).duration_s == Approx(options.duration_s));
  options.until_alike = true;
  const FillHistory alike = go(drawn(6.0, 9.0), options);
  CHECK(alike.rest == RestKind::daily);
  CHECK(alike.duration_s < 10.0 * day_s);
}

TEST_CASE("of itself it ends at rest, and no sooner than it should where something is drawn") {
  const FillHistory rest = go(spring_and_tank(10.5), {});
  CHECK(rest.outcome == FillOutcome::done);
  CHECK(rest.duration_s == Approx(1.5 * area_m2 / yield_m3s).epsilon(1e-9));  // full, and spilling on
  const FillHistory daily = go(drawn(6.0, 9.0), {.least_s = 5.0 * day_s});
  CHECK(daily.outcome == FillOutcome::done);
  CHECK(daily.rest == RestKind::daily);
  CHECK(daily.duration_s == Approx(5.0 * day_s).margin(1e-6));
}

TEST_CASE("whoever looks is shown the start, the end and both sides of every change") {
  std::vector<double> at_s, level_m;
  FillOptions options{.duration_s = 10.0 * 3600.0};
  options.look = [&](double time_s, const network::State& state) {
    at_s.push_back(time_s);
    level_m.push_back(*state.tanks[0].level_m);
  };
  Model s = drawn(6.0, 9.0);
  // A tap with hours of its own on the way: its draw changes flows, which a tank's does not.
  Joint tee;
  tee.name = "tee";
  tee.elevation = m(20.0);
  tee.draws = {draw(1e-5, 2.0, 3.0)};
  s.joints.push_back(tee);
  s.pipelines[0] = line("upper", "spring", "tee", 60.0, 29.0, 20.0, 0.026, 0.5, 0.0);
  s.pipelines.push_back(line("lower", "tee", "tank", 60.0, 20.0, 12.0, 0.026, 0.0, 1.0));
  go(s, options);
  REQUIRE(at_s.size() >= 6);
  CHECK(at_s.front() == 0.0);
  CHECK(level_m.front() == Approx(11.0).epsilon(1e-12));
  CHECK(at_s.back() == Approx(10.0 * 3600.0).margin(2e-3));  // just before the stroke
  CHECK(std::is_sorted(at_s.begin(), at_s.end()));
  for (const double hour : {2.0, 3.0})
    for (const double side : {-1.0, 1.0})
      CHECK(std::any_of(at_s.begin(), at_s.end(), [&](double t) {
        return side * (t - hour * 3600.0) > 0.0 && std::abs(t - hour * 3600.0) < 1.0;
      }));
}

TEST_CASE("nobody is shown anything who does not look") {
  const auto system = support::resolved(spring_and_tank(11.0));
  bool shown = false;
  FillOptions options{.duration_s = 3600.0};
  options.look = [&](double, const network::State&) { shown = true; };
  CHECK(Run(system, options).go().outcome == FillOutcome::done);
  CHECK_FALSE(shown);
}

TEST_CASE("a run that may cost nothing gives up where it stands, and one that is stopped is done no more") {
  FillOptions dear{.duration_s = 100.0 * day_s};
  dear.work = {.at_once = 0.0, .a_day = 0.0};
  const FillHistory gave_up = go(drawn(6.0, 9.0), dear);
  CHECK(gave_up.outcome == FillOutcome::gave_up);
  CHECK(gave_up.duration_s < day_s);

  FillOptions stopped{.duration_s = 36500.0 * day_s};
  double reached_s = -1.0;
  stopped.progress = [&](double time_s) { return (reached_s = time_s) < 100.0 * day_s; };
  const FillHistory history = go(drawn(6.0, 9.0), stopped);
  CHECK(history.outcome == FillOutcome::stopped);
  CHECK(history.duration_s == reached_s);
  CHECK(reached_s >= 100.0 * day_s);
}

TEST_CASE("without any storage nothing runs") {
  const FillHistory history = go(spring_to_an_end(), {.duration_s = 3600.0});
  CHECK(history.storages.empty());
  CHECK(history.steps == 0);
  CHECK(history.duration_s == 0.0);
}

TEST_CASE("a draw that ends a hair after a tank runs dry ends all the same") {
  // 0.3 L/s are drawn until 4 o'clock, and the tank is dry a ten-millionth of a second before.
  const double until_dry_s = 4.0 * 3600.0 - 1e-7;
  Model model = spring_and_tank(10.0 + 1e-4 * until_dry_s / area_m2);
  model.tanks[0].draws = {draw(1e-4, 20.0, 4.0)};
  const auto system = support::resolved(model);
  const FillHistory history = fill(system, {.duration_s = day_s});
  REQUIRE(history.outcome == FillOutcome::done);
  CHECK(history.proof.consistent);
  CHECK(history.storages[0].asked_m3 == Approx(3e-4 * 8.0 * 3600.0).epsilon(1e-9));
  CHECK(history.storages[0].highest_m > 11.0);  // 2.9 m3 come from 4 to 20 o'clock
}

TEST_CASE("a run goes on while a float valve opens on some days and not on others") {
  // Its band of 1.3 m holds nearly 4.1 m3, of which 1 m3 is drawn a day: it opens every fourth day.
  Model model = spring_and_tank(11.9);
  model.tanks[0].float_valve = FloatValve{m(11.9), m(10.6), 6.0};
  model.tanks[0].inlet = m(11.95);
  model.tanks[0].draws = {draw(1e-3 / 86.4, 6.0, 9.0)};
  const FillHistory history = go(model, {});
  CHECK(history.duration_s >= 30.0 * day_s);
  // One that opens several times a day has soon done so at all hours.
  model.tanks[0].float_valve = FloatValve{m(11.9), m(11.8), 6.0};
  CHECK(go(model, {}).duration_s < 15.0 * day_s);
}
