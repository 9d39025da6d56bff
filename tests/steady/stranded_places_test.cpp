// A grid on a slope too steep to run full: each joint feeds two further ones, so that what comes along its
// edges halves at every joint, down to flows that no head told in a double drives. A place that only such
// trickles reach must stay where its lines open.
#include "runnel/steady/stranded_places.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "runnel/steady/solver.h"
#include "steady/small_systems.h"

using namespace runnel;

namespace {

constexpr double yield_m3s = 5e-4;

std::string place(int i) { return "p" + std::to_string(i); }

/// A straight line of 120 m.
void reach(network::Model& model, const std::string& name, const std::string& from, const std::string& to,
           double from_m, double to_m) {
  network::Pipeline line;
  line.name = name;
  line.from = from;
  line.to = to;
  line.pipes.push_back({small::pipe(0.0408), {}, {}, {}});
  line.survey = {{Length::metres(0.0), Length::metres(from_m)},
                 {Length::metres(120.0), Length::metres(to_m)}};
  model.pipelines.push_back(line);
}

/// `side` x `side` joints, each joined to its right and its lower neighbour; a spring at one corner, a tap at
/// the other.
network::Model steep_grid(int side) {
  network::Model model = small::empty();
  // To the millimetre, as a survey is written: what leaves a joint to either side does not fall alike.
  const auto height_m = [side](int i) {
    return std::round(1e3 * (3000.0 - 2900.0 / (2.0 * side) * (i / side + i % side + 1))) / 1e3;
  };
  const int last = side * side - 1;
  small::box(model, "spring", yield_m3s, 3000.0, 3001.0);
  small::outlet(model, "tap", 20.0);
  reach(model, "first", "spring", place(0), 3000.0, height_m(0));
  for (int i = 0; i <= last; ++i) {
    small::joint(model, place(i), height_m(i));
    if (i % side + 1 < side)
      reach(model, "r" + std::to_string(i), place(i), place(i + 1), height_m(i), height_m(i + 1));
    if (i + side <= last)
      reach(model, "d" + std::to_string(i), place(i), place(i + side), height_m(i), height_m(i + side));
  }
  reach(model, "last", place(last), "tap", height_m(last), 20.0);
  return model;
}

}  // namespace

TEST_CASE("a steep grid settles however small its trickles become") {
  const int side = 200;
  const auto state = steady::solve(support::resolved(steep_grid(side)), {.depths = false});
  REQUIRE(state.outcome == steady::Outcome::settled);
  const auto flow = [&](std::size_t line) { return state.lines[line].flow_m3s; };
  // Lines stand in the order first, r0, d0, r1, ...: all that the spring gives goes to the tap, and the first
  // joint, alike to either side, halves it. The margin is what the balances of a large system leave open.
  const double left_open = 1e-9;
  CHECK(flow(0) == Approx(yield_m3s).margin(left_open));
  CHECK(flow(1) == Approx(0.5 * yield_m3s).margin(left_open));
  CHECK(flow(2) == Approx(0.5 * yield_m3s).margin(left_open));
  CHECK(flow(state.lines.size() - 1) == Approx(yield_m3s).margin(left_open));
  CHECK(state.history.size() < 60);  // 25; without the spreads of trickles 16
}
