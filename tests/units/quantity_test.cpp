// The factors, and the little algebra of quantities.
#include "runnel/units/quantity.h"

#include <catch2/catch.hpp>

#include "runnel/units/parse.h"

using namespace runnel;
using units::Dimension;
using units::parse;

TEST_CASE("factors are those of NIST SP 811 appendix B.8") {
  // The digits are from memory [nist-sp811 appendix B.8]. Exact ones must be exact:
  CHECK(Length::feet(1).metres() == 0.3048);
  CHECK(Length::inches(1).metres() == 0.0254);
  CHECK(Volume::gallons(1).cubic_metres() == 3.785411784e-3);  // 231 in3
  // Printed to seven digits: 6.309 020 E-05 m3/s, 6.894 757 E+03 Pa; half a unit of the last.
  CHECK(Flow::gallons_per_minute(1).cubic_metres_per_second() ==
        Approx(6.309020e-5).margin(0.5e-11).epsilon(0));
  CHECK(Pressure::psi(1).pascals() == Approx(6.894757e3).margin(0.5e-3).epsilon(0));
  CHECK(Temperature::fahrenheit(212).celsius() == 100.0);
}

TEST_CASE("the parser and the quantity types agree") {
  // Two roundings in the types against one in the parser: 3 ulp.
  static constexpr double ulps = 3 * 2.3e-16;
  const auto read = [](const char* text, Dimension d) {
    return Approx(parse(text, d).si).epsilon(ulps).margin(0);
  };
  CHECK(Length::feet(37.7).si() == read("37.7 ft", Dimension::length));
  CHECK(Length::inches(1.049).si() == read("1.049 in", Dimension::length));
  CHECK(Length::millimetres(26.64).si() == read("26.64 mm", Dimension::length));
  CHECK(Flow::gallons_per_minute(1.9).si() == read("1.9 gal/min", Dimension::flow));
  CHECK(Flow::litres_per_second(0.119).si() == read("0.119 L/s", Dimension::flow));
  CHECK(Pressure::psi(43.3).si() == read("43.3 psi", Dimension::pressure));
  CHECK(Pressure::bar(2.7).si() == read("2.7 bar", Dimension::pressure));
  CHECK(Velocity::feet_per_second(2.9).si() == read("2.9 ft/s", Dimension::velocity));
  CHECK(Volume::gallons(1001).si() == read("1001 gal", Dimension::volume));
  CHECK(Volume::litres(0.7).si() == read("0.7 L", Dimension::volume));
  CHECK(Duration::hours(12.3).si() == read("12.3 h", Dimension::duration));
  CHECK(Duration::days(3.1).si() == read("3.1 days", Dimension::duration));
  CHECK(Temperature::fahrenheit(48.3).si() == read("48.3 degF", Dimension::temperature));
  CHECK(units::us_gallon_m3 == parse("231 in3", Dimension::volume).si);
  CHECK(units::psi_pa == parse("1 psi", Dimension::pressure).si);
  CHECK(units::imperial_gallon_m3 == parse("1 impgal", Dimension::volume).si);
}

TEST_CASE("quantities add, scale and compare, and accessors undo factories") {
  const Length a = Length::metres(3), b = Length::metres(2);
  CHECK((a + b).metres() == 5.0);
  CHECK((a - b).metres() == 1.0);
  CHECK((-a).metres() == -3.0);
  CHECK((2 * a).metres() == 6.0);
  CHECK((a * 2).metres() == 6.0);
  CHECK((a / 2).metres() == 1.5);
  CHECK(a / b == 1.5);
  CHECK(b < a);
  CHECK(a == Length::metres(3));
  Length sum = a;
  sum += b;
  CHECK(sum.metres() == 5.0);
  CHECK(Length().metres() == 0.0);
  // One rounding each way: 2 ulp.
  CHECK(Length::feet(7.7).feet() == Approx(7.7).epsilon(5e-16).margin(0));
  CHECK(Flow::gallons_per_minute(1.9).gallons_per_minute() == Approx(1.9).epsilon(5e-16).margin(0));
  CHECK(Pressure::psi(43.3).psi() == Approx(43.3).epsilon(5e-16).margin(0));
  CHECK(Volume::gallons(43.3).gallons() == Approx(43.3).epsilon(5e-16).margin(0));
  CHECK(Temperature::fahrenheit(48.3).fahrenheit() == Approx(48.3).epsilon(5e-16).margin(0));
}
