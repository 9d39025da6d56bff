// Properties of water against reference values. Every tolerance is the error stated in water.h.
#include "runnel/water/water.h"

#include <catch2/catch.hpp>
#include <limits>
#include <stdexcept>

namespace water = runnel::water;
using runnel::Temperature;

namespace {

struct Reference {
  double temperature_c, density_kgm3, viscosity_upas, viscosity_mm2s, vapour_pa, bulk_gpa;
};

// Computed from IAPWS-95 (density, isothermal bulk modulus), IAPWS R12-08 (viscosity) and Wagner & Pruss 1993
// (vapour pressure) at 101325 Pa by the Python library iapws 1.5.2: [iapws95], [iapws-r12-08],
// [wagner-pruss1993]. The first stands at 0.01 C, the triple point.
constexpr Reference references[] = {
    {0.01, 999.843762, 1791.132037, 1.79141192, 611.657070, 1.965368},
    {4, 999.974869, 1567.291773, 1.56733116, 813.512708, 2.020995},
    {5, 999.966634, 1518.172850, 1.51822351, 872.530222, 2.033821},
    {10, 999.702470, 1305.899660, 1.30628832, 1228.112151, 2.091687},
    {15, 999.102621, 1137.567559, 1.13858930, 1705.677000, 2.139823},
    {20, 998.207150, 1001.596143, 1.00339508, 2339.193737, 2.179063},
    {25, 997.047637, 890.022489, 0.89265794, 3169.824486, 2.210132},
    {30, 995.649454, 797.221800, 0.80070531, 4246.919927, 2.233678},
    {35, 994.033315, 719.125619, 0.72344217, 5629.057401, 2.250292},
    {40, 992.216353, 652.728727, 0.65784919, 7385.110475, 2.260523},
};

}  // namespace

TEST_CASE("water agrees with the reference table") {
  for (const Reference& r : references) {
    CAPTURE(r.temperature_c);
    CHECK(water::density_kgm3(r.temperature_c) == Approx(r.density_kgm3).epsilon(1.2e-6).margin(0));
    CHECK(water::dynamic_viscosity_pas(r.temperature_c) ==
          Approx(r.viscosity_upas * 1e-6).epsilon(3e-5).margin(0));
    CHECK(water::vapour_pressure_pa(r.temperature_c) == Approx(r.vapour_pa).epsilon(5e-4).margin(0));
    CHECK(water::bulk_modulus_pa(r.temperature_c) == Approx(r.bulk_gpa * 1e9).epsilon(7.4e-5).margin(0));

    const water::Water all = water::at(Temperature::celsius(r.temperature_c));
    CHECK(all.temperature_c == r.temperature_c);
    CHECK(all.kinematic_viscosity_m2s == Approx(r.viscosity_mm2s * 1e-6).epsilon(3.2e-5).margin(0));
    CHECK(all.density_kgm3 == water::density_kgm3(r.temperature_c));
    CHECK(all.vapour_pressure_pa == water::vapour_pressure_pa(r.temperature_c));
    CHECK(all.bulk_modulus_pa == water::bulk_modulus_pa(r.temperature_c));
  }
}

TEST_CASE("density has the published values of its own formula") {
  // Documentation of an R package citing [tanaka2001] and [kell1975] (FOUND), printed to four decimals.
  constexpr double table[][2] = {
      {0, 999.8428}, {10, 999.7027}, {15, 999.1026}, {20, 998.2067}, {30, 995.6488}};
  for (const auto& [temperature_c, density] : table) {
    CAPTURE(temperature_c);
    CHECK(water::density_kgm3(temperature_c) == Approx(density).margin(0.00006).epsilon(0));
  }
}

TEST_CASE("viscosity has the values of its own formula") {
  // Computed from the formula of [iapws-sr6-08] in Python, printed to 1e-6.
  CHECK(water::dynamic_viscosity_pas(5) * 1e6 == Approx(1518.198342).epsilon(1e-9).margin(0));
  CHECK(water::dynamic_viscosity_pas(10) * 1e6 == Approx(1305.901728).epsilon(1e-9).margin(0));
  CHECK(water::dynamic_viscosity_pas(20) * 1e6 == Approx(1001.567265).epsilon(1e-9).margin(0));
  CHECK(water::dynamic_viscosity_pas(30) * 1e6 == Approx(797.206202).epsilon(1e-9).margin(0));
  CHECK(water::dynamic_viscosity_pas(40) * 1e6 == Approx(652.733474).epsilon(1e-9).margin(0));
}

TEST_CASE("vapour pressure agrees with a published table") {
  // A printed table in kPa (FOUND on an engineering page), within 0.05 % of Wagner & Pruss, and our
  // formula as much again: 0.1 %.
  constexpr double table[][2] = {{0, 0.6113},  {5, 0.8726},  {10, 1.2281}, {15, 1.7056},
                                 {20, 2.3388}, {25, 3.1690}, {30, 4.2455}, {40, 7.3814}};
  for (const auto& [temperature_c, pressure_kpa] : table) {
    CAPTURE(temperature_c);
    CHECK(water::vapour_pressure_pa(temperature_c) == Approx(pressure_kpa * 1e3).epsilon(1e-3).margin(0));
  }
  // Computed from the formula of [buck1996] in Python, printed to 1 mPa.
  CHECK(water::vapour_pressure_pa(10) == Approx(1227.860).margin(0.0006).epsilon(0));
  CHECK(water::vapour_pressure_pa(20) == Approx(2338.340).margin(0.0006).epsilon(0));
  CHECK(water::vapour_pressure_pa(40) == Approx(7382.360).margin(0.0006).epsilon(0));
}

TEST_CASE("a foot of water at 39.2 F weighs what NIST says") {
  // [nist-sp811 appendix B.8; from memory]: foot of water (39.2 F) = 2.988 98 E+03 Pa.
  // Six digits, and by its size it rests on a greatest density of 999.972 kg/m3, 3e-6 below today's: 5e-6.
  const double weight_pa = water::density_kgm3(Temperature::fahrenheit(39.2).celsius()) * 9.80665 * 0.3048;
  CHECK(weight_pa == Approx(2988.98).epsilon(5e-6).margin(0));
}

TEST_CASE("water is densest near 4 C, thinner and more volatile when warmer") {
  for (int t = 0; t < 40; ++t) {
    CAPTURE(t);
    CHECK((water::density_kgm3(t + 1) < water::density_kgm3(t)) == (t >= 4));
    CHECK(water::dynamic_viscosity_pas(t + 1) < water::dynamic_viscosity_pas(t));
    CHECK(water::vapour_pressure_pa(t + 1) > water::vapour_pressure_pa(t));
    CHECK(water::bulk_modulus_pa(t + 1) > water::bulk_modulus_pa(t));
  }
}

TEST_CASE("water outside 0 to 40 C is refused") {
  CHECK_NOTHROW(water::at(Temperature::celsius(0)));
  CHECK_NOTHROW(water::at(Temperature::celsius(40)));
  for (double t : {-0.001, 40.001, 300.0, std::numeric_limits<double>::quiet_NaN()})
    CHECK_THROWS_AS(water::at(Temperature::celsius(t)), std::invalid_argument);
}
