#include "runnel/water/surface_tension.h"

#include <catch2/catch.hpp>

namespace water = runnel::water;

TEST_CASE("surface tension has the values of the release") {
  // 75.65, 72.74, 71.97 and 69.60 mN/m at 0, 20, 25 and 40 C: table of [iapws-r1-76], from memory, printed to
  // two decimals.
  constexpr double table[][2] = {{0, 75.65}, {20, 72.74}, {25, 71.97}, {40, 69.60}};
  for (const auto& [temperature_c, tension_mnm] : table) {
    CAPTURE(temperature_c);
    CHECK(1e3 * water::surface_tension_nm(temperature_c) == Approx(tension_mnm).margin(0.0051).epsilon(0));
  }
}
