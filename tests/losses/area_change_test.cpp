#include "runnel/losses/area_change.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/base/constants.h"

using namespace runnel::losses;

TEST_CASE("sudden expansion by Borda-Carnot, on the smaller bore") {
  CHECK(expansion_loss(1, 4) == 0.87890625);  // (1 - 1/16)^2, exact in binary
  CHECK(expansion_loss(1, 2) == 0.5625);
  CHECK(expansion_loss(3, 4) == 0.19140625);
  CHECK(expansion_loss(2, 2) == 0.0);
  // Handbook table 6-4 for d/D 0.25 and 0.5, two digits.
  CHECK(expansion_loss(1, 4) == Approx(0.92).epsilon(0.05));
  CHECK(expansion_loss(1, 2) == Approx(0.56).margin(0.005));
  // Worked example of a polytechnic e-book: 1800 L/min from 10 to 15 cm loses 0.2295190 m (g = 9.81).
  const double v = 0.03 / (0.25 * runnel::pi * 0.01);
  CHECK(expansion_loss(0.10, 0.15) * v * v / (2 * 9.81) == Approx(0.2295190).epsilon(1e-6));
}

TEST_CASE("sudden contraction, on the smaller bore") {
  CHECK(contraction_loss(1, 4) == 0.46875);  // 0.5 (1 - 1/16)
  CHECK(contraction_loss(1, 2) == 0.375);
  CHECK(contraction_loss(3, 4) == 0.21875);
  CHECK(contraction_loss(2, 2) == 0.0);
  CHECK(contraction_loss(1e-6, 1) == Approx(0.5).epsilon(1e-9));  // the sharp inlet from a tank
}

TEST_CASE("sudden contraction by Weisbach's measured jets") {
  // (1/Cc - 1)^2 of the printed Cc, area ratio 0.1 to 0.9, six digits.
  constexpr double k[] = {0.363083, 0.339048, 0.308258, 0.267755, 0.219426,
                          0.163616, 0.105302, 0.052906, 0.014659};
  for (int i = 1; i <= 9; ++i) {
    CAPTURE(i);
    CHECK(contraction_loss_measured(std::sqrt(0.1 * i), 1.0) == Approx(k[i - 1]).margin(1e-6));
    CHECK(contraction_loss(std::sqrt(0.1 * i), 1.0) > k[i - 1]);  // the law in use lies above
  }
  CHECK(contraction_loss_measured(1, 1) == 0.0);
  CHECK(contraction_loss_measured(0.01, 1) == Approx(0.363083).margin(1e-6));  // first value kept
}

TEST_CASE("a change of bore is an expansion one way and a contraction the other") {
  CHECK(area_change_loss(0.05, 0.1) == 0.5625);
  CHECK(area_change_loss(0.1, 0.05) == 0.375);
  CHECK(area_change_loss(0.05, 0.05) == 0.0);
}
