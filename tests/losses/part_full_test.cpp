// Round pipes that do not run full.
#include "runnel/losses/part_full.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/base/constants.h"

using namespace runnel;
using namespace runnel::losses;

namespace {

struct Row {
  double depth, area, wetted, radius, top, velocity, flow, section_factor;
};

// For bore 1: A, P, R, T, V/Vfull and Q/Qfull by Manning, A sqrt(A/T); six decimals, computed. The geometry
// of 0.55 to 0.80 is the same in print [chow1959].
constexpr Row rows[] = {
    {0.05, 0.014681, 0.451027, 0.032551, 0.435890, 0.256893, 0.004802, 0.002694},
    {0.10, 0.040875, 0.643501, 0.063520, 0.600000, 0.401157, 0.020878, 0.010669},
    {0.15, 0.073875, 0.795399, 0.092878, 0.714143, 0.516790, 0.048609, 0.023760},
    {0.20, 0.111824, 0.927295, 0.120591, 0.800000, 0.615060, 0.087571, 0.041808},
    {0.25, 0.153546, 1.047198, 0.146626, 0.866025, 0.700670, 0.136982, 0.064654},
    {0.30, 0.198168, 1.159279, 0.170941, 0.916515, 0.776135, 0.195831, 0.092147},
    {0.35, 0.244980, 1.266104, 0.193492, 0.953939, 0.842975, 0.262940, 0.124147},
    {0.40, 0.293370, 1.369438, 0.214226, 0.979796, 0.902170, 0.336988, 0.160530},
    {0.45, 0.342783, 1.470629, 0.233086, 0.994987, 0.954371, 0.416530, 0.201196},
    {0.50, 0.392699, 1.570796, 0.250000, 1.000000, 1.000000, 0.500000, 0.246088},
    {0.55, 0.442616, 1.670964, 0.264886, 0.994987, 1.039313, 0.585711, 0.295210},
    {0.60, 0.492028, 1.772154, 0.277644, 0.979796, 1.072422, 0.671840, 0.348672},
    {0.65, 0.540418, 1.875489, 0.288148, 0.953939, 1.099301, 0.756408, 0.406756},
    {0.70, 0.587230, 1.982313, 0.296235, 0.916515, 1.119774, 0.837238, 0.470048},
    {0.75, 0.631852, 2.094395, 0.301687, 0.866025, 1.133473, 0.911878, 0.539707},
    {0.80, 0.673574, 2.214297, 0.304193, 0.800000, 1.139742, 0.977467, 0.618064},
    {0.85, 0.711523, 2.346194, 0.303267, 0.714143, 1.137427, 1.030440, 0.710217},
    {0.90, 0.744523, 2.498092, 0.298037, 0.600000, 1.124311, 1.065797, 0.829357},
    {0.95, 0.770717, 2.690566, 0.286452, 0.435890, 1.094983, 1.074515, 1.024835},
    {1.00, 0.785398, 3.141593, 0.250000, 0.000000, 1.000000, 1.000000, 0},
};

constexpr double six_decimals = 6e-7;

double full_flow_manning(double bore, double n, double slope) {
  return 0.25 * pi * bore * bore * std::pow(0.25 * bore, 2.0 / 3.0) * std::sqrt(slope) / n;
}

FrictionLaw hazen() { return {Law::hazen_williams}; }

}  // namespace

TEST_CASE("wetted part of a circle, as tabled") {
  for (const Row& row : rows) {
    const Segment wet = wetted_segment(1.0, row.depth);
    CAPTURE(row.depth);
    CHECK(wet.area_m2 == Approx(row.area).margin(six_decimals));
    CHECK(wet.wetted_m == Approx(row.wetted).margin(six_decimals));
    CHECK(wet.hydraulic_radius_m == Approx(row.radius).margin(six_decimals));
    CHECK(wet.top_width_m == Approx(row.top).margin(six_decimals));
    if (row.depth < 1.0) {
      CHECK(wet.area_m2 * std::sqrt(wet.area_m2 / wet.top_width_m) ==
            Approx(row.section_factor).margin(six_decimals));
    }
  }
}

TEST_CASE("a film of water keeps its digits") {
  // Area to first order is (2/3) T y; the next term of the series is y/D times 1/10 smaller.
  const Segment wet = wetted_segment(1.0, 1e-8);
  CHECK(wet.area_m2 == Approx(2.0 / 3.0 * wet.top_width_m * 1e-8).epsilon(1e-8));
  CHECK(wetted_segment(1.0, 0.0).area_m2 == 0.0);
}

