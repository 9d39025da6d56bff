#include "runnel/network/floats.h"

#include <catch2/catch.hpp>

#include "filling/systems.h"
#include "runnel/network/corner.h"

using namespace filling_test;

namespace {

FloatValve valve(double shuts_m, double opens_m) { return {m(shuts_m), m(opens_m), 4.0, true}; }

Model two_lines() {
  Model s = with_water();
  s.boxes = {spring("east", 2e-4, 20, 20.5), spring("west", 1e-4, 20, 20.5)};
  s.tanks = {round_tank("tank", 0.0, 4.0, 2.0)};
  s.pipelines = {line("first", "east", "tank", 60, 20, 4, 0.04),
                 line("second", "west", "tank", 60, 20, 4, 0.04)};
  return s;
}

}  // namespace

TEST_CASE("a line's own float stands in for that of its tank") {
  Model s = two_lines();
  CHECK(floats_of(s, s.tanks[0]).empty());
  CHECK(full_level(s, s.tanks[0]) == s.tanks[0].lip);

  s.tanks[0].float_valve = valve(3.0, 2.5);
  REQUIRE(floats_of(s, s.tanks[0]).size() == 1);
  CHECK(full_level(s, s.tanks[0]) == m(3.0));

  s.pipelines[1].float_valve = valve(3.5, 3.2);
  REQUIRE(floats_of(s, s.tanks[0]).size() == 2);
  CHECK(floats_of(s, s.tanks[0])[0].shuts_at == m(3.0));
  CHECK(full_level(s, s.tanks[0]) == m(3.5));
  const System system = support::resolved(s);
  CHECK(system.lines()[0].float_valve->shuts_at == m(3.0));
  CHECK(system.lines()[1].float_valve->shuts_at == m(3.5));

  // The other line goes on until the tank spills.
  s.tanks[0].float_valve.reset();
  CHECK(floats_of(s, s.tanks[0]).size() == 1);
  CHECK(full_level(s, s.tanks[0]) == s.tanks[0].lip);
}

TEST_CASE("a line's own float moves with its tank when elevations do") {
  Model s = two_lines();
  s.pipelines[1].float_valve = valve(3.5, 3.2);
  const System low = lowered(support::resolved(s), 1000.0);
  CHECK(low.lines()[1].float_valve->shuts_at.metres() == Approx(-996.5).epsilon(1e-15));
  CHECK(low.lines()[1].float_valve->opens_at.metres() == Approx(-996.8).epsilon(1e-15));
  s.pipelines[1].survey_error = m(0.2);
  const auto bad = at_corner(support::resolved(s), Corner::bad, {});
  REQUIRE(bad);
  const double up_m = bad.value->tanks()[0].floor.metres();
  CHECK(up_m != 0.0);
  CHECK(bad.value->lines()[1].float_valve->shuts_at.metres() == Approx(3.5 + up_m).epsilon(1e-14));
}

TEST_CASE("at a level between two floats one line is shut and the other runs") {
  Model s = two_lines();
  s.pipelines[0].float_valve = valve(3.0, 2.5);
  s.pipelines[1].float_valve = valve(3.5, 3.2);
  s.tanks[0].level = m(3.2);
  const System between = support::resolved(s);
  auto state = steady::solve(between);
  CHECK(state.proof.consistent);
  CHECK(state.lines[0].flow_m3s == 0.0);
  CHECK(state.lines[1].flow_m3s == Approx(1e-4).epsilon(1e-9));  // all that its spring gives
  CHECK_FALSE(state.place("tank")->float_shut);
  s.tanks[0].level = m(3.6);
  state = steady::solve(support::resolved(s));
  CHECK(state.lines[1].flow_m3s == 0.0);
  CHECK(state.place("tank")->float_shut);
}
