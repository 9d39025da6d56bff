// Air pressure against altitude.
#include <catch2/catch.hpp>
#include <limits>
#include <stdexcept>

#include "runnel/base/constants.h"
#include "runnel/water/water.h"

namespace water = runnel::water;
using runnel::Length;

TEST_CASE("air pressure is that of the standard atmosphere") {
  CHECK(water::air_pressure_pa(Length::metres(0)) == 101325.0);
  // [us-standard-atmosphere-1976] at geopotential altitude, computed by the Python library fluids, printed to
  // 1e-4 Pa.
  constexpr double table[][2] = {{500, 95460.8393},  {1000, 89874.5705}, {1500, 84556.0048},
                                 {2000, 79495.2155}, {3000, 70108.5447}, {4000, 61640.2353}};
  for (const auto& [altitude_m, pressure_pa] : table) {
    CAPTURE(altitude_m);
    CHECK(water::air_pressure_pa(Length::metres(altitude_m)) == Approx(pressure_pa).epsilon(1e-9).margin(0));
  }
}

TEST_CASE("air pressure agrees with a printed table") {
  // 5000 ft: 12.230 psia (FOUND on an engineering page); its own formula gives 12.2278, hence 0.05 %.
  const double psi = water::air_pressure_pa(Length::feet(5000)) / runnel::units::psi_pa;
  CHECK(psi == Approx(12.230).epsilon(5e-4).margin(0));
}

TEST_CASE("the air holds up about ten metres of water, less on a mountain") {
  // The table above over the weight of 10 C water of [iapws95], 999.70247 kg/m3, printed to 1e-4 m.
  const double weight_nm3 = water::density_kgm3(10) * runnel::gravity_ms2;
  constexpr double table[][2] = {{0, 10.3353}, {1000, 9.1674}, {2000, 8.1087}, {3000, 7.1512}};
  for (const auto& [altitude_m, column_m] : table) {
    CAPTURE(altitude_m);
    CHECK(water::air_pressure_pa(Length::metres(altitude_m)) / weight_nm3 ==
          Approx(column_m).margin(0.00006).epsilon(0));
  }
}

TEST_CASE("altitudes where nobody lays pipe are refused") {
  CHECK(water::air_pressure_pa(Length::metres(-430)) > 101325.0);  // the Dead Sea shore
  for (double h : {-501.0, 11001.0, 50000.0, std::numeric_limits<double>::quiet_NaN()})
    CHECK_THROWS_AS(water::air_pressure_pa(Length::metres(h)), std::invalid_argument);
}
