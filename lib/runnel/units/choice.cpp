#include "runnel/units/choice.h"

#include <cctype>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

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
    {"mofwater", Kind::pressure, 3, {"m of water", 1, 0, 1, false}},
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

bool is_system(const std::string& word) { return word == "si" || word == "us"; }

/// Whether two known words mean the same: `gpm` is `gal/min`.
bool same_unit(const std::string& a, const std::string& b) {
  const ChosenUnit *one = unit_of(a), *other = unit_of(b);
  return a == b || (one && other && one->kind == other->kind && one->number == other->number);
}

/// What stands between commas, without blanks around it.
std::vector<std::string> parts_of(std::string_view words) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t comma = words.find(',');
    std::string part(words.substr(0, comma));
    part.erase(0, part.find_first_not_of(' '));
    part.erase(part.find_last_not_of(' ') + 1);
    parts.push_back(std::move(part));
    if (comma == std::string_view::npos) return parts;
    words.remove_prefix(comma + 1);
  }
}

}  // namespace

UnitSystem base_of(UnitSystem system) { return static_cast<UnitSystem>(static_cast<int>(system) & 1); }

std::optional<UnitSystem> read_choice(std::string_view words, UnitSystem otherwise) {
  if (!wrong_choice(words).empty()) return std::nullopt;
  int value = static_cast<int>(otherwise);
  for (const std::string& typed : parts_of(words)) {
    const std::string word = plain(typed);
    if (const ChosenUnit* unit = unit_of(word))
      value = with(value, unit->number, shift_of(unit->kind));
    else
      value = (value & ~1) | static_cast<int>(word == "us" ? UnitSystem::us : UnitSystem::si);
  }
  return static_cast<UnitSystem>(value);
}

std::string wrong_choice(std::string_view words) {
  std::string system, pressure, flow;  // as typed
  for (const std::string& typed : parts_of(words)) {
    const std::string word = plain(typed);
    const ChosenUnit* unit = unit_of(word);
    if (!unit && !is_system(word))
      return (word.empty() ? "nothing" : typed) +
             " is none of us, si, kPa, bar, m of water, psi, L/s, L/min and gal/min";
    std::string& before = !unit ? system : unit->kind == Kind::pressure ? pressure : flow;
    if (!before.empty() && !same_unit(plain(before), word))
      return before + " and " + typed +
             (!unit                          ? " are two systems of units"
              : unit->kind == Kind::pressure ? " are both units of pressure"
                                             : " are both units of flow");
    before = typed;
  }
  return "";
}

const Display* chosen(Kind kind, UnitSystem system) {
  if (kind != Kind::pressure && kind != Kind::flow) return nullptr;
  const int number = (static_cast<int>(system) >> shift_of(kind)) & mask;
  for (const ChosenUnit& unit : chosen_units)
    if (unit.kind == kind && unit.number == number) return &unit.display;
  return nullptr;
}

}  // namespace runnel::units
