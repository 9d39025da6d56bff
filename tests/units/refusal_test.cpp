// What is refused, where the caret stands, and that the sentence helps.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <string>

#include "runnel/units/parse.h"

using Catch::Matchers::Contains;
using runnel::units::Dimension;
using runnel::units::parse;
using runnel::units::Parsed;

namespace {

struct Refused {
  Dimension wanted;
  const char* text;
  int at, length;     // where the caret line stands, by hand
  const char* error;  // a part of the sentence
  const char* hint;   // a part of the hint
};

constexpr auto number = Dimension::number;
constexpr auto length = Dimension::length;
constexpr auto flow = Dimension::flow;
constexpr auto pressure = Dimension::pressure;
constexpr auto duration = Dimension::duration;
constexpr auto slope = Dimension::slope;

constexpr Refused refusals[] = {
    // no unit
    {length, "200", 0, 3, "`200` has no unit, and a length is wanted", "`200 ft` or `200 m`"},
    {length, " 1-1/2 ", 1, 5, "`1-1/2` has no unit", "`1-1/2 in`, if inches are meant"},
    {length, "0", 0, 1, "`0` has no unit", "`0 ft`"},
    {duration, "150", 0, 3, "`150` has no unit", "`150 s`, `150 min`, `150 h` or `150 days`"},
    {flow, "1.9", 0, 3, "`1.9` has no unit, and a flow is wanted", "`1.9 gal/min` or `1.9 L/s`"},
    {Dimension::temperature, "48", 0, 2, "has no unit", "`48 degF` or `48 degC`"},
    // wrong dimension: both are named
    {length, "5 gal/min", 2, 7, "`gal/min` is a flow, and a length is wanted", "`200 ft`"},
    {length, "5 psi", 2, 3, "`psi` is a pressure, and a length is wanted", "`60 m`"},
    {flow, "5 ft", 2, 2, "`ft` is a length, and a flow is wanted", "`1.9 gal/min`"},
    {flow, "600 gal", 4, 3, "`gal` is a volume, and a flow is wanted", "`600 gal/day`"},
    {flow, "12'-6\"", 2, 4, "is a length, and a flow is wanted", "`0.12 L/s`"},
    {pressure, "5 ft/s", 2, 4, "`ft/s` is a velocity, and a pressure is wanted", "`40 psi`"},
    {duration, "12 m", 3, 1, "`m` is metres, and a duration is wanted", "`12 min`"},
    {Dimension::ratio, "40 ft", 3, 2, "`ft` is a length, and a share is wanted", "`40 %`"},
    {number, "3 ft", 2, 2, "`ft` is a unit, and none belongs here", "`3`"},
    {number, "3 %", 2, 1, "`%` is a unit", "`0.5`"},
    {Dimension::volume, "5 ft", 2, 2, "is a length, and a volume is wanted", "`1000 gal`"},
    {Dimension::density, "5 kg", 2, 2, "`kg` is a mass, and a density is wanted", "`999.7 kg/m3`"},
    // two numbers, two units
    {length, "1 500 ft", 0, 5, "`1 500` is two numbers", "thousands run on"},
    {length, "5 ft m", 2, 4, "`ft m` is two units", "one unit"},
    {length, "5 ft 3 m", 5, 3, "mixes two units", "one unit"},
    {length, "5 m 20 cm", 4, 5, "mixes two units", "one unit"},
    {length, "6 in 1 ft", 5, 4, "mixes two units", "one unit"},
    {duration, "5 min 3 ft", 6, 4, "mixes two units", "one unit"},
    {flow, "1 gal/min 2 L/s", 10, 5, "is two values", "one value"},
    {length, "12'6", 3, 1, "`6` at the end has no unit", "`12'-6\"`"},
    {length, "12 ft 6", 6, 1, "`6` at the end has no unit", "`12'-6\"`"},
    {length, "5 ft 13 in", 5, 5, "`13 in` is a whole unit of the one before it", "carry it over"},
    {duration, "1 h 60 min", 4, 6, "is a whole unit", "carry it over"},
    {length, "12.5' 6\"", 0, 4, "`12.5` is not a whole number", "`12.5 ft`"},
    {duration, "2 h 30 min -5 s", 11, 4, "`-5 s` is not a unit", "`12 h`"},
    {length, "12'--6\"", 2, 5, "not a unit", "a length"},
    {length, "12'-+6\"", 2, 5, "not a unit", "a length"},
    {length, "12'-x\"", 2, 4, "`'-x\"` is not a unit", "a length"},
    // numbers that are none
    {length, "1/2/3 in", 3, 2, "`1/2/3` is not a fraction", "`3/4`"},
    {length, "1-1/2-1 in", 5, 2, "`1-1/2-1` is not one number", "one value"},
    {length, "1-2 ft", 1, 2, "`1-2` is not one number", "one value"},
    {length, "1.5-1/2 in", 3, 2, "is not one number", "one value"},
    {length, "1-3/2 in", 2, 3, "must be less than one", "`1-1/2`"},
    {length, "1/0 in", 0, 3, "divides by zero", "a length"},
    {length, "1234567890/2 in", 0, 12, "too many digits", "decimal"},
    {length, "1.5/2 in", 3, 2, "is not a fraction", "`3/4`"},
    {length, "1,5 m", 1, 1, "without commas", "`1.5`"},
    {length, "1,500 ft", 1, 1, "without commas", "`1500`"},
    {length, "1_000 ft", 1, 7, "not a unit", "`200 ft`"},
    {length, "007 ft", 0, 3, "`007` begins with a zero", "leave the leading zeros out"},
    {length, "-00.5 m", 1, 4, "begins with a zero", "leave the leading zeros out"},
    {length, "12'-06\"", 4, 2, "`06` begins with a zero", "leave the leading zeros out"},
    {number, "010", 0, 3, "begins with a zero", "leave the leading zeros out"},
    {length, "1e400 ft", 0, 5, "`1e400` is too large", "a length"},
    {length, "1e-400 ft", 0, 6, "`1e-400` is too small", "a length"},
    {length, "1e307 km", 0, 8, "`1e307 km` is too large", "a length"},
    {length, "4e-324 mm", 0, 9, "`4e-324 mm` is too small", "a length"},
    {number, "1e99999999999", 0, 13, "is too large", "a number"},
    {length, "nan ft", 0, 6, "`nan ft` does not begin with a number", "`200 ft`"},
    {length, "inf m", 0, 5, "does not begin with a number", "`200 ft`"},
    {number, ".inf", 0, 4, "does not begin with a number", "`3`"},
    {number, ".nan", 0, 4, "does not begin with a number", "`3`"},
    {number, "-inf", 0, 4, "does not begin with a number", "`3`"},
    {number, "0x1F", 1, 3, "`x1F` is not a unit", "`3`"},
    {number, "1.2.3", 3, 2, "not a unit", "`3`"},
    {number, "1e", 1, 1, "`e` is not a unit", "`3`"},
    {length, "--5 ft", 0, 6, "does not begin with a number", "`200 ft`"},
    {length, "- 5 ft", 0, 6, "does not begin with a number", "`200 ft`"},
    {length, "~5 ft", 0, 5, "does not begin with a number", "`200 ft`"},
    {length, "about 5 ft", 0, 10, "does not begin with a number", "`200 ft`"},
    {flow, "gpm", 0, 3, "`gpm` does not begin with a number", "`1.9 gal/min`"},
    {length, "", 0, 1, "nothing is written here", "`200 ft`"},
    {length, "   ", 0, 1, "nothing is written here", "`200 ft`"},
    {length, ".", 0, 1, "does not begin with a number", "`200 ft`"},
    {length, "\u00bd2 in", 0, 2, "is two numbers", "one value"},
    // units that are none
    {length, "5 fet", 2, 3, "`fet` is not a unit", "`200 ft`"},
    {length, "5 ft deep", 5, 4, "`deep` behind the unit is not understood", "`200 ft`"},
    {pressure, "5 mPa", 2, 3, "`mPa` is not a unit", "`2.5 bar`"},
    {Dimension::volume, "5 ML", 2, 2, "`ML` is not a unit", "`500 L`"},
    {length, "5 \u00e4", 2, 1, "not a unit", "`200 ft`"},
    {length, "5 ft\u00e4", 2, 3, "not a unit", "`200 ft`"},
    {length, "5 \x01", 2, 1, "not a unit", "`200 ft`"},
    {length, "5 \xff\xfe", 2, 2, "not a unit", "`200 ft`"},
    {length, "5- in", 1, 4, "not a unit", "`200 ft`"},
    {flow, "5 L/m", 2, 3, "`L/m` is not a unit", "`0.12 L/s`"},
    {flow, "5 gal/", 2, 4, "not a unit", "`0.12 L/s`"},
    {slope, "1:0", 2, 1, "run greater than zero", "`1:50`"},
    {slope, "1:-50", 2, 3, "run greater than zero", "`1:50`"},
    {slope, "1:", 2, 1, "a number is expected", "`1:50`"},
    {slope, "1:50 m", 4, 2, "not understood", "`1:50`"},
    {slope, "2 ft", 2, 2, "is a length, and a slope is wanted", "`2 %`"},
};

constexpr Dimension every_dimension[] = {
    Dimension::number,   Dimension::ratio,       Dimension::slope,    Dimension::length,
    Dimension::flow,     Dimension::pressure,    Dimension::velocity, Dimension::volume,
    Dimension::duration, Dimension::temperature, Dimension::density,  Dimension::kinematic_viscosity};

/// What must hold of any answer to any text.
void check_sound(const std::string& text, const Parsed& parsed) {
  const int size = static_cast<int>(text.size());
  const bool sound = parsed.ok() ? std::isfinite(parsed.si) && parsed.hint.empty()
                                 : !parsed.hint.empty() && parsed.at >= 0 && parsed.at <= size &&
                                       parsed.length >= 1 && parsed.length <= size + 1;
  if (!sound) FAIL("unsound answer to `" << text << "`: " << parsed.error << " / " << parsed.hint);
}

}  // namespace

