// Volumes and depths of tanks: closed forms, inverses, and python3-fluids.
#include "runnel/filling/tank_curve.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <string>

using namespace runnel;
using namespace runnel::network;
using runnel::filling::TankCurve;

namespace {

constexpr double pi_here = 3.14159265358979323846;
Length m(double v) { return Length::metres(v); }

std::vector<std::pair<TankShape, double>> shapes() {
  return {
      {UprightCylinder{m(2.5)}, 3.0},
      {LyingCylinder{m(1.6), m(4.0)}, 1.6},
      {Cuboid{m(3.0), m(1.2)}, 2.0},
      {Frustum{m(1.0), m(2.2), m(1.8)}, 1.8},
      {Frustum{m(2.2), m(1.0), m(1.8)}, 1.8},
      {DepthVolumeTable{{m(0), m(0.5), m(2)}, {Volume{}, Volume::from_si(0.4), Volume::from_si(3.1)}}, 2.0}};
}

}  // namespace

TEST_CASE("depth and volume are each other's inverse, and the area is the slope") {
  for (const auto& [shape, height] : shapes()) {
    const TankCurve curve(shape);
    CHECK(curve.volume_m3(0.0) == 0.0);
    for (int i = 1; i < 200; ++i) {
      const double h = height * i / 200.0, v = curve.volume_m3(h);
      INFO(shape.index() << " at " << h);
      CHECK(curve.depth_m(v) == Approx(h).epsilon(1e-12));  // rounding
      if (i % 50 == 0) continue;                            // a row of the table
      const double e = 1e-5 * height;  // central difference: e^2 / 6 of the third derivative
      CHECK(curve.area_m2(h) ==
            Approx((curve.volume_m3(h + e) - curve.volume_m3(h - e)) / (2 * e)).epsilon(1e-6));
    }
  }
}

TEST_CASE("a lying cylinder by its closed form") {
  const TankCurve curve(LyingCylinder{m(1.6), m(4.0)});
  for (double h : {0.01, 0.3, 0.8, 1.1, 1.59}) {
    // V = L [R^2 acos((R-h)/R) - (R-h) sqrt(2Rh - h^2)], the segment of a circle
    const double v = 4.0 * (0.64 * std::acos((0.8 - h) / 0.8) - (0.8 - h) * std::sqrt(1.6 * h - h * h));
    CHECK(curve.volume_m3(h) ==
          Approx(v).epsilon(1e-11));  // the closed form itself loses digits at the floor
  }
  CHECK(curve.volume_m3(1.6) == Approx(4.0 * pi_here * 0.64).epsilon(1e-14));
  CHECK(curve.depth_m(2.0 * pi_here * 0.64) == Approx(0.8).epsilon(1e-14));
  // Next to the floor V = (4/3) L sqrt(2R) h^1.5, where the closed form has no digits left
  CHECK(curve.volume_m3(1e-12) == Approx(4.0 / 3.0 * 4.0 * std::sqrt(1.6) * 1e-18).epsilon(1e-11));
  CHECK(curve.depth_m(curve.volume_m3(1e-12)) == Approx(1e-12).epsilon(1e-12));
}

TEST_CASE("a frustum by its closed form, also where it is nearly a cylinder") {
  const TankCurve cone(Frustum{m(1.0), m(2.0), m(1.5)});
  CHECK(cone.volume_m3(1.5) == Approx(pi_here * 1.5 / 3.0 * (0.25 + 0.5 + 1.0)).epsilon(1e-14));
  const TankCurve nearly(Frustum{m(2.0), m(2.0 + 1e-9), m(1.5)});
  CHECK(nearly.volume_m3(0.7) == Approx(pi_here * 0.7).epsilon(1e-8));  // 1e-9 of the diameter
  CHECK(nearly.depth_m(nearly.volume_m3(0.7)) == Approx(0.7).epsilon(1e-14));
}

TEST_CASE("a table is straight between its rows and says where it bends") {
  const TankCurve curve(
      DepthVolumeTable{{m(0), m(0.5), m(2)}, {Volume{}, Volume::from_si(0.4), Volume::from_si(3.1)}});
  CHECK(curve.volume_m3(0.25) == Approx(0.2).epsilon(1e-15));
  CHECK(curve.volume_m3(1.25) == Approx(1.75).epsilon(1e-15));
  CHECK(curve.bends_m3() == std::vector<double>{0.4});
}

TEST_CASE("outside the shape the walls go on straight") {
  const TankCurve cone(Frustum{m(1.0), m(2.0), m(1.5)});
  CHECK(cone.volume_m3(1.6) == Approx(cone.volume_m3(1.5) + 0.1 * pi_here).epsilon(1e-14));
  CHECK(cone.depth_m(cone.volume_m3(1.6)) == Approx(1.6).epsilon(1e-14));
  CHECK(cone.depth_m(-0.1) == Approx(-0.1 / (pi_here * 0.25)).epsilon(1e-14));
  const TankCurve lying(LyingCylinder{m(1.6), m(4.0)});
  CHECK(lying.depth_m(-1.0) == 0.0);
  CHECK(lying.depth_m(100.0) == 1.6);
}

TEST_CASE("volumes agree with python3-fluids") {
  // Debian's own interpreter and its package python3-fluids; without them this test fails.
  FILE* pipe = popen(
      "/usr/bin/python3 -c \"from fluids.geometry import TANK\n"
      "u = TANK(D=2.5, L=3.0, horizontal=False)\n"
      "l = TANK(D=1.6, L=4.0, horizontal=True)\n"
      "for k in range(1, 20): print(repr(float(u.V_from_h(3.0*k/20))), repr(float(l.V_from_h(1.6*k/20))))\"",
      "r");
  REQUIRE(pipe != nullptr);
  const TankCurve upright(UprightCylinder{m(2.5)}), lying(LyingCylinder{m(1.6), m(4.0)});
  int rows = 0;
  for (double u = 0.0, l = 0.0; std::fscanf(pipe, "%lf %lf", &u, &l) == 2;) {
    ++rows;
    CHECK(upright.volume_m3(3.0 * rows / 20.0) == Approx(u).epsilon(1e-12));  // both closed forms
    CHECK(lying.volume_m3(1.6 * rows / 20.0) == Approx(l).epsilon(1e-10));
  }
  CHECK(pclose(pipe) == 0);
  CHECK(rows == 19);
}
