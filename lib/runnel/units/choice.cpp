#include "runnel/units/choice.h"

#include <cctype>
#include <iterator>
#include <string>

namespace runnel::units {

namespace {

// A choice is kept in the bits of a UnitSystem above the first, three for pressure and three for flow, each
// counting from one; nought is no choice.
constexpr int pressure_shift = 1, flow_shift = 4, mask = 7;

struct ChosenUnit {
  std::string_view word;
  Kind kind;
  int number;
  Display display;
};

// How finely a reader can use each figure: common practice, no source.
constexpr ChosenUnit chosen_units[] = {
    {"kpa", Kind::pressure, 1, {"kPa", 1, 0, 1, false}},
    {"bar", Kind::pressure, 2, {"bar", 2, 0, 2, false}},
    {"m", Kind::pressure, 3, {"m of water", 1, 0, 1, false}},
    {"psi", Kind::pressure, 4, {"psi", 1, 0, 1, false}},
    {"l/s", Kind::flow, 1, {"L/s", 0, 3, 5, false}},
    {"l/min", Kind::flow, 2, {"L/min", 0, 3, 4, false}},
    {"gal/min", Kind::flow, 3, {"gal/min", 0, 3, 4, false}},
    {"gpm", Kind::flow, 3, {"gal/min", 0, 3, 4, false}},
};

int shift_of(Kind kind) { return kind == Kind::pressure ? pressure_shift : flow_shift; }

int with(int value, int number, int shift) { return (value & ~(mask << shift)) | (number << shift); }

/// Lower case, without blanks.
std::string plain(std::string_view word) {
  std::string out;
  for (const char c : word)
    if (c != ' ') out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

const ChosenUnit* unit_of(std::string_view word) {
  for (const ChosenUnit& unit : chosen_units)
    if (unit.word == word) return &unit;
  return nullptr;
}

}  // namespace

UnitSystem base_of(UnitSystem system) { return static_cast<UnitSystem>(static_cast<int>(system) & 1); }

std::optional<UnitSystem> read_choice(std::string_view words, UnitSystem otherwise) {
  int value = static_cast<int>(otherwise);
  while (true) {
    const std::size_t comma = words.find(',');
    const std::string word = plain(words.substr(0, comma));
    if (word == "si" || word == "us") {
      value =
          (value & ~1) | (word == "us" ? static_cast<int>(UnitSystem::us) : static_cast<int>(UnitSystem::si));
    } else if (const ChosenUnit* unit = unit_of(word)) {
      value = with(value, unit->number, shift_of(unit->kind));
    } else {
      return std::nullopt;
    }
    if (comma == std::string_view::npos) return static_cast<UnitSystem>(value);
    words.remove_prefix(comma + 1);
  }
}

const Display* chosen(Kind kind, UnitSystem system) {
  if (kind != Kind::pressure && kind != Kind::flow) return nullptr;
  const int number = (static_cast<int>(system) >> shift_of(kind)) & mask;
  for (const ChosenUnit& unit : chosen_units)
    if (unit.kind == kind && unit.number == number) return &unit.display;
  return nullptr;
}

}  // namespace runnel::units