TEST_CASE("Manning: flow and velocity at each depth, as tabled") {
  const double bore = 0.3, n = 0.011, slope = 0.004, full = full_flow_manning(bore, n, slope);
  const double full_velocity = full / (0.25 * pi * bore * bore);
  for (const Row& row : rows) {
    if (row.depth > 0.925) continue;  // above, the lower of the two depths is another
    CAPTURE(row.depth);
    const auto flow = normal_flow_manning(bore, n, slope, row.flow * full);
    REQUIRE(flow);
    // Six decimals of the flow, by the slope of the curve: a depth to 5e-6 where it is flat (0.9), better
    // below.
    CHECK(flow->depth_m / bore == Approx(row.depth).margin(row.depth < 0.86 ? 2e-6 : 5e-6));
    CHECK(flow->velocity_ms / full_velocity == Approx(row.velocity).margin(row.depth < 0.06 ? 2e-5 : 5e-6));
    CHECK(flow->near_full == (row.flow > 1.0));
  }
}

TEST_CASE("Manning: normal and critical depths") {
  struct Case {
    double flow, bore, slope, n, full, normal, critical;
  };
  // Computed with scipy, ten decimals.
  constexpr Case cases[] = {{0.001, 0.052, 0.01, 0.009, 0.0013046168, 0.0341169684, 0.0382144347},
                            {0.0005, 0.0409, 0.02, 0.009, 0.0009725633, 0.0207891142, 0.0286888406},
                            {0.02, 0.2, 0.005, 0.010, 0.0301495993, 0.1190110971, 0.1214896420},
                            {0.1, 0.5, 0.002, 0.013, 0.1688657387, 0.2768769528, 0.2126893542}};
  for (const Case& c : cases) {
    const auto flow = normal_flow_manning(c.bore, c.n, c.slope, c.flow);
    REQUIRE(flow);
    CHECK(full_flow_manning(c.bore, c.n, c.slope) == Approx(c.full).margin(6e-11));
    CHECK(flow->depth_m == Approx(c.normal).margin(6e-11));
    CHECK(critical_depth(c.bore, c.flow) == Approx(c.critical).margin(6e-11));
    CHECK((flow->froude > 1.0) == (c.normal < c.critical));
    CHECK_FALSE(flow->near_full);
  }
}

TEST_CASE("Manning: no claim above the full flow, nothing above the highest") {
  const double bore = 0.1, n = 0.009, slope = 0.01, full = full_flow_manning(bore, n, slope);
  CHECK_FALSE(normal_flow_manning(bore, n, slope, 0.9999 * full)->near_full);
  CHECK(normal_flow_manning(bore, n, slope, 1.0001 * full)->near_full);
  // Highest flow 1.0757061294 of full at 0.9381812 of the bore, computed.
  const auto highest = normal_flow_manning(bore, n, slope, 1.07570612 * full);
  REQUIRE(highest);
  CHECK(highest->depth_m / bore == Approx(0.9381812).margin(1e-4));  // flat: 1e-8 of flow is 1e-4 of depth
  CHECK(highest->depth_m / bore < 0.93819);                          // the lower one
  CHECK_FALSE(normal_flow_manning(bore, n, slope, 1.07570614 * full));
}

TEST_CASE("the pipe's own law: half full it has the velocity of the full pipe") {
  // 4R is the bore again at half depth, so Reynolds number, factor and velocity are those of the full pipe.
  for (const FrictionLaw& law : {FrictionLaw{}, hazen()}) {
    for (const double slope : {1e-4, 0.01, 0.3}) {
      const double bore = 0.0409;
      const PipeFriction pipe(law, bore, 1.5e-6, 150, 1.306e-6);
      for (double full = 1e-7; full < 0.1; full *= 3) {
        const double there = pipe.per_metre(full).head_m;
        if (there > slope || pipe.per_metre(3 * full).head_m < slope) continue;
        const auto flow = normal_flow(law, bore, 1.5e-6, 150, 1.306e-6, there, 0.5 * full);
        REQUIRE(flow);
        CHECK(flow->depth_m == Approx(0.5 * bore).epsilon(1e-9));
        CHECK(flow->velocity_ms == Approx(full / pipe.area_m2()).epsilon(1e-9));
      }
    }
  }
}

