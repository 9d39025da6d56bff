// Friction factors against exact and printed values. The grid against an outside library is in
// fluids_grid_test.cpp.
#include "runnel/losses/friction_factor.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/worked_line.h"

using namespace runnel::losses;

namespace {

struct Point {
  double reynolds, relative_roughness, colebrook, churchill;
};

// Colebrook-White with 3.7 and 2.51, computed with mpmath to 40 digits and printed to 14; Churchill 1977 by
// python3-fluids 1.0.22, printed to 10 decimals. [own, computed]
constexpr Point points[] = {
    {4e3, 0, 0.039907014055635, 0.0405897330},     {1e4, 0, 0.030882950353488, 0.0310021307},
    {3e4, 0, 0.023482954594175, 0.0233919295},     {1e5, 0, 0.017989773084274, 0.0178748216},
    {1e6, 0, 0.011645040997992, 0.0116124126},     {1e7, 0, 0.0081026694308749, 0.0081455610},
    {1e8, 0, 0.0059404663516368, 0.0060277593},    {4e3, 1e-6, 0.039908029446171, 0.0405908930},
    {1e4, 1e-6, 0.030884498091421, 0.0310038997},  {3e4, 1e-6, 0.023485685332161, 0.0233950456},
    {1e5, 1e-6, 0.017995193193347, 0.0178809708},  {1e6, 1e-6, 0.011668155513486, 0.0116378938},
    {1e7, 1e-6, 0.0082131804042594, 0.0082609271}, {1e8, 1e-6, 0.0064325565196923, 0.0065060348},
    {4e3, 1e-5, 0.03991716685041, 0.0406013316},   {1e4, 1e-5, 0.030898423052041, 0.0310198128},
    {3e4, 1e-5, 0.023510236082418, 0.0234230481},  {1e5, 1e-5, 0.018043802895064, 0.0179360488},
    {1e6, 1e-5, 0.011869544827945, 0.0118581605},  {1e7, 1e-5, 0.0089957117448344, 0.0090588929},
    {1e8, 1e-5, 0.008187559102682, 0.0082214925},  {4e3, 1e-4, 0.040008431233555, 0.0407055155},
    {1e4, 1e-4, 0.031037212200999, 0.0311781571},  {3e4, 1e-4, 0.023753226444619, 0.0236990137},
    {1e5, 1e-4, 0.018513866077472, 0.0184626246},  {1e6, 1e-4, 0.013441437692508, 0.0135082027},
    {1e7, 1e-4, 0.012166080958897, 0.0122097379},  {1e8, 1e-4, 0.011999050555369, 0.0120054998},
    {4e3, 1e-3, 0.040910389862846, 0.0417280280},  {1e4, 1e-3, 0.032381806363093, 0.0326901986},
    {3e4, 1e-3, 0.025969734697737, 0.0261383525},  {1e5, 1e-3, 0.022174535944515, 0.0223432355},
    {1e6, 1e-3, 0.019943465840477, 0.0200219564},  {1e7, 1e-3, 0.019667052432097, 0.0196774624},
    {1e8, 1e-3, 0.019638632837385, 0.0196329693},  {4e3, 5e-3, 0.044711236317243, 0.0459213395},
    {1e4, 5e-3, 0.037629861975617, 0.0383409714},  {3e4, 5e-3, 0.033244540022914, 0.0336876561},
    {1e5, 5e-3, 0.031306382937087, 0.0315493418},  {1e6, 5e-3, 0.030465025820875, 0.0305072646},
    {1e7, 5e-3, 0.03037727459254, 0.0303715161},   {1e8, 5e-3, 0.030368460348189, 0.0303543488},
    {4e3, 1e-2, 0.0490822694479, 0.0505783455},    {1e4, 1e-2, 0.043126584706812, 0.0440436228},
    {3e4, 1e-2, 0.039822306036431, 0.0403245186},  {1e5, 1e-2, 0.038503543527335, 0.0387335575},
    {1e6, 1e-2, 0.03796474187616, 0.0379914995},   {1e7, 1e-2, 0.037909825751807, 0.0378965868},
    {1e8, 1e-2, 0.037904323387354, 0.0378846135},  {4e3, 5e-2, 0.076986834889225, 0.0765249022},
    {1e4, 5e-2, 0.073801275638538, 0.0750094260},  {3e4, 5e-2, 0.072313529957313, 0.0728194983},
    {1e5, 5e-2, 0.07178092944114, 0.0719497673},   {1e6, 5e-2, 0.071573753859858, 0.0715587495},
    {1e7, 5e-2, 0.071552981840867, 0.0715094249},  {1e8, 5e-2, 0.071550904091083, 0.0715032137},
};

}  // namespace

