#include "runnel/water/siphon_limit.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "runnel/water/water.h"

namespace water = runnel::water;
using runnel::Length;

namespace {

const double cold_kgm3 = water::density_kgm3(10.0);

Approx within(double value, double margin) { return Approx(value).epsilon(0.0).margin(margin); }

}  // namespace

TEST_CASE("suction left to a siphon by altitude") {
  // Water of 10 C, 2.7 m absolute, worked apart from the library to two decimals.
  const double rows[][2] = {{0, 7.64}, {1000, 6.47}, {2000, 5.41}, {3000, 4.45}, {4000, 3.59}};
  for (const auto& [altitude_m, suction_m] : rows) {
    CAPTURE(altitude_m);
    CHECK(water::most_suction_at(Length::metres(altitude_m), cold_kgm3).metres() ==
          within(suction_m, 0.0051));
  }
  // "7.6 m of suction" everywhere would leave 1.57 m absolute at 1000 m and 0.51 m at 2000 m.
  for (const auto& [altitude_m, left_m] : {std::pair{1000.0, 1.57}, std::pair{2000.0, 0.51}}) {
    const double held_up = water::most_suction_at(Length::metres(altitude_m), cold_kgm3, 0.0).metres();
    CHECK(held_up - 7.6 == within(left_m, 0.0051));
  }
}

TEST_CASE("what the air holds up, in print") {
  // A page on siphons: 10.33, 9.74, 9.17, 8.63 m at 0, 500, 1000, 1500 m [siphon-altitude]; the water it
  // takes is not said, 0.006 covers cold water.
  const double rows[][2] = {{0, 10.33}, {500, 9.74}, {1000, 9.17}, {1500, 8.63}};
  for (const auto& [altitude_m, lift_m] : rows) {
    CAPTURE(altitude_m);
    CHECK(water::most_suction_at(Length::metres(altitude_m), cold_kgm3, 0.0).metres() ==
          within(lift_m, 0.006));
  }
}

TEST_CASE("an examination's siphon: the summit may stand 5.795 m over the upper water") {
  // 5 m over 5000 m of 100 mm, f 0.02, h = f L Q^2/(12.1 d^5), 2000 m to the summit, air 10.3 m, 2.5 m left
  // [siphon-exam]: Q 2.4597e-3 m3/s. The height is worked from it with the velocity head.
  const double flow = std::sqrt(5.0 * 12.1 * std::pow(0.1, 5) / (0.02 * 5000.0));
  CHECK(flow == within(2.4597e-3, 5.1e-8));
  const double specific = cold_kgm3 * 9.80665;
  const double velocity = flow / (0.25 * 3.14159265358979 * 0.01);
  const double height = water::most_suction(10.3 * specific, cold_kgm3, 2.5).metres() -
                        5.0 * 2000.0 / 5000.0 - velocity * velocity / (2 * 9.80665);
  CHECK(height == within(5.795, 5.1e-4));
}

TEST_CASE("no siphon works where the air holds up less than must be left") {
  CHECK(water::most_suction(20000.0, 1000.0).metres() == 0.0);
  CHECK(water::most_suction_at(Length::metres(11000.0), cold_kgm3).metres() == 0.0);
  CHECK_THROWS_AS(water::most_suction_at(Length::metres(12000.0), cold_kgm3), std::invalid_argument);
}
