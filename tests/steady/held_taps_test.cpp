// Taps that people open just so far that no more comes than they want.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/steady/solver.h"
#include "steady/nasty_system.h"
#include "steady/random_system.h"
#include "support/draw.h"

using namespace runnel;
using network::Model;
using support::draw;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// A box over an outlet with an opening, which draws so much.
Model one_tap(double draws_m3s) {
  Model s = small::empty();
  small::box(s, "spring", 2e-3, 50.0, 51.0);
  small::outlet(s, "tap", 5.0, 0.012, 2.5);
  small::line(s, "main", "spring", "tap", 0.0266, {{0, 50}, {200, 20}, {320, 5}}).exit_loss = 0.0;
  if (draws_m3s > 0.0) s.outlets[0].draws = {draw(draws_m3s)};
  return s;
}

/// Every second tap or so draws something, from next to nothing to more than it could ever let out.
Model with_drawn_taps(Model model, std::uint64_t seed) {
  plain::Dice dice(seed * 7919);
  for (network::Outlet& outlet : model.outlets)
    if (dice.chance(0.6)) outlet.draws = {draw(std::pow(10.0, dice.real(-6.0, -2.0)))};
  return model;
}

/// The same with one tap standing wide open.
Model with_wide(Model model, std::size_t tap) {
  model.outlets[tap].draws.clear();
  return model;
}

double all_flow_m3s(const steady::State& state) {
  double all = 1e-6;
  for (const auto& line : state.lines) all += std::abs(line.flow_m3s);
  return all;
}

}  // namespace

TEST_CASE("a tap that gets all it wants behind a part-full stretch stands under what its opening needs") {
  // Half of the spring runs over the edge of each branch; nothing of the head above the tee reaches the tap.
  Model s = small::empty();
  small::box(s, "spring", 2e-4, 50.0, 51.0);
  small::joint(s, "tee", 10.0, 0.0);
  small::outlet(s, "tap", 5.0, 0.006, 3.0);
  small::outlet(s, "end", 2.0, 0.0, 0.0);
  small::line(s, "main", "spring", "tee", 0.0326, {{0, 50}, {100, 10}});
  small::line(s, "to tap", "tee", "tap", 0.0326, {{0, 10}, {13, 7.3}, {27, 6.7}, {40, 5}}).exit_loss = 0.0;
  small::line(s, "to end", "tee", "end", 0.0326, {{0, 10}, {30, 2}});
  s.outlets[0].draws = {draw(1e-4)};
  const steady::State state = steady::solve(s);
  REQUIRE(state.outcome == steady::Outcome::settled);
  CHECK(state.proof.consistent);
  CHECK(state.outlets[0].flow_m3s == Approx(1e-4));
  REQUIRE(state.outlets[0].pressure_head_m);
  const double jet_ms = 1e-4 / (0.25 * pi * 0.006 * 0.006);
  CHECK(*state.outlets[0].pressure_head_m == Approx(3.0 * jet_ms * jet_ms / (2.0 * gravity_ms2)));
}

TEST_CASE("the height between the end of a pipe and a tap a little below it drives nothing") {
  Model level = one_tap(0.0), lower = one_tap(0.0);
  lower.outlets[0].elevation = Length::metres(4.95);
  const steady::State one = steady::solve(level), other = steady::solve(lower);
  CHECK(other.proof.consistent);
  CHECK(other.outlets[0].flow_m3s == Approx(one.outlets[0].flow_m3s).epsilon(1e-12));
  CHECK(*other.outlets[0].grade_m == Approx(*one.outlets[0].grade_m).epsilon(1e-12));
}

TEST_CASE("before a tap that is not opened wide stands what its line has left") {
  const steady::State wide = steady::solve(one_tap(0.0));
  const double most_m3s = wide.outlets[0].flow_m3s;
  REQUIRE(most_m3s > 3e-4);
  const steady::State held = steady::solve(one_tap(2e-4));
  CHECK(held.outlets[0].flow_m3s == Approx(2e-4).epsilon(1e-12));
  CHECK(held.proof.consistent);
  // A joint that draws as much stands under the same pressure, by another law of the solver.
  Model joint = one_tap(0.0);
  joint.outlets.clear();
  small::joint(joint, "tap", 5.0, 2e-4);
  const steady::State drawn = steady::solve(joint);
  CHECK(*held.outlets[0].pressure_head_m == Approx(*drawn.joints[0].pressure_head_m).epsilon(1e-9));
  CHECK(*held.outlets[0].pressure_head_m > *wide.outlets[0].pressure_head_m);
  CHECK(held.boxes[0].spill_m3s == Approx(1.8e-3));
  CHECK(held.lines[0].condition == steady::LineCondition::full);
  // How far it is opened says nothing of what the pipe could carry.
  CHECK(*held.lines[0].capacity_m3s == Approx(most_m3s));
  SECTION("one of which more is wanted than it can let out stands wide open") {
    const steady::State more = steady::solve(one_tap(2.0 * most_m3s));
    CHECK(more.outlets[0].flow_m3s == Approx(most_m3s).epsilon(1e-12));
    CHECK(*more.outlets[0].pressure_head_m == Approx(*wide.outlets[0].pressure_head_m));
  }
  SECTION("one of which nothing is wanted is shut") {
    Model nothing = one_tap(0.0);
    nothing.outlets[0].opened_to = Flow{};
    const steady::State shut = steady::solve(nothing);
    CHECK(shut.outlets[0].flow_m3s == 0.0);
    CHECK(shut.proof.consistent);
  }
}

