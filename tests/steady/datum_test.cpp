// Heads above a datum near the water.
#include "runnel/steady/datum.h"

#include <catch2/catch.hpp>

#include "runnel/steady/assemble.h"
#include "steady/nasty_system.h"

using namespace runnel;

TEST_CASE("a kernel above its datum keeps every difference of heads") {
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    const steady::Kernel kernel = steady::assemble(test::NastySystem(seed, {}).system).kernel;
    const double datum_m = steady::local_datum_m(kernel);
    CHECK(datum_m == std::round(datum_m));
    const steady::Kernel low = steady::above(kernel, datum_m);
    CHECK(low.datum_m == datum_m);
    for (std::size_t v = 0; v < kernel.nodes.size(); ++v) {
      if (kernel.nodes[v].fixed) CHECK(low.nodes[v].head_m + datum_m == kernel.nodes[v].head_m);
      CHECK(low.nodes[v].lip_m + datum_m == kernel.nodes[v].lip_m);
      CHECK(low.nodes[v].draw_floor_m + datum_m == kernel.nodes[v].draw_floor_m);
    }
    for (std::size_t c = 0; c < kernel.controls.size(); ++c)
      if (!kernel.controls[c].to_node)
        CHECK(low.controls[c].sink_head_m + datum_m == kernel.controls[c].sink_head_m);
  }
}

TEST_CASE("a kernel that gives no head has no datum") { CHECK(steady::local_datum_m({}) == 0.0); }
