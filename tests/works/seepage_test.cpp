#include "runnel/works/seepage.h"

#include <catch2/catch.hpp>

using namespace runnel;
using namespace runnel::works;

TEST_CASE("Hazen's rule gives the sizes of its table") {
  // C = 100, computed from the formula: D10 in mm, k in m/s.
  const double rows[][2] = {{0.2, 0.0004}, {0.5, 0.0025}, {1, 0.010}, {2, 0.040}};
  for (const auto& [d10_mm, k_ms] : rows)
    CHECK(hazen(Length::millimetres(d10_mm)).metres_per_second() == Approx(k_ms).epsilon(1e-12));
  // The figure that a manual on the web prints, 144 000 mm/h at D10 of 1 mm, is ten times that of C = 40.
  CHECK(hazen(Length::millimetres(1), 40.0).metres_per_second() * 3.6e6 == Approx(14400).epsilon(1e-12));
  const auto range = hazen_range(Length::millimetres(0.5));
  REQUIRE(range);
  CHECK(range->low < hazen(Length::millimetres(0.5)));
  CHECK(hazen(Length::millimetres(0.5)) < range->high);
  CHECK_FALSE(hazen_range(Length::millimetres(0.09)));
  CHECK_FALSE(hazen_range(Length::millimetres(2.6)));
}

TEST_CASE("seepage by Darcy and Dupuit as worked by hand") {
  const auto one = [](double k_ms) {
    return Conductivity{Velocity::metres_per_second(k_ms), Velocity::metres_per_second(3 * k_ms)};
  };
  const FlowRange darcy = darcy_seepage(one(1e-3), 0.05, Length::metres(10), Length::metres(0.5));
  CHECK(darcy.low.litres_per_second() == Approx(0.25).epsilon(1e-12));
  CHECK(darcy.high.litres_per_second() == Approx(0.75).epsilon(1e-12));
  DrainInLayer drain{Length::metres(1.5), Length::metres(0.3), Length::metres(15), Length::metres(10), 1};
  CHECK(dupuit_seepage(one(1e-4), drain).low.litres_per_second() == Approx(0.072).epsilon(1e-12));
  drain.sides = 2;
  CHECK(dupuit_seepage(one(1e-4), drain).low.litres_per_second() == Approx(0.144).epsilon(1e-12));
  drain.water_near = drain.water_far;
  CHECK(dupuit_seepage(one(1e-4), drain).high.si() == 0.0);
}