TEST_CASE("random systems with taps that are not opened wide settle and hold before the checker") {
  int held = 0, wanting = 0;
  const test::NastyKind kinds[] = {{10, 1, 6, true, false}, {10, 1, 4, true, true}};
  const auto check = [&](const Model& model) {
    const network::System system = support::resolved(model);
    const steady::State state = steady::solve(system);
    CHECK(state.outcome == steady::Outcome::settled);
    CHECK(state.proof.consistent);
    for (std::size_t o = 0; o < state.outlets.size(); ++o) {
      const auto& most = system.lets_out(static_cast<int>(o));
      if (!most || system.outlets()[o].shut) continue;
      const bool full = state.outlets[o].flow_m3s >= most->si() * (1.0 - 1e-9);
      full ? ++held : ++wanting;
      CHECK(state.outlets[o].flow_m3s <= most->si() * (1.0 + 1e-12));
    }
  };
  for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
    INFO(seed);
    check(with_drawn_taps(small::random_system(seed), seed));
    check(with_drawn_taps(test::NastySystem(seed, kinds[seed % 2]).system, seed));
  }
  CAPTURE(held, wanting);
  CHECK(std::min(held, wanting) >= 300);
}

// By uniqueness of the state: below its limit a held tap is a wide one, and above it gives the limit.
TEST_CASE("a held tap gives the lesser of what is wanted and what it alone would let out opened wide") {
  int held = 0, wide = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    const Model model = with_drawn_taps(small::random_system(seed), seed);
    const steady::State state = steady::solve(model);
    for (std::size_t o = 0; o < model.outlets.size(); ++o) {
      if (model.outlets[o].draws.empty() || model.outlets[o].shut) continue;
      const steady::State alone = steady::solve(with_wide(model, o));
      const double wanted_m3s = model.outlets[o].draws[0].flow.si(), could_m3s = alone.outlets[o].flow_m3s;
      INFO(seed << " " << model.outlets[o].name);
      CHECK(std::abs(state.outlets[o].flow_m3s - std::min(wanted_m3s, could_m3s)) <=
            1e-6 * all_flow_m3s(alone));
      wanted_m3s < could_m3s ? ++held : ++wide;
    }
  }
  CAPTURE(held, wide);
  CHECK(std::min(held, wide) >= 100);
}

TEST_CASE("a tap that is opened less leaves no other with less") {
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    Model model = with_drawn_taps(small::random_system(seed), seed);
    const steady::State before = steady::solve(model);
    for (std::size_t o = 0; o < model.outlets.size(); ++o) {
      if (model.outlets[o].draws.empty() || !(before.outlets[o].flow_m3s > 0.0)) continue;
      Model less = model;
      less.outlets[o].opened_to = Flow::from_si(0.5 * before.outlets[o].flow_m3s);
      const steady::State after = steady::solve(less);
      INFO(seed << " " << model.outlets[o].name);
      for (std::size_t other = 0; other < model.outlets.size(); ++other)
        if (other != o)
          CHECK(after.outlets[other].flow_m3s >=
                before.outlets[other].flow_m3s - 1e-6 * all_flow_m3s(before));
      ++compared;
    }
  }
  CHECK(compared >= 100);
}

TEST_CASE("a solver opens a tap as a system built afresh has it") {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    Model model = with_drawn_taps(small::random_system(seed), seed);
    if (model.outlets.empty()) continue;
    plain::Dice dice(seed);
    steady::Solver solver(support::resolved(model));
    for (int change = 0; change < 4; ++change) {
      const int tap = dice.whole(0, static_cast<int>(model.outlets.size()) - 1);
      const Flow to = Flow::from_si(dice.chance(0.2) ? 0.0 : std::pow(10.0, dice.real(-6.0, -2.0)));
      model.outlets[at(tap)].opened_to = to;
      solver.open(tap, to);
    }
    const steady::State afresh = steady::solve(model), changed = solver.answer();
    INFO(seed);
    REQUIRE(changed.outcome == afresh.outcome);
    CHECK(changed.proof.consistent);
    for (std::size_t o = 0; o < afresh.outlets.size(); ++o)
      CHECK(std::abs(changed.outlets[o].flow_m3s - afresh.outlets[o].flow_m3s) <=
            1e-6 * all_flow_m3s(afresh));
  }
}
