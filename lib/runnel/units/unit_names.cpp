#include "runnel/units/unit_names.h"

#include <algorithm>
#include <array>

namespace runnel::units {

namespace {

struct UnitName {
  std::string_view spelling;
  Measure measure;
  double over, under;
  bool capitals_matter = false;
  double offset = 0.0;
};

using enum Measure;

// Exact by definition: foot, inch, yard, mile, pound, US gallon (231 in3) and the litre, bar and atmosphere
// [nist-sp811 appendix B.8]; imperial gallon 4.54609 L [uk-units-1995]; [from
// memory]; acre-foot 43,560 ft3 of the international foot, 6e-6 less than of the former survey foot.
constexpr UnitName unit_table[] = {
    {"m", length, 1, 1},
    {"ft", length, 3048, 10000},
    {"in", length, 254, 10000},
    {"mm", length, 1, 1000},
    {"'", length, 3048, 10000},
    {"\"", length, 254, 10000},
    {"cm", length, 1, 100},
    {"km", length, 1000, 1},
    {"um", length, 1, 1000000},
    {"yd", length, 9144, 10000},
    {"mi", length, 1609344, 1000},
    {"foot", length, 3048, 10000},
    {"feet", length, 3048, 10000},
    {"inch", length, 254, 10000},
    {"inches", length, 254, 10000},
    {"yard", length, 9144, 10000},
    {"mile", length, 1609344, 1000},
    {"metre", length, 1, 1},
    {"meter", length, 1, 1},
    {"millimetre", length, 1, 1000},
    {"millimeter", length, 1, 1000},
    {"centimetre", length, 1, 100},
    {"centimeter", length, 1, 100},
    {"kilometre", length, 1000, 1},
    {"kilometer", length, 1000, 1},
    {"micron", length, 1, 1000000},

    {"gpm", flow, 3785411784, 60e12},
    {"gph", flow, 3785411784, 3600e12},
    {"gpd", flow, 3785411784, 86400e12},
    {"cfs", flow, 28316846592, 1e12},
    {"cfm", flow, 28316846592, 60e12},
    {"lps", flow, 1, 1000},
    {"lpm", flow, 1, 60000},
    {"lph", flow, 1, 3600000},
    {"fps", velocity, 3048, 10000},
    {"mps", velocity, 1, 1},

    // 1 psi = 4.4482216152605 N / (0.0254 m)^2.
    {"psi", pressure, 44482216152605, 6451600000},
    {"psig", pressure, 44482216152605, 6451600000},
    {"lb/in2", pressure, 44482216152605, 6451600000},
    {"lbf/in2", pressure, 44482216152605, 6451600000},
    {"kPa", pressure, 1000, 1},
    {"bar", pressure, 100000, 1},
    {"Pa", pressure, 1, 1},
    {"hPa", pressure, 100, 1},
    {"mbar", pressure, 100, 1, true},
    {"millibar", pressure, 100, 1},
    {"MPa", pressure, 1000000, 1, true},
    {"atm", pressure, 101325, 1},

    {"L", volume, 1, 1000},
    {"gal", volume, 3785411784, 1e12},
    {"m3", volume, 1, 1},
    {"litre", volume, 1, 1000},
    {"liter", volume, 1, 1000},
    {"gallon", volume, 3785411784, 1e12},
    {"usgal", volume, 3785411784, 1e12},
    {"us gal", volume, 3785411784, 1e12},
    {"us gallon", volume, 3785411784, 1e12},
    {"impgal", volume, 454609, 1e8},
    {"imp gal", volume, 454609, 1e8},
    {"imperial gal", volume, 454609, 1e8},
    {"imperial gallon", volume, 454609, 1e8},
    {"ft3", volume, 28316846592, 1e12},
    {"in3", volume, 16387064, 1e12},
    {"cm3", volume, 1, 1000000},
    {"mL", volume, 1, 1000000, true},  // ML would be a million litres
    {"ml", volume, 1, 1000000, true},
    {"cu ft", volume, 28316846592, 1e12},
    {"cubic foot", volume, 28316846592, 1e12},
    {"cubic feet", volume, 28316846592, 1e12},
    {"cubic metre", volume, 1, 1},
    {"cubic meter", volume, 1, 1},
    {"acre-ft", volume, 43560.0 * 28316846592, 1e12},
    {"acre-foot", volume, 43560.0 * 28316846592, 1e12},
    {"acre-feet", volume, 43560.0 * 28316846592, 1e12},

    {"s", duration, 1, 1},
    {"min", duration, 60, 1},
    {"h", duration, 3600, 1},
    {"day", duration, 86400, 1},
    {"d", duration, 86400, 1},
    {"sec", duration, 1, 1},
    {"hr", duration, 3600, 1},
    {"second", duration, 1, 1},
    {"minute", duration, 60, 1},
    {"hour", duration, 3600, 1},
    {"week", duration, 604800, 1},

    {"%", ratio, 1, 100},
    {"percent", ratio, 1, 100},
    {"pct", ratio, 1, 100},

    {"degC", temperature, 1, 1},
    {"degF", temperature, 5, 9, false, 32},
    {"deg C", temperature, 1, 1},
    {"deg F", temperature, 5, 9, false, 32},
    {"C", temperature, 1, 1},
    {"F", temperature, 5, 9, false, 32},
    {"celsius", temperature, 1, 1},
    {"fahrenheit", temperature, 5, 9, false, 32},
    {"degrees C", temperature, 1, 1},
    {"degrees F", temperature, 5, 9, false, 32},

    {"m2", area, 1, 1},
    {"mm2", area, 1, 1000000},
    {"ft2", area, 9290304, 1e8},
    {"cSt", kinematic_viscosity, 1, 1000000},
    {"kg", mass, 1, 1},
    {"g", mass, 1, 1000},
    {"lb", mass, 45359237, 1e8},
};

/// The text of a unit without what does not matter: single spaces, none around `/`, `per` and `a` as `/`, no
/// full stops and no `^`.
class Word {
 public:
  explicit Word(std::string_view text) {
    for (char c : text) add(c);
    if (size_ > 0 && letters_[size_ - 1] == ' ') --size_;
  }
  std::string_view text() const { return {letters_.data(), size_}; }