TEST_CASE("Colebrook-White is solved to 1e-12 at 56 points") {
  for (const Point& p : points) {
    CAPTURE(p.reynolds, p.relative_roughness);
    // 14 printed digits are good to 2e-13; the rest is rounding.
    CHECK(colebrook(p.reynolds, p.relative_roughness).factor == Approx(p.colebrook).epsilon(1e-12));
    CHECK(darcy_factor(p.reynolds, p.relative_roughness).factor == Approx(p.colebrook).epsilon(1e-12));
  }
}

TEST_CASE("factors from laminar to rough, and bounds between, as worked apart") {
  const auto worked = runnel::test::worked_line("01_friction_factor_table");
  for (const auto& row : worked.expected.at("table")) {
    const double reynolds = row.at("Re").get<double>(), rough = row.at("rel_rough").get<double>();
    CAPTURE(reynolds, rough);
    CHECK(darcy_factor(reynolds, rough).factor == Approx(row.at("f").get<double>()).epsilon(1e-12));
  }
  for (const auto& row : worked.expected.at("transition")) {
    const double factor = darcy_factor(row.at("Re").get<double>(), row.at("rel_rough").get<double>()).factor;
    CHECK(factor >= row.at("lower_bound_64_over_Re").get<double>() * (1 - 1e-14));
    CHECK(factor <= row.at("upper_bound_colebrook").get<double>() * (1 + 1e-14));
  }
}

TEST_CASE("a Colebrook factor satisfies the equation it comes from") {
  for (double re = 4e3; re < 1e9; re *= 1.7) {
    for (const double rel : {0.0, 1e-7, 3e-5, 2e-3, 0.05, 0.2}) {
      const double root = std::sqrt(colebrook(re, rel).factor);
      const double right = -2.0 * std::log10(rel / 3.7 + 2.51 / (re * root));
      CAPTURE(re, rel);
      CHECK(1.0 / root == Approx(right).epsilon(3e-15));  // a few roundings of log10
    }
  }
}

TEST_CASE("Churchill's formula, the outside comparison") {
  for (const Point& p : points) {
    CAPTURE(p.reynolds, p.relative_roughness);
    CHECK(churchill(p.reynolds, p.relative_roughness) == Approx(p.churchill).margin(6e-11));  // 10 decimals
    // It is another formula: within 7 % of Colebrook over the table, and never the same.
    CHECK(churchill(p.reynolds, p.relative_roughness) == Approx(p.colebrook).epsilon(0.035));
  }
  CHECK(churchill(1e5, 1e-4) ==
        Approx(0.018462624566280075).epsilon(1e-13));                   // python3-fluids' own docstring
  CHECK(churchill(2300, 0) == Approx(0.0308400984004).epsilon(1e-11));  // python3-fluids 1.0.22
  CHECK(churchill(100, 1e-2) == Approx(0.64).epsilon(1e-11));           // 64/Re, Hagen-Poiseuille
}

