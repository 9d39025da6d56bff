// Text for files: it must read back to the same double, whatever the unit.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <iomanip>
#include <limits>
#include <random>
#include <sstream>

#include "runnel/units/parse.h"
#include "runnel/units/print.h"

using namespace runnel;
using units::Dimension;
using units::UnitSystem;

namespace {

struct Case {
  Kind kind;
  Dimension dimension;
};

constexpr Case kinds[] = {
    {Kind::number, Dimension::number},     {Kind::percent, Dimension::ratio},
    {Kind::length, Dimension::length},     {Kind::bore, Dimension::length},
    {Kind::elevation, Dimension::length},  {Kind::head, Dimension::length},
    {Kind::pressure, Dimension::pressure}, {Kind::flow, Dimension::flow},
    {Kind::velocity, Dimension::velocity}, {Kind::volume, Dimension::volume},
    {Kind::duration, Dimension::duration}, {Kind::temperature, Dimension::temperature},
    {Kind::slope, Dimension::slope},
};

void check_round_trip(const Case& c, double si) {
  for (UnitSystem system : {UnitSystem::si, UnitSystem::us}) {
    const std::string text = units::exact({c.kind, si}, system);
    const units::Parsed back = units::parse(text, c.dimension);
    // Not CHECK: it would cost more than what it checks.
    if (!back.ok() || back.si != si)
      FAIL(text << " reads back as " << back.si << ", not " << si << back.error);
  }
}

}  // namespace

TEST_CASE("a million random figures of every kind read back in both systems") {
  std::mt19937_64 random(1609344);
  std::uniform_real_distribution<double> exponent(-9.0, 7.0), sign(-1.0, 1.0);
  for (int i = 0; i < 1000000; ++i) {
    const double size = std::pow(10.0, exponent(random));
    check_round_trip(kinds[static_cast<std::size_t>(i) % std::size(kinds)],
                     sign(random) < 0.0 ? -size : size);
  }
}

TEST_CASE("any double at all reads back") {
  std::mt19937_64 random(254);
  for (int i = 0; i < 100000; ++i) {
    const std::uint64_t bits = random();
    double any = 0.0;
    std::memcpy(&any, &bits, sizeof any);
    if (std::isfinite(any)) check_round_trip(kinds[static_cast<std::size_t>(i) % std::size(kinds)], any);
  }
  for (const Case& c : kinds)
    for (double edge :
         {0.0, -0.0, std::numeric_limits<double>::min(), std::numeric_limits<double>::denorm_min(),
          std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest(), 1.0,
          std::nextafter(1.0, 2.0), std::nextafter(1.0, 0.0), 1e22, 1e23, 9007199254740993.0})
      check_round_trip(c, edge);
}

TEST_CASE("temperatures near the zero of both scales read back") {
  // degF needs the most digits near 0 degC, and changes sign near -17.8 degC.
  std::mt19937_64 random(459);
  std::uniform_real_distribution<double> near(-1.0, 1.0);
  for (int i = 0; i < 20000; ++i) {
    check_round_trip({Kind::temperature, Dimension::temperature}, near(random));
    check_round_trip({Kind::temperature, Dimension::temperature}, -160.0 / 9.0 + 0.01 * near(random));
  }
}

TEST_CASE("what a person wrote comes back as written") {
  struct Row {
    Kind kind;
    Dimension dimension;
    const char* text;
    UnitSystem system;
  };
  constexpr Row rows[] = {
      {Kind::length, Dimension::length, "200 ft", UnitSystem::us},
      {Kind::elevation, Dimension::length, "4755.8 ft", UnitSystem::us},
      {Kind::elevation, Dimension::length, "1450.05 m", UnitSystem::si},
      {Kind::bore, Dimension::length, "1.049 in", UnitSystem::us},
      {Kind::bore, Dimension::length, "0.0015 mm", UnitSystem::si},
      {Kind::flow, Dimension::flow, "1.9 gal/min", UnitSystem::us},
      {Kind::flow, Dimension::flow, "0.12 L/s", UnitSystem::si},
      {Kind::pressure, Dimension::pressure, "40 psi", UnitSystem::us},
      {Kind::pressure, Dimension::pressure, "-2.5 kPa", UnitSystem::si},
      {Kind::velocity, Dimension::velocity, "0.1 ft/s", UnitSystem::us},
      {Kind::volume, Dimension::volume, "1000 gal", UnitSystem::us},
      {Kind::volume, Dimension::volume, "0.3 m3", UnitSystem::si},
      {Kind::temperature, Dimension::temperature, "48 degF", UnitSystem::us},
      {Kind::temperature, Dimension::temperature, "-10 degF", UnitSystem::us},
      {Kind::temperature, Dimension::temperature, "0 degF", UnitSystem::us},
      {Kind::temperature, Dimension::temperature, "32 degF", UnitSystem::us},
      {Kind::temperature, Dimension::temperature, "9 degC", UnitSystem::si},
      {Kind::duration, Dimension::duration, "45 s", UnitSystem::us},
      {Kind::duration, Dimension::duration, "12.5 h", UnitSystem::si},
      {Kind::duration, Dimension::duration, "72 h", UnitSystem::us},
      {Kind::duration, Dimension::duration, "24 h", UnitSystem::us},
      {Kind::percent, Dimension::ratio, "40 %", UnitSystem::us},
      {Kind::slope, Dimension::slope, "0.5 %", UnitSystem::si},
      {Kind::number, Dimension::number, "1.852", UnitSystem::si},
      {Kind::length, Dimension::length, "0 ft", UnitSystem::us},
      {Kind::length, Dimension::length, "1.5e-9 ft", UnitSystem::us},
      {Kind::length, Dimension::length, "300000 m", UnitSystem::si},
  };
  for (const Row& row : rows)
    CHECK(units::exact({row.kind, units::parse(row.text, row.dimension).si}, row.system) == row.text);
}

TEST_CASE("the text is the shortest") {
  // One digit less must no longer read back: tried on figures that need many digits.
  std::mt19937_64 random(31);
  std::uniform_real_distribution<double> metres(0.001, 5000.0);
  for (int i = 0; i < 20000; ++i) {
    const double si = metres(random);
    const std::string text = units::exact({Kind::length, si}, UnitSystem::us);
    const double feet = std::stod(text);  // within an ulp; only its digits before the last count here
    const int digits = static_cast<int>(text.find(' ')) - 1;
    std::ostringstream one_less;
    one_less << std::setprecision(digits - 1) << feet << " ft";
    const std::string shorter = one_less.str();
    if (feet >= 1.0 && units::parse(shorter, Dimension::length).si == si)
      FAIL(shorter << " would do for " << text);
  }
}
