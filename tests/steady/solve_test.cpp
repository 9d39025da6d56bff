// A whole system solved once: the same flows and state wherever the site lies and whoever solves it, and what
// the options leave out.
#include <catch2/catch.hpp>

#include "runnel/steady/solver.h"
#include "runnel/steady/state.h"
#include "steady/random_system.h"

using namespace runnel;
using steady::Outcome;
using steady::State;

namespace {

/// The same site so much higher. Air and vapour pressure stay what they were.
network::Model lifted(network::Model m, double by_m) {
  const auto lift = [by_m](Length& z) { z = z + Length::metres(by_m); };
  for (auto& b : m.boxes) lift(b.outlet), lift(b.lip);
  for (auto& t : m.tanks) {
    lift(t.floor), lift(t.lip), lift(t.inlet), lift(t.level);
    if (t.float_valve) lift(t.float_valve->shuts_at), lift(t.float_valve->opens_at);
  }
  for (auto& o : m.outlets) lift(o.elevation);
  for (auto& j : m.joints) lift(j.elevation);
  for (auto& l : m.pipelines)
    for (auto& p : l.survey) lift(p.elevation);
  return m;
}

/// A spring that gives plenty, over a crest that the straight grade line would pass above or below.
network::Model over_a_crest(double crest_m) {
  network::Model m = small::empty();
  small::box(m, "spring", 1e-2, 100.0, 100.6);
  small::outlet(m, "end", 60.0);
  small::line(m, "main", "spring", "end", 0.03, {{0, 100}, {300, crest_m}, {400, 60}});
  return m;
}

}  // namespace

TEST_CASE("a site lifted by a power of two of metres keeps its flows") {
  int settled = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const network::Model model = small::random_system(seed);
    const State low = steady::solve(model), high = steady::solve(lifted(model, 1024.0));
    CAPTURE(seed);
    REQUIRE(high.outcome == low.outcome);
    if (low.outcome != Outcome::settled) continue;
    CHECK(low.proof.consistent);
    CHECK(high.proof.consistent);
    double most = 1e-4;
    for (const auto& line : low.lines) most = std::max(most, std::abs(line.flow_m3s));
    for (std::size_t l = 0; l < low.lines.size(); ++l)
      // Elevations of some 50 m lose up to 1e-13 m by being lifted; a flow answers with 1e-13 of itself a
      // metre of drop of 1e-3 m.
      CHECK(std::abs(high.lines[l].flow_m3s - low.lines[l].flow_m3s) <= 1e-8 * most);
    ++settled;
  }
  CHECK(settled >= 55);
}

TEST_CASE("it says what a solver kept for many changes says of the same system") {
  for (std::uint64_t seed = 101; seed <= 130; ++seed) {
    const network::System system = support::resolved(small::random_system(seed));
    const State once = steady::solve(system);
    steady::Solver kept(system);
    const State other = kept.answer();
    CAPTURE(seed);
    REQUIRE(once.outcome == other.outcome);
    if (once.outcome != Outcome::settled) continue;
    for (std::size_t l = 0; l < once.lines.size(); ++l) {
      CHECK(once.lines[l].flow_m3s == Approx(other.lines[l].flow_m3s).epsilon(1e-8).margin(1e-12));
      CHECK(once.lines[l].condition == other.lines[l].condition);
    }
  }
}

TEST_CASE("a line taken to run full whatever its grade line does carries what its ends alone allow") {
  // The lower crest asks nothing; the higher one stops a third of the flow, and over the level nothing runs.
  const auto flow = [](double crest_m, bool floors) {
    return steady::solve(over_a_crest(crest_m), {.floors = floors}).lines[0].flow_m3s;
  };
  const double free = flow(62.0, true);
  CHECK(flow(62.0, false) == Approx(free).epsilon(1e-9));
  CHECK(flow(95.0, true) < 0.5 * free);
  CHECK(flow(95.0, false) == Approx(free).epsilon(0.01));  // a few metres more of pipe, up and down
  CHECK(flow(101.0, true) == 0.0);
  CHECK(flow(101.0, false) > 0.9 * free);
}

TEST_CASE("depths of stretches that are part-full can be left out, and nothing else changes") {
  const network::Model model = small::weak_spring();
  const State with = steady::solve(model), without = steady::solve(model, {.depths = false});
  int depths = 0;
  for (std::size_t l = 0; l < with.lines.size(); ++l) {
    CHECK(with.lines[l].flow_m3s == without.lines[l].flow_m3s);
    for (std::size_t r = 0; r < with.lines[l].reaches.size(); ++r) {
      const auto &a = with.lines[l].reaches[r], &b = without.lines[l].reaches[r];
      CHECK(a.state == b.state);
      CHECK(a.lost_in_air_m == b.lost_in_air_m);
      CHECK(a.refill_station_m == b.refill_station_m);
      CHECK_FALSE(b.normal_depth_m);
      depths += a.normal_depth_m.has_value();
    }
  }
  CHECK(depths > 0);
}

TEST_CASE("with too few steps it says that no state was found") {
  const State state = steady::solve(small::village(), {.max_iterations = 2});
  CHECK(state.outcome == Outcome::iteration_limit);
  CHECK(state.history.size() == 2);
  CHECK_FALSE(state.proof.consistent);
  CHECK(steady::solve(small::village()).outcome == Outcome::settled);
}
