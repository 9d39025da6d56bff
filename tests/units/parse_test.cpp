// What people write, and what it means. Expected values are exact: `parse` promises the nearest double, and
// the compiler rounds the decimal on the right the same way. They follow from the definitions 1 ft = 0.3048
// m, 1 in = 25.4 mm, 1 US gal = 3.785411784 L (NIST SP 811) by hand.
#include "runnel/units/parse.h"

#include <catch2/catch.hpp>
#include <clocale>

using runnel::units::Dimension;
using runnel::units::parse;
using runnel::units::Parsed;

namespace {

struct Accepted {
  const char* text;
  double si;
};

template <std::size_t N>
void check_all(const Accepted (&table)[N], Dimension dimension) {
  for (const Accepted& row : table) {
    CAPTURE(row.text);
    const Parsed parsed = parse(row.text, dimension);
    CHECK(parsed.error == "");
    CHECK(parsed.si == row.si);
  }
}

}  // namespace

TEST_CASE("lengths") {
  constexpr Accepted table[] = {
      {"200 ft", 60.96},
      {"200ft", 60.96},
      {"200 feet", 60.96},
      {"1 foot", 0.3048},
      {"200 FT", 60.96},
      {"200 ft.", 60.96},
      {"  200 ft  ", 60.96},
      {"+200 ft", 60.96},
      {"60 m", 60.0},
      {"1 metre", 1.0},
      {"2 meters", 2.0},
      {"-3.5 m", -3.5},
      {"5. m", 5.0},
      {".5 m", 0.5},
      {"1e3 m", 1000.0},
      {"1.5E-3 m", 0.0015},
      {"0 m", 0.0},
      {"38.1 mm", 0.0381},
      {"3.81 cm", 0.0381},
      {"1.2 km", 1200.0},
      {"1.5 um", 1.5e-6},
      {"1.5 \u00b5m", 1.5e-6},
      {"2 yd", 1.8288},
      {"3 yards", 2.7432},
      {"1 mile", 1609.344},
      {"0.1 mi", 160.9344},
      {"1.5 in", 0.0381},
      {"1.5 inches", 0.0381},
      {"1.5 inch", 0.0381},
      {"1.5\"", 0.0381},
      {"0.0015 mm", 1.5e-6},
      {"4755.8 ft", 1449.56784},
      {"10 ft of head", 3.048},
      {"10 m of water", 10.0},
      {"10 mH2O", 10.0},
      {"10 ft H2O", 3.048},
      {"3 ft head", 0.9144},
      {"200\u00a0ft", 60.96},
      {"200\u202fft", 60.96},
      {"\u22125 m", -5.0},
  };
  check_all(table, Dimension::length);
}

TEST_CASE("fractions") {
  constexpr Accepted table[] = {
      {"1/2 in", 0.0127},     {"1-1/2 in", 0.0381},    {"1 1/2 in", 0.0381},      {"1 1/2\"", 0.0381},
      {"1-1/2\"", 0.0381},    {"1 - 1/2 in", 0.0381},  {"1\u20131/2 in", 0.0381}, {"3/2 in", 0.0381},
      {"-1-1/2 in", -0.0381}, {"-1 1/2 in", -0.0381},  {"-1/2 in", -0.0127},      {"2-3/4 in", 0.06985},
      {"\u00bd in", 0.0127},  {"1\u00bd in", 0.0381},  {"1 \u00bd in", 0.0381},   {"1-\u00bd in", 0.0381},
      {"1\u00bd\"", 0.0381},  {"-\u00bd in", -0.0127}, {"\u00bc in", 0.00635},    {"\u00be in", 0.01905},
      {"3\u2153 ft", 1.016},  {"1\u20442 in", 0.0127}, {"5/8 in", 0.015875},      {"0 1/2 in", 0.0127},
      {"1/3 ft", 0.1016},
  };
  check_all(table, Dimension::length);
}

TEST_CASE("feet and inches") {
  constexpr Accepted table[] = {
      {"12'-6\"", 3.81},
      {"12' 6\"", 3.81},
      {"12'6\"", 3.81},
      {"12 ft 6 in", 3.81},
      {"12' - 6\"", 3.81},
      {"12 ft-6 in", 3.81},
      {"12ft 6in", 3.81},
      {"12'-6 1/2\"", 3.8227},
      {"12'-6-1/2\"", 3.8227},
      {"12'-6\u00bd\"", 3.8227},
      {"-12'-6\"", -3.81},
      {"12'", 3.6576},
      {"6''", 0.1524},
      {"12'-6''", 3.81},
      {"12\u20326\u2033", 3.81},
      {"12\u2019 6\u201d", 3.81},
      {"12 feet 6 inches", 3.81},
      {"0'-6\"", 0.1524},
      {"5' .5\"", 1.5367},
  };
  check_all(table, Dimension::length);
}

