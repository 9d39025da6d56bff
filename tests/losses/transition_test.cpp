#include "runnel/losses/transition.h"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "runnel/base/constants.h"
#include "runnel/losses/friction_batch.h"

using namespace runnel;
using namespace runnel::losses;

TEST_CASE("Churchill's factor through the transition") {
  // Computed with python3-fluids 1.0.22, eleven decimals: smooth, relative roughness 0.001 and 0.01.
  const double rows[][4] = {{100, 0.64000000000, 0.64000000000, 0.64000000000},
                            {1000, 0.06400000000, 0.06400000000, 0.06400000000},
                            {1500, 0.04266666852, 0.04266666852, 0.04266666852},
                            {2000, 0.03204331743, 0.03204332977, 0.03204338515},
                            {2300, 0.03084009840, 0.03084789033, 0.03088111483},
                            {2500, 0.03514509163, 0.03520270710, 0.03544594880},
                            {3000, 0.04297465632, 0.04369154057, 0.04794933126},
                            {3500, 0.04226232424, 0.04331809300, 0.05140706523},
                            {4000, 0.04058973296, 0.04172802802, 0.05057834555}};
  const double roughness[] = {0.0, 1e-3, 1e-2};
  for (const auto& row : rows) {
    for (int i = 0; i < 3; ++i) {
      CAPTURE(row[0], roughness[i]);
      CHECK(churchill_factor(row[0], roughness[i]).factor == Approx(row[i + 1]).epsilon(0.0).margin(6e-12));
    }
  }
}

TEST_CASE("the slope of Churchill's factor is its derivative") {
  for (const double roughness : {0.0, 1e-4, 0.01, 0.2}) {
    for (double re = 1.0; re < 1e8; re *= 1.37) {
      CAPTURE(roughness, re);
      const double step = 1e-5;
      const double difference = (churchill_factor(re * (1 + step), roughness).factor -
                                 churchill_factor(re * (1 - step), roughness).factor) /
                                (2 * step);
      const FactorAndSlope here = churchill_factor(re, roughness);
      CHECK(here.re_slope == Approx(difference).epsilon(1e-6).margin(1e-8 * here.factor));
      CHECK(here.factor == churchill(re, roughness));
    }
  }
}

TEST_CASE("the steepest local exponent of Churchill's loss") {
  // d ln h / d ln Q = 2 + Re f'/f: greatest 3.7338 at Re 2473 if smooth, 3.8918 at 2536 for 0.01; computed
  // with python3-fluids, so to the digits given and the steps of that search.
  for (const auto& [roughness, exponent, at] :
       {std::array{0.0, 3.7338, 2473.0}, std::array{0.01, 3.8918, 2536.0}}) {
    double most = 0.0, where = 0.0;
    for (double re = 2000; re < 4000; re += 1) {
      const FactorAndSlope f = churchill_factor(re, roughness);
      if (2.0 + f.re_slope / f.factor > most) most = 2.0 + f.re_slope / f.factor, where = re;
    }
    CHECK(most == Approx(exponent).epsilon(0.0).margin(6e-5));
    CHECK(where == Approx(at).epsilon(0.0).margin(2.0));
  }
}

TEST_CASE("the worse of two laws") {
  // In the transition the join lies a quarter below Churchill's at most: smooth, Re 3000, 0.0326910872 (own
  // join, computed) against 0.04297465632.
  CHECK(worse_excess(3000, 0.0) == Approx(0.04297465632 / 0.0326910872 - 1.0).epsilon(1e-8));
  for (const double roughness : {0.0, 1e-4, 1e-3, 1e-2, 5e-2}) {
    double most = 0.0, outside = 0.0;
    for (double re = 200; re < 1e8; re *= 1.003) {
      const double excess = worse_excess(re, roughness);
      CHECK(excess >= 0.0);
      if (re > 2000 && re < 4000)
        most = std::fmax(most, excess);
      else
        outside = std::fmax(outside, excess);
    }
    CAPTURE(roughness);
    if (roughness <= 1e-2) CHECK(most / (1.0 + most) > 0.15);  // rough pipe leaves less doubt
    CHECK(most / (1.0 + most) < 0.26);
    CHECK(outside < 0.04);
  }
}

TEST_CASE("a pipe under the worse law loses what the greater of both laws says") {
  for (const double roughness : {0.0, 1.5e-6, 1.5e-4}) {
    const FrictionLaw plain, worse{.worse_transition = true};
    const PipeFriction one(plain, 0.026, roughness, 140.0, 1.3e-6),
        other(worse, 0.026, roughness, 140.0, 1.3e-6);
    const WorseFriction greater(0.026, roughness, 1.3e-6);
    for (double flow = 1e-8; flow < 1e-2; flow *= 1.07) {
      CAPTURE(roughness, flow);
      CHECK(other.per_metre(flow).head_m == Approx(greater.per_metre(flow).head_m).epsilon(1e-14));
      CHECK(other.per_metre(-flow).slope_sm2 == Approx(greater.per_metre(flow).slope_sm2).epsilon(1e-14));
      CHECK(other.per_metre(flow).head_m >= one.per_metre(flow).head_m * (1.0 - 1e-14));
    }
  }
}

TEST_CASE("the worse loss rises strictly, is odd, and its slope is the derivative") {
  for (const double roughness : {0.0, 7e-6, 1.5e-4, 1e-3}) {
    const double bore = 0.026, nu = 1.306e-6;
    const WorseFriction worse(bore, roughness, nu);
    const PipeFriction plain(FrictionLaw{}, bore, roughness, 150, nu);
    CHECK(worse.per_metre(0.0).head_m == 0.0);
    CHECK(worse.per_metre(0.0).slope_sm2 == Approx(128 * nu / (pi * gravity_ms2 * std::pow(bore, 4))));
    double before = 0.0;
    for (double flow = 1e-8; flow < 1e-2; flow *= 1.001) {
      const LossAndSlope here = worse.per_metre(flow);
      REQUIRE(here.head_m > before);
      REQUIRE(here.slope_sm2 > 0.0);
      REQUIRE(here.head_m >= plain.per_metre(flow).head_m * (1 - 1e-14));  // roundings of two ways to Re
      REQUIRE(worse.per_metre(-flow).head_m == -here.head_m);
      before = here.head_m;
    }
    for (double flow = 1e-6; flow < 1e-3; flow *= 1.3) {
      const double step = 1e-6 * flow;
      const double difference =
          (worse.per_metre(flow + step).head_m - worse.per_metre(flow - step).head_m) / (2 * step);
      CHECK(worse.per_metre(flow).slope_sm2 == Approx(difference).epsilon(1e-6));
    }
  }
  CHECK_THROWS_AS(WorseFriction(0.0, 0.0, 1e-6), std::invalid_argument);
  CHECK_THROWS_AS(WorseFriction(0.02, 0.005, 1e-6), std::invalid_argument);
  CHECK_THROWS_AS(WorseFriction(0.02, 0.0, 0.0), std::invalid_argument);
}
