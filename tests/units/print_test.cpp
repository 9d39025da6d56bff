// Figures as people read them. Expected texts follow from the rounding rules of units/display.cpp by hand.
#include "runnel/units/print.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>

using namespace runnel;
using units::render;
using units::show;
using units::show_number;
using units::unit_name;
using units::UnitSystem;

TEST_CASE("figures are rounded to what a reader can use") {
  struct Row {
    Kind kind;
    double si;
    const char *metric, *us;
  };
  constexpr Row rows[] = {
      {Kind::number, 3, "3", "3"},
      {Kind::number, 1.852, "1.852", "1.852"},
      {Kind::number, 22332, "22332", "22332"},
      {Kind::percent, 0.4, "40 %", "40 %"},
      {Kind::percent, 0.2222, "22.2 %", "22.2 %"},
      {Kind::length, 60.96, "61.0 m", "200.0 ft"},
      {Kind::bore, 0.0381, "38.1 mm", "1.5 in"},
      {Kind::bore, 0.0266446, "26.64 mm", "1.049 in"},
      {Kind::bore, 1.5e-6, "0.0015 mm", "0.00006 in"},
      {Kind::elevation, 1449.56784, "1449.57 m", "4755.8 ft"},
      {Kind::elevation, -0.004, "0.00 m", "0.0 ft"},
      {Kind::head, 8.36, "8.36 m", "27.4 ft"},
      {Kind::pressure, 275790.29, "275.8 kPa", "40.0 psi"},
      {Kind::pressure, -0.01, "0.0 kPa", "0.0 psi"},
      {Kind::flow, 0.00011987137, "0.120 L/s", "1.90 gal/min"},
      {Kind::flow, 0.0003, "0.300 L/s", "4.76 gal/min"},
      {Kind::flow, 6.30901964e-6, "0.00631 L/s", "0.100 gal/min"},
      {Kind::flow, 1e-17, "0 L/s", "0 gal/min"},
      {Kind::flow, 0.1, "100 L/s", "1585 gal/min"},
      {Kind::velocity, 0.31, "0.31 m/s", "1.02 ft/s"},
      {Kind::volume, 3.785411784, "3.79 m3", "1000 gal"},
      {Kind::volume, 0.0189270589, "0.0189 m3", "5 gal"},
      {Kind::temperature, 9, "9 degC", "48.2 degF"},
      {Kind::slope, 0.005, "0.5 %", "0.5 %"},
      {Kind::slope, -0.0215, "-2.15 %", "-2.15 %"},
      {Kind::duration, 0, "0 s", "0 s"},
      {Kind::duration, 45, "45 s", "45 s"},
      {Kind::duration, 157.5, "2.6 min", "2.6 min"},
      {Kind::duration, 45000, "12.5 h", "12.5 h"},
      {Kind::duration, 276480, "3.2 days", "3.2 days"},
  };
  for (const Row& row : rows) {
    CHECK(show({row.kind, row.si}, UnitSystem::si) == row.metric);
    CHECK(show({row.kind, row.si}, UnitSystem::us) == row.us);
  }
}

TEST_CASE("rounding up to the next power of ten keeps the digits") {
  CHECK(show({Kind::flow, 9.996e-3}, UnitSystem::si) == "10.0 L/s");
  CHECK(show({Kind::flow, 9.994e-3}, UnitSystem::si) == "9.99 L/s");
  CHECK(show({Kind::flow, 0.09996}, UnitSystem::si) == "100 L/s");
}

// 1.6201 gal/min and 35.592 mm: a little less than what is needed would not do.
TEST_CASE("what is needed at least is rounded up") {
  CHECK(show({Kind::flow, 1.6201 * 6.30901964e-5, true}, UnitSystem::us) == "1.63 gal/min");
  CHECK(show({Kind::flow, 1.6201 * 6.30901964e-5}, UnitSystem::us) == "1.62 gal/min");
  CHECK(show({Kind::flow, 1.62 * 6.30901964e-5, true}, UnitSystem::us) == "1.62 gal/min");
  CHECK(show({Kind::bore, 0.035592, true}, UnitSystem::si) == "35.6 mm");
  CHECK(show({Kind::bore, 0.099991, true}, UnitSystem::si) == "100 mm");
  CHECK(show({Kind::duration, 601.0, true}, UnitSystem::si) == "10.1 min");
  CHECK(show({Kind::head, -1.234, true}, UnitSystem::si) == "-1.23 m");
  CHECK(show({Kind::head, -1.239, true}, UnitSystem::si) == "-1.23 m");
}

TEST_CASE("figures beyond all sense are told by their size") {
  CHECK(show({Kind::number, 1e300}, UnitSystem::si) == "1e+300");
  CHECK(show({Kind::number, -2.5e15}, UnitSystem::si) == "-2.5e+15");
  CHECK(show({Kind::length, 1e300}, UnitSystem::si) == "1e+300 m");
  CHECK(show({Kind::number, 123456789012.0}, UnitSystem::si) == "123456789012");
}

TEST_CASE("columns carry the number, the head the unit") {
  CHECK(unit_name(Kind::flow, UnitSystem::us) == "gal/min");
  CHECK(unit_name(Kind::flow, UnitSystem::si) == "L/s");
  CHECK(unit_name(Kind::number, UnitSystem::si).empty());
  CHECK(show_number({Kind::flow, 0.00011987137}, UnitSystem::us) == "1.90");
  CHECK(show_number({Kind::duration, 45000}, UnitSystem::us) == "12.5");
  CHECK(unit_name(Kind::duration, UnitSystem::us) == "h");
}

TEST_CASE("nothing shows as minus nought, and what is not finite as a dash") {
  std::mt19937_64 random(9);
  std::uniform_real_distribution<double> exponent(-14.0, 2.0);
  for (int k = 0; k <= static_cast<int>(Kind::slope); ++k)
    for (UnitSystem system : {UnitSystem::si, UnitSystem::us}) {
      const Kind kind = static_cast<Kind>(k);
      for (int i = 0; i < 2000; ++i) {
        const std::string text = show({kind, -std::pow(10.0, exponent(random))}, system);
        const bool has_digit = text.find_first_of("123456789") < text.find(' ');
        if (text.front() == '-' && !has_digit) FAIL(text);
      }
      CHECK(show({kind, std::numeric_limits<double>::quiet_NaN()}, system) == "-");
      CHECK(show({kind, std::numeric_limits<double>::infinity()}, system) == "-");
      CHECK(show_number({kind, -std::numeric_limits<double>::infinity()}, system) == "-");
    }
}

TEST_CASE("messages get their figures in the reader's units") {
  const std::vector<Figure> figures = {{Kind::flow, 0.00011987137}, {Kind::elevation, 1449.56784}};
  CHECK(render("{0} at {1}", figures, UnitSystem::us) == "1.90 gal/min at 4755.8 ft");
  CHECK(render("{1}, again {1}", figures, UnitSystem::si) == "1449.57 m, again 1449.57 m");
  CHECK(render("plain", figures, UnitSystem::si) == "plain");
  CHECK(render("{{0}} stays, {0} not", figures, UnitSystem::us) == "{0} stays, 1.90 gal/min not");
  CHECK(render("{2} {} {x} {0 } { 0} {-1} {", figures, UnitSystem::us) == "{2} {} {x} {0 } { 0} {-1} {");
  CHECK(render("}", figures, UnitSystem::us) == "}");
  CHECK(render("", {}, UnitSystem::us).empty());
}