TEST_CASE("flows") {
  // 1 gal/min = 3.785411784e-3 / 60 m3/s = 6.30901964e-5.
  constexpr Accepted table[] = {
      {"1 gal/min", 6.30901964e-5},
      {"1 gpm", 6.30901964e-5},
      {"1 GPM", 6.30901964e-5},
      {"1 gal per min", 6.30901964e-5},
      {"1 gallon per minute", 6.30901964e-5},
      {"2 gallons/minute", 1.261803928e-4},
      {"1 gal / min", 6.30901964e-5},
      {"1 US gal/min", 6.30901964e-5},
      {"86400 gal/day", 3.785411784e-3},
      {"86400 gpd", 3.785411784e-3},
      {"86400 gallons/d", 3.785411784e-3},
      {"3600 gph", 3.785411784e-3},
      {"3600 gal/hr", 3.785411784e-3},
      {"0.12 L/s", 0.00012},
      {"0.12 l/s", 0.00012},
      {"0.12 lps", 0.00012},
      {"6 L/min", 0.0001},
      {"6 litres per minute", 0.0001},
      {"6 litres a minute", 0.0001},
      {"8640 L a day", 0.0001},
      {"6 lpm", 0.0001},
      {"3.6 m3/h", 0.001},
      {"3.6 m\u00b3/h", 0.001},
      {"3.6 m^3/h", 0.001},
      {"0.01 m3/s", 0.01},
      {"86.4 m3/day", 0.001},
      {"1 ft3/s", 0.028316846592},
      {"1 cfs", 0.028316846592},
      {"1 cu ft/s", 0.028316846592},
      {"1 impgal/s", 0.00454609},
      {"60 imp gal/min", 0.00454609},
      {"1000 mL/s", 0.001},
      {"0.001 m3/sec", 0.001},
      {"-6 L/min", -0.0001},
      {"1/2 L/s", 0.0005},
  };
  check_all(table, Dimension::flow);
}

TEST_CASE("pressures") {
  // 1 psi = 6894.757293168362... Pa: 4.4482216152605 N over 6.4516e-4 m2.
  constexpr Accepted table[] = {
      {"1 psi", 6894.757293168362},    {"1 psig", 6894.757293168362},
      {"1 lb/in2", 6894.757293168362}, {"250 kPa", 250000.0},
      {"250 kpa", 250000.0},           {"2.5 bar", 250000.0},
      {"2.5 bars", 250000.0},          {"1 MPa", 1e6},
      {"85000 Pa", 85000.0},           {"850 hPa", 85000.0},
      {"850 mbar", 85000.0},           {"1 atm", 101325.0},
  };
  check_all(table, Dimension::pressure);
  for (const Accepted& row : table) CHECK_FALSE(parse(row.text, Dimension::pressure).head_of_water);
}

TEST_CASE("pressures written as a height of water stay heights") {
  constexpr Accepted table[] = {{"10 ft", 3.048},         {"10 ft of head", 3.048}, {"10 ft of water", 3.048},
                                {"10 m of water", 10},    {"10 mH2O", 10.0},        {"12'-6\"", 3.81},
                                {"100 in of water", 2.54}};
  check_all(table, Dimension::pressure);
  for (const Accepted& row : table) CHECK(parse(row.text, Dimension::pressure).head_of_water);
  CHECK_FALSE(parse("10 ft of head", Dimension::length).head_of_water);
}

TEST_CASE("durations") {
  constexpr Accepted table[] = {
      {"45 s", 45},
      {"45 sec", 45},
      {"1 second", 1},
      {"45 seconds", 45},
      {"2 min", 120},
      {"2 mins", 120},
      {"1 minute", 60},
      {"12 h", 43200},
      {"12 hr", 43200},
      {"12 hrs", 43200},
      {"1 hour", 3600},
      {"1.5 hours", 5400},
      {"3 days", 259200},
      {"1 day", 86400},
      {"0.5 d", 43200},
      {"2 weeks", 1209600},
      {"2 h 30 min", 9000},
      {"2h30min", 9000},
      {"1 day 2 h 3 min 4 s", 93784},
      {"1/2 h", 1800},
      {"5days", 432000},
  };
  check_all(table, Dimension::duration);
}