TEST_CASE("the pipe's own law: the loss at the normal depth is the slope") {
  const double nu = 1.306e-6;
  for (const FrictionLaw& law : {FrictionLaw{}, hazen()}) {
    for (const double bore : {0.0209, 0.0525, 0.154}) {
      for (const double slope : {0.002, 0.05, 0.4}) {
        double before = 0.0;
        for (double flow = 1e-7; flow < 1.0; flow *= 1.7) {
          const auto result = normal_flow(law, bore, 1.5e-6, 150, nu, slope, flow);
          if (!result) {
            // Only because the full pipe cannot carry it either.
            CHECK(PipeFriction(law, bore, 1.5e-6, 150, nu).per_metre(flow).head_m > slope);
            break;
          }
          const Segment wet = wetted_segment(bore, result->depth_m);
          const double diameter = 4 * wet.hydraulic_radius_m;
          const PipeFriction pipe(law, diameter, 1.5e-6, 150, nu);
          CAPTURE(bore, slope, flow);
          CHECK(pipe.per_metre(result->velocity_ms * pipe.area_m2()).head_m == Approx(slope).epsilon(1e-9));
          CHECK(result->velocity_ms * wet.area_m2 == Approx(flow).epsilon(1e-12));
          CHECK(result->depth_m > before);
          before = result->depth_m;
          CHECK((result->froude > 1.0) == (result->depth_m < critical_depth(bore, flow)));
        }
        CHECK(before > 0.0);
      }
    }
  }
}

TEST_CASE("a laminar film: closed form of 64/Re in the hydraulic radius") {
  // V = S g (4R)^2 / (32 nu): Hagen-Poiseuille with 4R for the bore.
  const double slope = 1e-4, nu = 1.306e-6, flow = 1e-6;
  const auto result = normal_flow({}, 0.05, 0.0, 150, nu, slope, flow);
  REQUIRE(result);
  const double diameter = 4 * wetted_segment(0.05, result->depth_m).hydraulic_radius_m;
  CHECK(result->velocity_ms * diameter / nu < 2000);
  CHECK(result->velocity_ms == Approx(slope * gravity_ms2 * diameter * diameter / (32 * nu)).epsilon(1e-11));
}

TEST_CASE("full flow marks the edge under the pipe's own law") {
  const PipeFriction pipe({}, 0.0409, 1.5e-6, 150, 1.306e-6);
  const double full = 1.5e-3, slope = pipe.per_metre(full).head_m;
  CHECK_FALSE(normal_flow({}, 0.0409, 1.5e-6, 150, 1.306e-6, slope, 0.9999 * full)->near_full);
  CHECK(normal_flow({}, 0.0409, 1.5e-6, 150, 1.306e-6, slope, 1.0001 * full)->near_full);
  CHECK_FALSE(normal_flow({}, 0.0409, 1.5e-6, 150, 1.306e-6, slope, 1.2 * full));
}

TEST_CASE("no flow, no slope") {
  const auto still = normal_flow({}, 0.05, 0, 150, 1e-6, 0.01, 0.0);
  REQUIRE(still);
  CHECK(still->depth_m == 0.0);
  CHECK_FALSE(normal_flow({}, 0.05, 0, 150, 1e-6, 0.0, 1e-4));
  CHECK_FALSE(normal_flow_manning(0.05, 0.009, -0.01, 1e-4));
  CHECK(critical_depth(0.05, 0.0) == 0.0);
}

TEST_CASE("critical depth satisfies its equation from a film to the crown") {
  for (const double bore : {0.012, 0.0408, 0.3}) {
    double before = 0.0;
    for (double load = 1e-9; load < 300.0; load *= 1.05) {
      const double flow = load * bore * bore * std::sqrt(bore);
      const double depth = critical_depth(bore, flow);
      CAPTURE(bore, load);
      REQUIRE(depth >= before);
      REQUIRE(depth <= bore);
      before = depth;
      if (depth > 0.999 * bore) continue;  // the top width is all rounding there
      const Segment wet = wetted_segment(bore, depth);
      REQUIRE(flow * flow * wet.top_width_m ==
              Approx(gravity_ms2 * std::pow(wet.area_m2, 3)).epsilon(3e-12));  // cubes of rounded areas
    }
  }
}
