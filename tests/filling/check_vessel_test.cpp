// A tank in the words of the model: volumes by textbook formulas, draws by the clock.
#include "runnel/filling/check_vessel.h"

#include <catch2/catch.hpp>

#include "systems.h"

using namespace filling_test;
using runnel::filling::asked_m3s;
using runnel::filling::Vessel;

namespace {

double volume(const TankShape& shape, double depth_m) {
  return Vessel{.shape = shape, .floor_m = 100.0}.volume_m3(100.0 + depth_m);
}

}  // namespace

TEST_CASE("volumes of all shapes, worked by hand") {
  constexpr double pi = 3.14159265358979323846;
  CHECK(volume(UprightCylinder{m(2.0)}, 1.5) == Approx(1.5 * pi));
  CHECK(volume(Cuboid{m(3.0), m(2.0)}, 0.5) == Approx(3.0));
  // Lying, half full: half of the whole cylinder; full: all of it; above the top no more.
  CHECK(volume(LyingCylinder{m(2.0), m(5.0)}, 1.0) == Approx(2.5 * pi));
  CHECK(volume(LyingCylinder{m(2.0), m(5.0)}, 2.0) == Approx(5.0 * pi));
  CHECK(volume(LyingCylinder{m(2.0), m(5.0)}, 2.5) == Approx(5.0 * pi));
  // A frustum from 1 m to 2 m over 3 m, to the middle: radii 0.5 and 0.75 m.
  CHECK(volume(Frustum{m(1.0), m(2.0), m(3.0)}, 1.5) == Approx(0.5 * pi * (0.25 + 0.375 + 0.5625)));
  const DepthVolumeTable table{{m(0.0), m(1.0), m(2.0)},
                               {Volume::from_si(0.0), Volume::from_si(4.0), Volume::from_si(10.0)}};
  CHECK(volume(table, 0.5) == Approx(2.0));
  CHECK(volume(table, 1.5) == Approx(7.0));
}

TEST_CASE("a draw takes its day's volume within its hours") {
  const std::vector<Draw> evening{draw(1e-4, 18.0, 20.0)};
  CHECK(asked_m3s(evening, 17.5 * 3600.0, 0.0) == 0.0);
  CHECK(asked_m3s(evening, 18.0 * 3600.0, 0.0) == Approx(1.2e-3));
  CHECK(asked_m3s(evening, 20.0 * 3600.0, 0.0) == 0.0);
  CHECK(asked_m3s(evening, 3600.0, 17.0) == Approx(1.2e-3));  // the clock starts at five
}

TEST_CASE("hours may run over midnight, or all day") {
  const std::vector<Draw> night{draw(1e-4, 22.0, 2.0)};
  CHECK(asked_m3s(night, 23.0 * 3600.0, 0.0) == Approx(6e-4));
  CHECK(asked_m3s(night, 25.0 * 3600.0, 0.0) == Approx(6e-4));
  CHECK(asked_m3s(night, 12.0 * 3600.0, 0.0) == 0.0);
  const std::vector<Draw> both{draw(1e-4), draw(2e-4, 22.0, 2.0)};
  CHECK(asked_m3s(both, 12.0 * 3600.0, 0.0) == Approx(1e-4));
  CHECK(asked_m3s(both, 23.0 * 3600.0, 0.0) == Approx(1.3e-3));
}
