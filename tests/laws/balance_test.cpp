// Every example under every setting: both balances hold before the independent checker, and the head of every
// line is accounted for.
#include "laws/models.h"
#include "steady/head_budget.h"

using namespace runnel;

TEST_CASE("continuity and energy hold in every example") {
  for (const test::Case& c : test::all_cases()) {
    INFO(c.name);
    const auto state = test::settled(c.system);
    CAPTURE(state.proof.continuity_m3s, state.proof.energy_m, state.proof.one_way_m);
    CHECK(state.proof.consistent);
    // The limits the solver promises (steady/state.h), seen by raw laws in longer arithmetic.
    CHECK(state.proof.continuity_m3s <= 1e-10 * test::all_flow(state) + 1e-11);
    CHECK(state.proof.energy_m <= 1e-8);
  }
}

TEST_CASE("the head budget of every line closes") {
  int closed = 0;
  for (const test::Case& c : test::all_cases()) {
    INFO(c.name);
    const auto state = test::settled(c.system);
    for (std::size_t l = 0; l < state.lines.size(); ++l) {
      INFO(state.lines[l].name);
      const auto gap = test::head_budget_gap(c.system, state, l);
      if (!gap) continue;
      ++closed;
      CHECK(std::abs(*gap) <= 1e-8);  // 1e-9 m of the solver, and sums of many reaches
    }
  }
  CHECK(closed >= 10);
}