TEST_CASE("temperatures") {
  constexpr Accepted table[] = {
      {"32 degF", 0},   {"212 degF", 100}, {"50 F", 10},          {"50\u00b0F", 10}, {"50 \u00b0F", 10},
      {"50 deg F", 10}, {"-40 degF", -40}, {"50 fahrenheit", 10}, {"9 degC", 9},     {"9 \u00b0C", 9},
      {"9 C", 9},       {"9 celsius", 9},  {"-0.5 degC", -0.5},   {"14 degF", -10},  {"50 degrees F", 10},
  };
  check_all(table, Dimension::temperature);
}

TEST_CASE("slopes, shares and plain numbers") {
  constexpr Accepted slopes[] = {{"2 %", 0.02},           {"2%", 0.02},      {"2 percent", 0.02},
                                 {"1:50", 0.02},          {"1 : 50", 0.02},  {"1 in 50", 0.02},
                                 {"-1:50", -0.02},        {"0.02", 0.02},    {"1/50", 0.02},
                                 {"1/4 in/ft", 1.0 / 48}, {"20 mm/m", 0.02}, {"0.5 %", 0.005}};
  check_all(slopes, Dimension::slope);
  constexpr Accepted shares[] = {{"40 %", 0.4}, {"40%", 0.4}, {"0.4", 0.4},
                                 {"2/5", 0.4},  {"100 %", 1}, {"0", 0}};
  check_all(shares, Dimension::ratio);
  constexpr Accepted numbers[] = {{"3", 3},
                                  {"0.0015", 0.0015},
                                  {"-4755.8", -4755.8},
                                  {"1e-5", 1e-5},
                                  {"1/2", 0.5},
                                  {"1-1/2", 1.5},
                                  {"1852e-3", 1.852},
                                  {"0", 0},
                                  {"0.1", 0.1},
                                  {"9007199254740993", 9007199254740992.0}};
  check_all(numbers, Dimension::number);
}

TEST_CASE("velocities, volumes, densities and viscosities") {
  constexpr Accepted velocities[] = {{"3 ft/s", 0.9144}, {"3 fps", 0.9144}, {"3 ft/sec", 0.9144},
                                     {"0.9 m/s", 0.9},   {"3.6 km/h", 1.0}, {"1 foot per second", 0.3048}};
  check_all(velocities, Dimension::velocity);
  constexpr Accepted volumes[] = {{"1000 gal", 3.785411784},
                                  {"1 gallon", 0.003785411784},
                                  {"1000 gallons", 3.785411784},
                                  {"500 L", 0.5},
                                  {"500 litres", 0.5},
                                  {"500 liters", 0.5},
                                  {"3.8 m3", 3.8},
                                  {"1 ft3", 0.028316846592},
                                  {"1 cu. ft.", 0.028316846592},
                                  {"1 impgal", 0.00454609},
                                  {"1 imperial gallon", 0.00454609},
                                  {"250 ml", 0.00025},
                                  {"1 acre-ft", 1233.48183754752}};  // 43,560 ft3
  check_all(volumes, Dimension::volume);
  constexpr Accepted densities[] = {{"999.7 kg/m3", 999.7},
                                    {"1 kg/L", 1000},
                                    {"1 g/cm3", 1000},
                                    {"1 lb/ft3", 16.018463373960138}};  // 0.45359237 / 0.3048^3
  check_all(densities, Dimension::density);
  constexpr Accepted viscosities[] = {{"1.31e-6 m2/s", 1.31e-6},
                                      {"1.31 mm2/s", 1.31e-6},
                                      {"1.31 cSt", 1.31e-6},
                                      {"1.31 mm\u00b2/s", 1.31e-6},
                                      {"1 ft2/s", 0.09290304}};
  check_all(viscosities, Dimension::kinematic_viscosity);
}

TEST_CASE("the same size in two units is the same double") {
  for (const auto& [a, b] : {std::pair{"1-1/2 in", "38.1 mm"}, std::pair{"12'-6\"", "3.81 m"},
                             std::pair{"231 in3", "1 gal"}, std::pair{"1 gal/min", "1440 gal/day"}}) {
    CAPTURE(a, b);
    for (Dimension d : {Dimension::length, Dimension::volume, Dimension::flow})
      if (parse(a, d).ok()) CHECK(parse(a, d).si == parse(b, d).si);
  }
}

TEST_CASE("a comma locale changes nothing") {
  const std::string before = std::setlocale(LC_ALL, nullptr);
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8"})
    if (std::setlocale(LC_ALL, name)) break;
  CHECK(parse("1.5 m", Dimension::length).si == 1.5);
  CHECK_FALSE(parse("1,5 m", Dimension::length).ok());
  std::setlocale(LC_ALL, before.c_str());
}
