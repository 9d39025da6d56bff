// Whole systems of every kind at once: each must settle, and the independent checker must find nothing.
#include <catch2/catch.hpp>

#include "runnel/steady/state.h"
#include "steady/random_system.h"

using namespace runnel;

TEST_CASE("3,000 random systems settle and hold before the independent checker") {
  int part_full = 0, spilling = 0, short_draws = 0, reducing = 0, dry = 0, blocked = 0;
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    const network::Model system = small::random_system(seed);
    const steady::State state = steady::solve(system);
    CAPTURE(seed, state.history.size(), state.proof.continuity_m3s, state.proof.energy_m,
            state.proof.one_way_m);
    CHECK(state.outcome == steady::Outcome::settled);
    CHECK(state.proof.consistent);
    for (const auto& line : state.lines) {
      part_full += line.condition == steady::LineCondition::part_full ||
                   line.condition == steady::LineCondition::mixed;
      reducing += line.reducing_valve_active;
      dry += line.condition == steady::LineCondition::dry;
      blocked += line.condition == steady::LineCondition::blocked;
    }
    for (const auto& box : state.boxes) spilling += box.spill_m3s > 0.0;
    for (const auto& joint : state.joints)
      short_draws += joint.draw_given_m3s > 0.0 && joint.draw_given_m3s < joint.draw_asked_m3s;
  }
  // What the set must hold to mean anything.
  CAPTURE(part_full, spilling, short_draws, reducing, dry, blocked);
  CHECK(std::min({part_full, spilling, short_draws, reducing, dry, blocked}) >= 100);
}
