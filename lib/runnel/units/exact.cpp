// The shortest text that reads back to the same double, in any unit.
//
// A double represents an interval of half a unit in the last place to each side, at least 1.1e-16 of its
// size. Decimals of 17 digits are at most 1e-16 apart, so in any unit one of them falls inside, and since
// `parse` rounds correctly it reads back. Thermometers with an offset may need more: up to 19 are tried.
#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "runnel/units/display.h"
#include "runnel/units/number_text.h"
#include "runnel/units/parse.h"
#include "runnel/units/unit_names.h"

namespace runnel::units {

namespace {

constexpr int most_digits = 19;  // 10^19 still fits 64 bits

Dimension dimension_of(Kind kind) {
  switch (kind) {
    case Kind::number:
      return Dimension::number;
    case Kind::percent:
      return Dimension::ratio;
    case Kind::slope:
      return Dimension::slope;
    case Kind::pressure:
      return Dimension::pressure;
    case Kind::flow:
      return Dimension::flow;
    case Kind::velocity:
      return Dimension::velocity;
    case Kind::volume:
      return Dimension::volume;
    case Kind::duration:
      return Dimension::duration;
    case Kind::temperature:
      return Dimension::temperature;
    case Kind::length:
    case Kind::bore:
    case Kind::elevation:
    case Kind::head:
      break;
  }
  return Dimension::length;
}

/// The SI unit itself, in which every double can be written; empty where a bare number is read.
std::string_view si_unit(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
      return "m";
    case Dimension::flow:
      return "m3/s";
    case Dimension::pressure:
      return "Pa";
    case Dimension::velocity:
      return "m/s";
    case Dimension::volume:
      return "m3";
    case Dimension::duration:
      return "s";
    case Dimension::temperature:
      return "degC";
    default:
      return "";
  }
}

unsigned long long power_of_ten(int n) {
  unsigned long long p = 1;
  while (n-- > 0) p *= 10;
  return p;
}

/// digits * 10^power
struct Decimal {
  unsigned long long digits = 0;
  int power = 0;

  std::string text() const {
    std::string all = fmt::format("{}", digits);
    int p = power;
    while (all.size() > 1 && all.back() == '0') {
      all.pop_back();
      ++p;
    }
    const int point = static_cast<int>(all.size()) + p;  // digits before the decimal point
    if (point < -5 || point > 21)
      return fmt::format("{}{}{}e{}", all[0], all.size() > 1 ? "." : "", all.substr(1), point - 1);
    if (p >= 0) return all + std::string(static_cast<std::size_t>(p), '0');
    if (point <= 0) return "0." + std::string(static_cast<std::size_t>(-point), '0') + all;
    return all.substr(0, static_cast<std::size_t>(point)) + "." + all.substr(static_cast<std::size_t>(point));
  }
};

/// The first 19 digits of a value between 1e-20 and 1e20; none outside.
std::optional<Decimal> nineteen_digits(Wide value) {
  if (!(value.high > 1e-20 && value.high < 1e20)) return std::nullopt;
  int power = static_cast<int>(std::floor(std::log10(value.high))) - (most_digits - 1);
  Wide scaled = times_power_of_ten(value, -power);
  if (scaled.high >= 1e19) scaled = times_power_of_ten(value, -++power);
  // `high` is beyond 2^53, so it is whole; `low` brings the digits it cannot hold.
  const auto high = static_cast<unsigned long long>(scaled.high);
  return Decimal{high + static_cast<unsigned long long>(std::llround(scaled.low)), power};
}

Decimal shortened(const Decimal& all, int digits) {
  const unsigned long long step = power_of_ten(most_digits - digits);
  const unsigned long long kept =
      all.digits / step + (all.digits % step >= step - step / 2 && step > 1 ? 1 : 0);
  return {kept, all.power + (most_digits - digits)};
}

/// The shortest number in `unit` that reads back to `si` (positive), or none.
std::optional<std::string> shortest(double si, const Unit& unit) {
  const Wide value = unit.from_si(si);
  const bool negative = value.high < 0.0;  // only thermometers: below 0 degF
  const std::optional<Decimal> all = nineteen_digits(negative ? Wide{-value.high, -value.low} : value);
  if (!all) return std::nullopt;
  const auto reads_back = [&](int digits) {
    const Decimal d = shortened(*all, digits);
    const Wide w = decimal(d.digits, d.power);
    return unit.to_si(negative ? Wide{-w.high, -w.low} : w).high == si;
  };
  // Figures that people chose need few digits, computed ones 16 or 17: search above 15 step by step, below 15
  // by halving.
  int enough = 15;
  while (enough <= most_digits && !reads_back(enough)) ++enough;
  if (enough > most_digits) return std::nullopt;
  int too_few = enough == 15 ? 0 : enough - 1;
  while (enough - too_few > 1) {
    const int middle = (too_few + enough) / 2;
    (reads_back(middle) ? enough : too_few) = middle;
  }
  return fmt::format("{}{}", negative ? "-" : "", shortened(*all, enough).text());
}

/// Number and unit, if it reads back.
std::optional<std::string> written_in(double si, std::string_view name, Dimension dimension) {
  const std::optional<Unit> unit = find_unit(name);
  if (!unit) return std::nullopt;
  // Only thermometers depend on the sign; elsewhere the digits of the size serve both.
  const bool minus = si < 0.0 && unit->offset == 0.0;
  const bool nought = unit->to_si({0.0, 0.0}).high == si;  // 0 degF is not 0 degC
  const std::optional<std::string> number = nought ? "0" : shortest(minus ? -si : si, *unit);
  if (!number) return std::nullopt;
  std::string text = fmt::format("{}{} {}", minus ? "-" : "", *number, name);
  // This decides, and it guards the cases where the digits above ran out.
  if (parse(text, dimension).si != si) return std::nullopt;
  return text;
}

std::string in_si(double si, Dimension dimension) {
  const double value = si == 0.0 ? 0.0 : si;  // never "-0"
  const std::string_view unit = si_unit(dimension);
  std::string number = fmt::format("{}", value);
  if (number.size() > 2 && number.substr(number.size() - 2) == ".0") number.resize(number.size() - 2);
  return unit.empty() ? number : fmt::format("{} {}", number, unit);
}

}  // namespace

std::string exact(Figure figure, UnitSystem system) {
  const Dimension dimension = dimension_of(figure.kind);
  std::optional<std::string> best;
  if (figure.kind == Kind::duration) {
    for (std::string_view unit : {"s", "h"}) {
      std::optional<std::string> text = written_in(figure.si, unit, dimension);
      if (text && (!best || text->size() < best->size())) best = text;
    }
  } else if (figure.kind != Kind::number) {
    best = written_in(figure.si, display(figure.kind, system).unit, dimension);
  }
  return best ? *best : in_si(figure.si, dimension);
}

}  // namespace runnel::units
