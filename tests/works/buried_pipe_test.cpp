#include "runnel/works/buried_pipe.h"

#include <catch2/catch.hpp>

using namespace runnel;
using namespace runnel::works;

TEST_CASE("frost goes as deep as Stefan has it") {
  // k 2 W/(m K), water 0.15 of 1700 kg/m3; degree-days and metres, computed from the formula to two decimals.
  const double rows[][2] = {{200, 0.90}, {500, 1.42}, {1000, 2.01}};
  for (const auto& [days, depth_m] : rows) CHECK(frost_depth(days).metres() == Approx(depth_m).margin(0.005));
  CHECK(frost_depth(0.0).metres() == 0.0);
  CHECK(frost_depth(-5.0).metres() == 0.0);
  // [plumbing-code-frost]: 6 in below the frost line, 12 in at least.
  CHECK(least_cover(Length::inches(30)).inches() == Approx(36));
  CHECK(least_cover(Length::inches(2)).inches() == Approx(12));
}

TEST_CASE("plastic pipe stretches as its makers print") {
  // 100 m, 20 K: PE 300 to 420 mm, PVC 112 to 160 mm; computed from the printed coefficients.
  const LengthRange pe = expansion(Length::metres(100), 20, polyethylene_expansion);
  CHECK(pe.low.millimetres() == Approx(300).epsilon(1e-12));
  CHECK(pe.high.millimetres() == Approx(420).epsilon(1e-12));
  const LengthRange pvc = expansion(Length::metres(100), 20, pvc_expansion);
  CHECK(pvc.low.millimetres() == Approx(112).epsilon(1e-12));
  CHECK(pvc.high.millimetres() == Approx(160).epsilon(1e-12));
  // A maker's example: PVC, 1000 ft, 90 to 40 F, "about 20 in", where its rule of 3/8 in per 100 ft and 10 F
  // gives 18.75 in; the rule is 0.05625 mm/m/K, our low figure rounds it by 0.5 %.
  const LengthRange line = expansion(Length::feet(1000), 50 / 1.8, pvc_expansion);
  CHECK(line.low.inches() == Approx(18.75).epsilon(0.006));
  CHECK(line.low.inches() < 20);
  CHECK(20 < line.high.inches());
}

TEST_CASE("thrust at bends meets the published examples") {
  constexpr double pound_n = 4.4482216152605;  // exact
  // [awwa-m23]: 8 in, OD 9.050 in, 7385 lb, ground 1500 lb/ft2, block 7.39 ft2; 45 degrees, 150 psi and a
  // factor of 1.5 are inferred from those figures.
  const double thrust_n = bend_thrust_n(Pressure::psi(150), Length::inches(9.050), 45);
  CHECK(thrust_n / pound_n == Approx(7385).margin(0.6));
  const double block_m2 = thrust_block_m2(thrust_n, Pressure::psi(1500.0 / 144), 1.5);
  CHECK(block_m2 / (0.3048 * 0.3048) == Approx(7.39).margin(0.006));
  // A second one: 40 mm, 90 degrees, 975 kPa, printed 1.732 kN (1.7328 unrounded).
  CHECK(bend_thrust_n(Pressure::pascals(975e3), Length::millimetres(40), 90) == Approx(1732).margin(1.0));
  // 63 mm at 9 bar, kN, computed.
  const double rows[][2] = {{22.5, 1.09}, {45, 2.15}, {90, 3.97}};
  for (const auto& [angle, kilonewtons] : rows)
    CHECK(bend_thrust_n(Pressure::bar(9), Length::millimetres(63), angle) ==
          Approx(1e3 * kilonewtons).margin(5));
  CHECK(end_thrust_n(Pressure::bar(9), Length::millimetres(63)) == Approx(2810).margin(5));
  CHECK(bend_thrust_n(Pressure::bar(9), Length::millimetres(63), 0) == 0.0);
}

TEST_CASE("an empty pipe floats and so much cover holds it") {
  // PE 110 mm SDR 11, 3.17 kg/m: lifted 9.50, net 6.33 kg/m; factor 1.5 under soil of 900 kg/m3: 0.112 m.
  const Length pipe = Length::millimetres(110);
  CHECK(net_lift_kgm(pipe, 3.17, 1000) == Approx(6.33).margin(0.005));
  CHECK(cover_against_lift(pipe, 3.17, 1000, 900, 1.5).metres() == Approx(0.112).margin(5e-4));
  // Full of water (bore 90 mm) it hardly sinks or floats: +0.03 kg/m lifted (-0.03 down is computed).
  CHECK(net_lift_kgm(pipe, 3.17 + 1000 * 0.25 * 3.14159265 * 0.09 * 0.09, 1000) ==
        Approx(-0.03).margin(0.005));
  CHECK(cover_against_lift(pipe, 20.0, 1000, 900, 1.5).metres() == 0.0);
}
