#include "runnel/sizing/loop_split.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "sizing/published_loops.h"

using namespace runnel;

TEST_CASE("the two-loop network with split pipes costs no more than a grid over its flows finds") {
  // Best of a grid of 40 by 45 flows around its two loops, each a linear programme, refined; computed by a
  // program of its own. From the design of whole pipes that costs 419,000.
  const auto choice = support::choice_of(support::two_loop(), support::constants(10.6668, 1.852, 4.871));
  const auto split = sizing::split_loops(choice, {10, 6, 9, 3, 9, 6, 6, 0});
  REQUIRE(split.found);
  CHECK(split.cost <= 403547.345);
  CHECK(split.cost > 403547.0);
  SECTION("its shares are whole, its heads and flows close") {
    std::vector<double> gets(choice.there.nodes.size(), 0.0);
    for (std::size_t r = 0; r < choice.runs.size(); ++r) {
      const auto& run = choice.runs[r];
      const auto a = static_cast<std::size_t>(run.a), b = static_cast<std::size_t>(run.b);
      double whole = 0.0, loss_m = 0.0;
      for (std::size_t k = 0; k < run.options.size(); ++k) {
        whole += split.shares[r][k];
        loss_m +=
            split.shares[r][k] * run.length_m * run.options[k].pipe->per_metre(split.flow_m3s[r]).head_m;
      }
      CHECK(whole == Approx(1.0).margin(1e-9));
      CHECK(split.head_m[a] - split.head_m[b] == Approx(loss_m).margin(1e-7));  // what the simplex code keeps
      gets[a] -= split.flow_m3s[r];
      gets[b] += split.flow_m3s[r];
    }
    for (std::size_t v = 0; v < gets.size(); ++v) {
      if (choice.there.nodes[v].fixed) continue;
      CHECK(gets[v] == Approx(-choice.there.nodes[v].inflow_m3s).margin(1e-9));
      CHECK(split.head_m[v] >= choice.least_head_m[v] - 1e-7);
    }
  }
}