TEST_CASE("a text that cannot be meant is refused with its place and a hint") {
  for (const Refused& r : refusals) {
    CAPTURE(r.text);
    const Parsed parsed = parse(r.text, r.wanted);
    CHECK_THAT(parsed.error, Contains(r.error));
    CHECK_THAT(parsed.hint, Contains(r.hint));
    CHECK(parsed.at == r.at);
    CHECK(parsed.length == r.length);
  }
}

TEST_CASE("the examples that hints offer are themselves read") {
  for (Dimension wanted : every_dimension) {
    const std::string hint = parse("", wanted).hint;
    int examples = 0;
    for (std::size_t from = hint.find('`'); from != std::string::npos; from = hint.find('`', from)) {
      const std::size_t to = hint.find('`', from + 1);
      const std::string example = hint.substr(from + 1, to - from - 1);
      CAPTURE(example);
      CHECK(parse(example, wanted).ok());
      ++examples;
      from = to + 1;
    }
    CHECK(examples >= 2);
  }
}

TEST_CASE("a text too long for a quantity is refused") {
  const Parsed parsed = parse(std::string(81, '9') + " ft", length);
  CHECK_THAT(parsed.error, Contains("too long"));
  CHECK(parse(std::string(70, '9') + " ft", length).ok());
  CHECK_FALSE(parse(std::string(1 << 20, '\''), length).ok());
}

TEST_CASE("texts made at random from the parts of real ones get a sound answer") {
  constexpr const char* parts[] = {"1",       "12",  "0",    ".5",     "1.5", "-",  "+",      "/",      "'",
                                   "\"",      " ",   "ft",   "in",     "m",   "h",  "min",    "s",      "gal",
                                   "L",       "per", "%",    ":",      ",",   "e9", "\u00bd", "\u00b0", "F",
                                   "of head", "H2O", "\xc2", "\u2033", "m3",  "1/2"};
  std::mt19937 random(20240611);
  std::uniform_int_distribution<std::size_t> pick(0, std::size(parts) - 1);
  std::uniform_int_distribution<int> count(0, 9);
  int read = 0;
  for (int i = 0; i < 200000; ++i) {
    std::string text;
    for (int n = count(random); n > 0; --n) text += parts[pick(random)];
    const Parsed parsed =
        parse(text, every_dimension[static_cast<std::size_t>(i) % std::size(every_dimension)]);
    check_sound(text, parsed);
    read += parsed.ok() ? 1 : 0;
  }
  CHECK(read > 1000);  // or the parts no longer make anything that is read
}