TEST_CASE("laminar flow has 64/Re whatever the roughness") {
  for (const double re : {1e-6, 1.0, 100.0, 1000.0, 1999.0, 2000.0}) {
    for (const double rel : {0.0, 1e-5, 0.05}) {
      CHECK(darcy_factor(re, rel).factor == Approx(64.0 / re).epsilon(1e-15));  // one division
      CHECK(darcy_factor(re, rel).slope(re) == Approx(-64.0 / (re * re)).epsilon(1e-15));
    }
  }
}

TEST_CASE("transition: the cubic Hermite of Re between 64/Re and Colebrook") {
  struct Row {
    double rel, at_2300, at_2500, at_3000, at_3500, slope_at_4000;
  };
  // Computed with mpmath from the definition, ten decimals. [own, computed]
  constexpr Row rows[] = {
      {0.0, 0.0291252009, 0.0290120635, 0.0326910872, 0.0380013208, -2.9503207689e-06},
      {1e-3, 0.0291821570, 0.0291590395, 0.0331666379, 0.0388185148, -2.8457718647e-06},
      {1e-2, 0.0296538955, 0.0303753488, 0.0370911192, 0.0455318974, -2.1999378569e-06},
  };
  for (const Row& row : rows) {
    CAPTURE(row.rel);
    CHECK(darcy_factor(2300, row.rel).factor == Approx(row.at_2300).margin(6e-11));
    CHECK(darcy_factor(2500, row.rel).factor == Approx(row.at_2500).margin(6e-11));
    CHECK(darcy_factor(3000, row.rel).factor == Approx(row.at_3000).margin(6e-11));
    CHECK(darcy_factor(3500, row.rel).factor == Approx(row.at_3500).margin(6e-11));
    // The slopes were taken by differences: nine digits hold.
    CHECK(darcy_factor(4000, row.rel).slope(4000) == Approx(row.slope_at_4000).epsilon(2e-9));
  }
}

TEST_CASE("value and slope join at both ends of the transition") {
  for (const double rel : {0.0, 1e-6, 1e-3, 0.05, 0.2}) {
    for (const double re : {laminar_end_re, turbulent_start_re}) {
      const FactorAndSlope below = darcy_factor(std::nextafter(re, 0.0), rel);
      const FactorAndSlope above = darcy_factor(std::nextafter(re, 1e9), rel);
      CAPTURE(rel, re);
      CHECK(below.factor == Approx(above.factor).epsilon(1e-14));  // rounding of a cubic's four terms
      CHECK(below.re_slope == Approx(above.re_slope).epsilon(1e-11));
    }
  }
}

TEST_CASE("f Re^2, and with it the head loss, rises everywhere") {
  for (const double rel : {0.0, 1e-7, 1e-5, 1e-3, 1e-2, 0.05, 0.1, 0.2}) {
    double before = 0.0;
    for (double re = 1.0; re < 1e9; re *= 1.0007) {
      const FactorAndSlope f = darcy_factor(re, rel);
      const double loss = f.factor * re * re;
      if (loss <= before || 2.0 * f.factor + f.re_slope <= 0.0) {
        CAPTURE(rel, re, loss, before);
        FAIL("the head loss does not rise");
      }
      before = loss;
    }
    CHECK(before > 0.0);
  }
}

TEST_CASE("the slope of the friction factor is its derivative") {
  for (double re = 10.0; re < 1e9; re *= 1.13) {
    for (const double rel : {0.0, 1e-6, 1e-3, 0.05}) {
      const double step = 1e-5 * re;
      // A step across a joint would see the jump of the second derivative.
      if (std::fabs(re - 2000.0) < 2 * step || std::fabs(re - 4000.0) < 2 * step) continue;
      const double difference =
          (darcy_factor(re + step, rel).factor - darcy_factor(re - step, rel).factor) / (2 * step);
      const FactorAndSlope f = darcy_factor(re, rel);
      CAPTURE(re, rel);
      // 1e-7 of f/Re: a central difference of step 1e-5 is good to 1e-9 of it.
      CHECK(f.slope(re) == Approx(difference).margin(1e-7 * f.factor / re));
    }
  }
}
