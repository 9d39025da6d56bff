// A tank that two lines fill, each with a float valve of its own.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/filling/fill.h"
#include "systems.h"

using namespace filling_test;
using filling::EventKind;
using filling::fill;
using filling::FillHistory;
using filling::FillOptions;

namespace {

constexpr double first_m3s = 2e-4, second_m3s = 1e-4, area_m2 = 3.14159265358979323846;

FloatValve valve(double shuts_m, double opens_m) { return {m(shuts_m), m(opens_m), 4.0, true}; }

/// Springs that give less than their lines could take, so that what runs in is known.
Model two_lines() {
  Model s = with_water();
  s.boxes = {spring("east", first_m3s, 20, 20.5), spring("west", second_m3s, 20, 20.5)};
  s.tanks = {round_tank("tank", 0.0, 4.0, 2.0)};
  s.pipelines = {line("first", "east", "tank", 60, 20, 4, 0.04),
                 line("second", "west", "tank", 60, 20, 4, 0.04)};
  s.pipelines[0].float_valve = valve(3.0, 2.5);
  s.pipelines[1].float_valve = valve(3.5, 3.2);
  return s;
}

std::vector<std::string> floats_that(const FillHistory& h, EventKind what) {
  std::vector<std::string> lines;
  for (const auto& event : h.events)
    if (event.what == what) lines.push_back(event.pipeline);
  return lines;
}

}  // namespace

TEST_CASE("each float shuts its own line, and the tank is full when the last has shut") {
  FillOptions options;
  options.duration_s = 86400.0;
  const FillHistory h = fill(support::resolved(two_lines()), options);
  CHECK(h.proof.consistent);
  CHECK(floats_that(h, EventKind::float_shuts) == std::vector<std::string>{"first", "second"});
  const auto* tank = h.storage("tank");
  REQUIRE(tank->full_after_s);
  const double by_hand_s = 3.0 * area_m2 / (first_m3s + second_m3s) + 0.5 * area_m2 / second_m3s;
  CHECK(*tank->full_after_s == Approx(by_hand_s).epsilon(1e-8));
  CHECK(tank->end_level_m == Approx(3.5).margin(1e-8));
  CHECK(tank->spilled_m3 == 0.0);
}

TEST_CASE("as the water sinks the higher float opens first and holds if its line is enough") {
  Model s = two_lines();
  s.tanks[0].level = m(3.5);
  Draw draw;
  draw.flow = Flow::from_si(0.5 * second_m3s);
  s.tanks[0].draws = {draw};
  FillOptions options;
  options.duration_s = 3 * 86400.0;
  const FillHistory h = fill(support::resolved(s), options);
  CHECK(h.proof.consistent);
  CHECK(h.storage("tank")->lowest_m == Approx(3.2).margin(1e-6));
  for (const std::string& line : floats_that(h, EventKind::float_opens)) CHECK(line == "second");
  // More than the second line brings takes it down to where the first opens too.
  s.tanks[0].draws[0].flow = Flow::from_si(1.5 * second_m3s);
  const FillHistory more = fill(support::resolved(s), options);
  CHECK(more.proof.consistent);
  CHECK(more.storage("tank")->lowest_m == Approx(2.5).margin(1e-6));
  CHECK(more.storage("tank")->short_days.empty());
}

TEST_CASE("two lines whose floats stand alike are shut as one, as by the float of the tank") {
  Model s = two_lines();
  s.pipelines[0].float_valve = s.pipelines[1].float_valve = valve(3.0, 3.0);
  Model one = two_lines();
  one.pipelines[0].float_valve.reset();
  one.pipelines[1].float_valve.reset();
  one.tanks[0].float_valve = valve(3.0, 3.0);
  FillOptions options;
  options.duration_s = 86400.0;
  const FillHistory a = fill(support::resolved(s), options), b = fill(support::resolved(one), options);
  CHECK(a.proof.consistent);
  CHECK(*a.storage("tank")->full_after_s == *b.storage("tank")->full_after_s);
  CHECK(floats_that(a, EventKind::float_shuts) == std::vector<std::string>{""});
}

TEST_CASE("tanks joined at the bottom come to one level, whichever of them is fed") {
  Model s = with_water();
  s.boxes = {spring("east", first_m3s, 20, 20.5)};
  s.tanks = {round_tank("fed", 0.0, 4.0, 2.0), round_tank("twin", -0.4, 4.4, 3.0)};
  s.pipelines = {line("feed", "east", "fed", 60, 20, 4, 0.04),
                 line("bottom", "fed", "twin", 6, 0.0, -0.4, 0.05)};
  s.tanks[1].inlet = m(-0.4);
  s.tanks[1].level = m(2.0);
  double back_m3s = 0.0, forth_m3s = 0.0;
  FillOptions options;
  options.look = [&](double, const network::State& state) {
    back_m3s = std::min(back_m3s, state.lines[1].flow_m3s);
    forth_m3s = std::max(forth_m3s, state.lines[1].flow_m3s);
  };
  options.duration_s = 86400.0;
  const FillHistory h = fill(support::resolved(s), options);
  CHECK(h.proof.consistent);
  CHECK(back_m3s < -1e-4);  // the fuller twin fills the fed one at first
  CHECK(forth_m3s > 5e-5);  // then it is filled from there
  const double end_m = h.storage("fed")->end_level_m;
  CHECK(end_m == Approx(h.storage("twin")->end_level_m).margin(0.01));  // the line loses millimetres
  const double stored_m3 = first_m3s * 86400.0 + 2.4 * 2.25 * area_m2;
  const double spilled_m3 = h.storage("fed")->spilled_m3 + h.storage("twin")->spilled_m3;
  CHECK(h.storage("fed")->end_m3 + h.storage("twin")->end_m3 + spilled_m3 == Approx(stored_m3).epsilon(1e-8));
}
