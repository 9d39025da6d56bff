// Several units at once, as a reader names them.
#include "runnel/units/choice.h"

#include <catch2/catch.hpp>

#include "runnel/units/print.h"

using runnel::Figure;
using runnel::Kind;
using runnel::units::read_choice;
using runnel::units::show;
using runnel::units::UnitSystem;
using runnel::units::wrong_choice;

TEST_CASE("a system by itself is that system") {
  CHECK(read_choice("si", UnitSystem::us) == UnitSystem::si);
  CHECK(read_choice("us", UnitSystem::si) == UnitSystem::us);
}

TEST_CASE("pressure and flow may have units of their own") {
  const Figure pressure{Kind::pressure, 250e3}, flow{Kind::flow, 0.5e-3}, bore{Kind::bore, 0.0254};
  const UnitSystem bar = *read_choice("si,bar", UnitSystem::us);
  CHECK(show(pressure, bar) == "2.50 bar");
  CHECK(show(flow, bar) == "0.500 L/s");
  CHECK(show(bore, bar) == "25.4 mm");
  const UnitSystem us_bar = *read_choice("bar", UnitSystem::us);
  CHECK(show(pressure, us_bar) == "2.50 bar");
  CHECK(show(bore, us_bar) == "1 in");
  CHECK(show(flow, *read_choice("si, L/min", UnitSystem::si)) == "30.0 L/min");
  CHECK(show(flow, *read_choice("si,gpm", UnitSystem::si)) ==
        "7.93 gal/min");  // 0.5e-3 * 60 / 3.785411784e-3
  // 250 kPa over 9806.65 N/m3 is 25.49 m.
  CHECK(show(pressure, *read_choice("si,m", UnitSystem::si)) == "25.5 m of water");
  CHECK(show(pressure, *read_choice("us,kPa,L/min", UnitSystem::si)) == "250.0 kPa");
}

TEST_CASE("metres of water are named as answers name them, or shortly") {
  for (const char* words : {"si,m", "si,m of water", "m of water , si"})
    CHECK(show({Kind::pressure, 9806.65}, *read_choice(words, UnitSystem::us)) == "1.0 m of water");
}

TEST_CASE("words that contradict each other are refused and both named") {
  CHECK(wrong_choice("bar,kPa") == "bar and kPa are both units of pressure");
  CHECK(wrong_choice("si, us") == "si and us are two systems of units");
  CHECK(wrong_choice("L/min,si,gal/min") == "L/min and gal/min are both units of flow");
  for (const char* words : {"bar,kPa", "si,us", "L/min,gal/min"})
    CHECK_FALSE(read_choice(words, UnitSystem::si).has_value());
  // The same said twice contradicts nothing.
  for (const char* words : {"si,si", "gpm,gal/min", "m,m of water", "bar,BAR"})
    CHECK(read_choice(words, UnitSystem::si).has_value());
}

TEST_CASE("words that are no unit are refused") {
  CHECK(wrong_choice("si,barr") ==
        "barr is none of us, si, kPa, bar, m of water, psi, L/s, L/min and gal/min");
  CHECK(wrong_choice("") == "nothing is none of us, si, kPa, bar, m of water, psi, L/s, L/min and gal/min");
  for (const char* words : {"", "uk", "si,", ",si", "si,barr", "si;bar", "ft"})
    CHECK_FALSE(read_choice(words, UnitSystem::si).has_value());
}