 private:
  void add(char c) {
    if (c == '.' || c == '^') return;
    const char last = size_ > 0 ? letters_[size_ - 1] : '/';
    if (c == ' ' && (last == ' ' || last == '/')) return;
    if (c == '/' && last == ' ') --size_;
    if (size_ < letters_.size()) letters_[size_++] = c;
    for (const std::string_view word : {" per ", " a "})
      if (text().size() > word.size() && text().substr(size_ - word.size()) == word) {
        size_ -= word.size();
        letters_[size_++] = '/';
      }
  }

  std::array<char, 96> letters_{};
  std::size_t size_ = 0;
};

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_but_capitals(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char x, char y) { return lower(x) == lower(y); });
}

bool ends_with(std::string_view text, std::string_view tail) {
  return text.size() > tail.size() && same_but_capitals(text.substr(text.size() - tail.size()), tail);
}

std::optional<Unit> in_table(std::string_view word) {
  const UnitName* found = nullptr;
  for (const UnitName& row : unit_table) {
    if (row.spelling.size() != word.size() || lower(row.spelling[0]) != lower(word[0])) continue;
    if (row.spelling == word) {
      found = &row;
      break;
    }
    if (!found && !row.capitals_matter && same_but_capitals(row.spelling, word)) found = &row;
  }
  if (!found) return std::nullopt;
  return Unit{found->measure, {found->over, 0.0}, {found->under, 0.0}, found->offset, false};
}

/// Plurals count too: `gallons`, `mins`. Those of a single letter do not, or `ms` would be metres.
std::optional<Unit> one_unit(std::string_view word) {
  std::optional<Unit> unit = in_table(word);
  if (!unit && word.size() > 3 && ends_with(word, "s")) unit = in_table(word.substr(0, word.size() - 1));
  if (!unit && (same_but_capitals(word, "hrs") || same_but_capitals(word, "lbs")))
    unit = in_table(word.substr(0, word.size() - 1));
  return unit;
}

std::optional<Measure> measure_per(Measure over, Measure under) {
  if (over == volume && under == duration) return flow;
  if (over == length && under == duration) return velocity;
  if (over == area && under == duration) return kinematic_viscosity;
  if (over == mass && under == volume) return density;
  if (over == length && under == length) return slope;
  return std::nullopt;
}

/// `gal/min`, by its parts.
std::optional<Unit> per(std::string_view over_text, std::string_view under_text) {
  if (over_text.empty() || under_text.empty()) return std::nullopt;
  const std::optional<Unit> over = one_unit(over_text), under = one_unit(under_text);
  if (!over || !under) return std::nullopt;
  const std::optional<Measure> measure = measure_per(over->measure, under->measure);
  if (!measure) return std::nullopt;
  return Unit{*measure, product(over->over, under->under), product(over->under, under->over)};
}

/// `ft of head`, `m of water`, `ftH2O`: the length before it, or none.
std::optional<Unit> height_of_water(std::string_view word) {
  for (std::string_view tail : {" of head", " of water", " head", " water", " H2O", "H2O"}) {
    if (!ends_with(word, tail)) continue;
    std::optional<Unit> unit = one_unit(word.substr(0, word.size() - tail.size()));
    if (!unit || unit->measure != length) return std::nullopt;
    unit->head_of_water = true;
    return unit;
  }
  return std::nullopt;
}

}  // namespace

Wide Unit::to_si(Wide number) const { return quotient(product(sum(number, {-offset, 0.0}), over), under); }

Wide Unit::from_si(double si) const { return sum(quotient(product({si, 0.0}, under), over), {offset, 0.0}); }

std::optional<Unit> find_unit(std::string_view text) {
  const Word cleaned(text);
  const std::string_view word = cleaned.text();
  if (word.empty()) return std::nullopt;
  const std::size_t slash = word.find('/');
  if (slash != std::string_view::npos)
    if (std::optional<Unit> unit = per(word.substr(0, slash), word.substr(slash + 1))) return unit;
  if (std::optional<Unit> unit = one_unit(word)) return unit;
  return height_of_water(word);
}

std::string_view name_of(Measure measure) {
  constexpr std::string_view names[] = {"a length",   "an area",       "a volume",
                                        "a mass",     "a duration",    "a flow",
                                        "a velocity", "a density",     "a kinematic viscosity",
                                        "a pressure", "a temperature", "a percentage",
                                        "a slope"};
  return names[static_cast<std::size_t>(measure)];
}

}  // namespace runnel::units
