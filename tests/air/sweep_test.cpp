#include "runnel/air/sweep.h"

#include <catch2/catch.hpp>
#include <cmath>

namespace air = runnel::air;
using air::ClearingLaw;

namespace {
constexpr double degree = runnel::pi / 180.0;

struct Row {
  double bore_m, degrees, root, wisner, esc_small, esc_large, esc_design, kent, kalinske_bliss, walski,
      benjamin;
};
// No published table of velocities could be read: these are arithmetic in Python from the formulas of
// [wisner1975], [escarameia2007], [kent1952], [kalinske-bliss1943], [walski1994] and [benjamin1968] with
// g = 9.81, printed to 1e-4. They hold the code to the formulas, not to experiments.
const Row rows[] = {
    {0.025, 0, 0.4952, 0.4086, 0.2229, 0.3021, 0.3323, 0.2724, 0, 0, 0.2684},
    {0.025, 5, 0.4952, 0.4451, 0.3047, 0.3840, 0.4224, 0.3455, 0.2210, 0.2303, 0.2684},
    {0.025, 10, 0.4952, 0.4602, 0.3384, 0.4177, 0.4594, 0.3756, 0.3138, 0.2911, 0.2684},
    {0.025, 20, 0.4952, 0.4810, 0.3850, 0.4643, 0.5107, 0.4172, 0.4508, 0.3666, 0.2684},
    {0.038, 10, 0.6106, 0.5673, 0.4172, 0.5149, 0.5664, 0.4630, 0.3869, 0.3589, 0.3309},
    {0.050, 5, 0.7004, 0.6295, 0.4309, 0.5430, 0.5973, 0.4886, 0.3126, 0.3257, 0.3796},
    {0.050, 10, 0.7004, 0.6508, 0.4786, 0.5907, 0.6497, 0.5311, 0.4438, 0.4117, 0.3796},
    {0.100, 10, 0.9905, 0.9203, 0.6768, 0.8353, 0.9188, 0.7511, 0.6276, 0.5822, 0.5368},
};

Approx printed(double v) { return Approx(v).epsilon(0.0).margin(5.01e-5); }
}  // namespace

TEST_CASE("clearing velocities of every law to the digits of the table") {
  for (const Row& row : rows) {
    CAPTURE(row.bore_m, row.degrees);
    const auto v = [&](ClearingLaw law, double a = 0.61, double safety = 1.0) {
      return air::clearing_velocity_ms(law, row.bore_m, row.degrees * degree, {a, safety, 9.81});
    };
    const double root = std::sqrt(9.81 * row.bore_m);
    CHECK(root == printed(row.root));
    CHECK(v(ClearingLaw::wisner) == printed(row.wisner));
    CHECK(v(ClearingLaw::escarameia, 0.45) == printed(row.esc_small));
    CHECK(v(ClearingLaw::escarameia) == printed(row.esc_large));
    CHECK(v(ClearingLaw::escarameia, 0.61, 1.1) == printed(row.esc_design));
    CHECK(v(ClearingLaw::kent) == printed(row.kent));
    CHECK(v(ClearingLaw::kalinske_bliss) == printed(row.kalinske_bliss));
    CHECK(v(ClearingLaw::walski) == printed(row.walski));
    CHECK(root * air::bubble_drift_froude(0.0) == printed(row.benjamin));
  }
}

TEST_CASE("the angle goes into the sine, not the slope") {
  // Arithmetic from the formulas at theta = atan(0.0057), where sin(0.0057 degrees) would be taken by
  // mistake.
  const double angle = air::down_angle_rad(0.0057, 1.0);
  CHECK(air::clearing_froude(ClearingLaw::wisner, angle) == printed(0.8439));
  CHECK(air::clearing_froude(ClearingLaw::escarameia, angle, {0.61, 1.0, 9.81}) == printed(0.6523));
}

TEST_CASE("the spread, and whether a velocity beats all, some or none") {
  // 50 mm, 10 degrees: 0.6508 over 0.4117, a factor near 1.6, by the table above.
  const air::ClearingOptions table{0.61, 1.1, 9.81};
  const auto none = air::sweep(0.050, 10 * degree, 0.40, table);
  CHECK(none.least_ms == printed(0.4117));
  CHECK(none.most_ms == printed(0.6508));
  CHECK(none.swept == air::Swept::by_none);
  CHECK(air::sweep(0.050, 10 * degree, 0.50, table).swept == air::Swept::by_some);
  CHECK(air::sweep(0.050, 10 * degree, 0.66, table).swept == air::Swept::by_all);
  CHECK(none.screening);
  CHECK_FALSE(air::sweep(0.100, 10 * degree, 0.40, table).screening);
}

TEST_CASE("laws are left out of the spread where they say nothing") {
  const auto in_range = [](double degrees, ClearingLaw law) {
    for (const auto& v : air::sweep(0.05, degrees * degree, 0.5).laws)
      if (v.law == law) return v.in_range;
    return false;
  };
  CHECK_FALSE(in_range(0, ClearingLaw::kalinske_bliss));
  CHECK_FALSE(in_range(0, ClearingLaw::walski));
  CHECK(in_range(0, ClearingLaw::wisner));
  CHECK(in_range(20, ClearingLaw::escarameia));
  CHECK_FALSE(in_range(30, ClearingLaw::escarameia));  // tests to about 22 degrees
  CHECK_FALSE(in_range(90, ClearingLaw::kalinske_bliss));
  CHECK(std::isfinite(air::sweep(0.05, 90 * degree, 0.5).most_ms));
  CHECK(air::sweep(0.05, 0.0, 0.5).least_ms > 0.0);
  CHECK(air::clearing_laws().size() == 5);
}

TEST_CASE("the constant of Escarameia's law by the size of the pocket") {
  // [escarameia2007; from memory].
  CHECK(air::escarameia_constant(0.05) == 0.45);
  CHECK(air::escarameia_constant(0.06) == 0.50);
  CHECK(air::escarameia_constant(0.2) == 0.57);
  CHECK(air::escarameia_constant(1.0) == 0.61);
  CHECK(air::escarameia_constant(50.0) == 0.61);
}

TEST_CASE("the bore that sweeps, against bisection on the law") {
  for (const auto& c : air::clearing_laws())
    for (double degrees : {1.0, 10.0, 25.0})
      for (double flow_m3s : {1e-4, 1e-3, 0.02}) {
        double small = 1e-3, large = 2.0;  // small is swept, large is not
        for (int i = 0; i < 100; ++i) {
          const double d = 0.5 * (small + large);
          const double v = flow_m3s / (runnel::pi / 4 * d * d);
          (v > air::clearing_velocity_ms(c.law, d, degrees * degree) ? small : large) = d;
        }
        const auto bore = air::bore_that_sweeps_m(c.law, flow_m3s, degrees * degree);
        REQUIRE(bore);
        CHECK(*bore == Approx(small).epsilon(1e-12));  // both exact but for rounding
      }
  CHECK_FALSE(air::bore_that_sweeps_m(ClearingLaw::walski, 1e-3, 0.0));
  CHECK_FALSE(air::bore_that_sweeps_m(ClearingLaw::wisner, 0.0, 0.1));
}
