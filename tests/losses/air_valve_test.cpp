#include "runnel/losses/air_valve.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/units/quantity.h"

using namespace runnel;
using namespace runnel::losses;

TEST_CASE("air through four holes at the limits of the trade") {
  // Isentropic, Cd 0.7, 15.6 C, free air in L/s out at 2 psi and in at 5 psi: worked apart from the library,
  // four digits or four decimals; its constants for air are unknown to the last digits, hence 1.5e-4.
  const double rows[][3] = {
      {3, 0.7395, 0.9372}, {6, 2.958, 3.749}, {10, 8.217, 10.414}, {25.4, 53.01, 67.18}};
  CHECK(most_filling_pressure_pa == Approx(Pressure::psi(2).pascals()).epsilon(1e-15));
  CHECK(most_draining_suction_pa == Approx(Pressure::psi(5).pascals()).epsilon(1e-15));
  for (const auto& [bore_mm, out_ls, in_ls] : rows) {
    CAPTURE(bore_mm);
    const double out = air_out_m3s(1e-3 * bore_mm, most_filling_pressure_pa, {});
    const double in = air_in_m3s(1e-3 * bore_mm, most_draining_suction_pa, {});
    CHECK(1e3 * out == Approx(out_ls).epsilon(1.6e-4));
    CHECK(1e3 * in == Approx(in_ls).epsilon(1.6e-4));
    CHECK(filling_vent_bore_m(out, {}) == Approx(1e-3 * bore_mm).epsilon(1e-13));
    CHECK(draining_vent_bore_m(in, {}) == Approx(1e-3 * bore_mm).epsilon(1e-13));
  }
}

TEST_CASE("a full pipe drains down its slope") {
  // Q = 0.0007872 C sqrt(S D^5), inches, ft3/s, C 110 [valve-notes]. D 2.067, S 0.1: 0.16820 ft3/s, 4.7629
  // L/s; D 1.049, S 0.05: 0.6179 L/s. The constant is 0.00078724, half of what is left over of its last
  // digit.
  CHECK(draining_flow_m3s(2.067 * units::inch_m, 0.1) / std::pow(units::foot_m, 3) ==
        Approx(0.16820).epsilon(7e-5));
  CHECK(1e3 * draining_flow_m3s(2.067 * units::inch_m, 0.1) == Approx(4.7629).epsilon(7e-5));
  CHECK(1e3 * draining_flow_m3s(1.049 * units::inch_m, 0.05) == Approx(0.6179).epsilon(2e-4));
  CHECK(draining_flow_m3s(0.05, 0.0) == 0.0);
}

TEST_CASE("air flow rises with the pressure until it is as fast as sound") {
  double before = 0.0;
  for (double suction = 100.0; suction < 45000.0; suction += 100.0) {
    const double flow = air_in_m3s(0.01, suction, {});
    CHECK(flow > before);
    before = flow;
  }
  // Sonic below 0.528 of the pressure outside: from 47.8 kPa of suction on nothing changes.
  CHECK(air_in_m3s(0.01, 48000.0, {}) == air_in_m3s(0.01, 90000.0, {}));
  CHECK(air_in_m3s(0.01, 90000.0, {}) == air_in_m3s(0.01, 2e5, {}));
  // Small differences are Torricelli's with the density of air, 1.2230 kg/m3 here.
  const double density = 101325.0 / (287.05 * 288.75);
  CHECK(air_out_m3s(0.01, 10.0, {}) ==
        Approx(0.7 * 0.25 * 3.14159265358979 * 1e-4 * std::sqrt(2 * 10.0 / density)).epsilon(1e-4));
  CHECK(air_out_m3s(0.01, 0.0, {}) == 0.0);
  CHECK(air_in_m3s(0.01, 0.0, {}) == 0.0);
  CHECK(air_in_m3s(0.01, -5.0, {}) == 0.0);
}

TEST_CASE("in thin air a smaller hole will do for filling") {
  const SiteAir high{61640.0, 5.0};  // about 4000 m
  CHECK(filling_vent_bore_m(1e-3, high) < filling_vent_bore_m(1e-3, {}));
  CHECK(filling_vent_bore_m(2e-3, high) > filling_vent_bore_m(1e-3, high));
  CHECK(filling_vent_bore_m(0.0, {}) == 0.0);
  CHECK(filling_vent_bore_m(-1.0, {}) == 0.0);
}
