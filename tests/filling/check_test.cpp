// The checker of a run on a record made up by hand, whose sums are known: it passes, and every figure in it
// that is made wrong is found by the check that is there for it.
#include "runnel/filling/check.h"

#include <catch2/catch.hpp>
#include <numbers>

#include "filling/systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

constexpr double yield_m3s = 2e-4, area_m2 = std::numbers::pi, step_s = 900.0;
constexpr int steps = 8;

struct Made {
  network::System system = support::resolved(model());
  FillOptions options;
  FillHistory history = made();

  /// 0.2 L/s pour in freely over the lip's height, whatever the level.
  static Model model() {
    Model s = spring_and_tank(10.5);
    s.tanks[0].draws = {draw(1e-4)};
    return s;
  }
  FillProof proof() const { return check(system, options, history); }

  /// A draw of 0.1 L/s all day: the level rises by half of what comes.
  static FillHistory made() {
    FillHistory history;
    StorageHistory tank;
    tank.name = "tank";
    const double rise_m = (yield_m3s - 1e-4) * step_s / area_m2;
    tank.start_level_m = 10.5;
    tank.end_level_m = 10.5 + steps * rise_m;
    for (int n = 0; n < steps; ++n) {
      StepRecord step;
      step.start_s = n * step_s;
      step.length_s = step_s;
      step.level_m = {10.5 + n * rise_m};
      step.last_level_m = {10.5 + (n + 1) * rise_m};
      step.valve = {Valve::open};
      step.film = {0};
      for (auto& stage : step.stage) {
        stage.line_m3s = {yield_m3s};
        stage.spill_m3s = {0.0};
        stage.drawn_m3s = {1e-4};
      }
      history.record.push_back(step);
    }
    history.duration_s = steps * step_s;
    history.storages = {tank};
    return history;
  }
};

/// Weights of the three stages of the method of order five by Radau: (16 -+ sqrt 6) / 36 and 1/9.
const double weights[] = {(16.0 - std::sqrt(6.0)) / 36.0, (16.0 + std::sqrt(6.0)) / 36.0, 1.0 / 9.0};

}  // namespace

TEST_CASE("a record that is right passes with nothing left over") {
  const FillProof proof = Made().proof();
  CHECK(proof.consistent);
  CHECK(proof.bounded);
  CHECK(proof.balance_share < 1e-13);  // a few sums of doubles
  CHECK(proof.flow_share < 1e-9);
  CHECK(proof.instants == steps - 1);
}

TEST_CASE("water that is missing is told as its share of all that passed") {
  Made made;
  const double off_m = 1e-6, passed = yield_m3s * step_s * steps + area_m2 * 0.5;
  made.history.storages[0].end_level_m += off_m;
  const FillProof proof = made.proof();
  CHECK(proof.balance_share == Approx(area_m2 * off_m / passed).epsilon(1e-6));
  CHECK_FALSE(proof.consistent);
  CHECK(proof.bounded);
}

TEST_CASE("each stage counts by its weight") {
  for (int k = 0; k < 3; ++k) {
    Made made;
    made.history.record[2].stage[k].drawn_m3s[0] -= 1e-6;
    const double passed = yield_m3s * step_s * steps + area_m2 * 0.5;
    CHECK(made.proof().balance_share == Approx(1e-6 * weights[k] * step_s / passed).epsilon(1e-6));
  }
  // What one stage lacks another may have too much of.
  Made made;
  made.history.record[2].stage[0].drawn_m3s[0] -= 1e-6 / weights[0];
  made.history.record[2].stage[1].drawn_m3s[0] += 1e-6 / weights[1];
  CHECK(made.proof().balance_share < 1e-13);
}

TEST_CASE("what leaves elsewhere counts in the balance of the whole alone") {
  Made made;
  made.history.record[1].stage[2].other_out_m3s = 1e-5;
  const double passed = yield_m3s * step_s * steps + area_m2 * 0.5;
  CHECK(made.proof().balance_share == Approx(1e-5 * weights[2] * step_s / passed).epsilon(1e-6));
}

TEST_CASE("levels outside a tank are out of bounds") {
  for (const double level_m : {10.0 - 1e-5, 12.0 + 1e-5}) {
    Made made;
    made.history.record[3].level_m[0] = level_m;
    CHECK_FALSE(made.proof().bounded);
    CHECK_FALSE(made.proof().consistent);
  }
  Made made;
  made.history.record[3].level_m[0] = 12.0 + 1e-7;  // as good as the lip
  CHECK(made.proof().bounded);
}

TEST_CASE("a spill below the lip, or backwards, is out of bounds") {
  Made made;
  made.history.record[3].stage[1].spill_m3s[0] = 1e-9;
  CHECK_FALSE(made.proof().bounded);
  made.history.record[3].level_m[0] = 12.0;
  CHECK(made.proof().bounded);
  made.history.record[3].stage[1].spill_m3s[0] = -1e-6;
  CHECK_FALSE(made.proof().bounded);
}

TEST_CASE("draws below nothing and above what is asked are out of bounds") {
  for (const double drawn : {-1e-9, 1.00001e-4}) {
    Made made;
    made.history.record[3].stage[1].drawn_m3s[0] = drawn;
    CHECK_FALSE(made.proof().bounded);
  }
  Made made;
  made.history.record[3].stage[1].drawn_m3s[0] = 0.5e-4;  // less than asked is no breach of bounds
  CHECK(made.proof().bounded);
}

TEST_CASE("a tap by the hour gets no more in all than is drawn there") {
  Made made;
  Model model = Made::model();
  Outlet tap;
  tap.name = "tap";
  tap.elevation = m(9.0);
  tap.opening = m(0.01);
  tap.draws = {draw(1e-5)};
  model.outlets.push_back(tap);
  made.system = support::resolved(model);
  const double most = 1e-5 * step_s * steps;
  for (const double share : {0.0, 1.0, 1.001, -0.001}) {
    made.history.places = {PlaceHistory{}};
    made.history.places[0].name = "tap";
    made.history.places[0].kind = PlaceKind::outlet;
    made.history.places[0].given_m3 = share * most;
    CAPTURE(share);
    CHECK(made.proof().bounded == (share >= 0.0 && share <= 1.0));
    made.history.places[0].name = "another";  // of which the model says nothing
    CHECK(made.proof().bounded);
  }
}

TEST_CASE("flows that are not those of the levels are found") {
  Made made;
  for (auto& step : made.history.record)
    for (auto& stage : step.stage) stage.line_m3s[0] *= 1.001, stage.drawn_m3s[0] += 0.001 * yield_m3s;
  const FillProof proof = made.proof();
  CHECK(proof.flow_m3s == Approx(0.001 * yield_m3s).epsilon(1e-6));
  CHECK(proof.flow_share > 1e-6);
  CHECK_FALSE(proof.consistent);
}

TEST_CASE("a run without a step holds if none was due") {
  Made made;
  made.history.record.clear();
  made.history.duration_s = 0.0;
  CHECK(made.proof().consistent);
  made.history.duration_s = 5.0;
  CHECK_FALSE(made.proof().consistent);
  made.history.duration_s = 0.0;
  made.history.outcome = FillOutcome::no_answer;
  CHECK_FALSE(made.proof().consistent);
}
