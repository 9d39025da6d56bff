#include "runnel/network/part_table.h"

#include <algorithm>

#include "runnel/losses/fittings.h"

namespace runnel::network {

namespace {

struct Word {
  std::string_view word;
  PartKind kind;
};

// Words whose kind does not follow from their ending, and words without a published loss.
constexpr Word own_words[] = {
    {"union", PartKind::union_},
    {"air_valve", PartKind::air_valve},
    {"washout", PartKind::washout},
    {"check_valve", PartKind::check_valve},
    {"reducing_valve", PartKind::reducing_valve},
    {"valve", PartKind::valve},
    {"fitting", PartKind::fitting},
};

bool starts(std::string_view word, std::string_view with) { return word.substr(0, with.size()) == with; }

bool ends(std::string_view word, std::string_view with) {
  return word.size() >= with.size() && word.substr(word.size() - with.size()) == with;
}

}  // namespace

const std::vector<PartKindRow>& part_kind_rows() {
  static const std::vector<PartKindRow> rows{
      {PartKind::valve,
       true,
       {{"set", "set: 40 %", "How far the valve is open.", false, &Part::open, "open"}}},
      {PartKind::union_, true, {}},
      {PartKind::air_valve, true, {}},
      {PartKind::washout, true, {}},
      {PartKind::check_valve, true, {}},
      {PartKind::reducing_valve,
       true,
       {{"pressure", "pressure: 30 psi", "The pressure a reducing valve holds behind it.", true,
         &Part::set_pressure, "a reducing valve needs it"}}},
      {PartKind::fitting, false, {}},
  };
  return rows;
}

const PartKindRow& part_kind_row(PartKind kind) { return part_kind_rows()[static_cast<std::size_t>(kind)]; }

const std::vector<std::string>& part_words() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> all = losses::fitting_types();
    for (const Word& own : own_words)
      if (std::find(all.begin(), all.end(), own.word) == all.end()) all.emplace_back(own.word);
    return all;
  }();
  return words;
}

PartKind kind_of_part(std::string_view word) {
  for (const Word& own : own_words)
    if (own.word == word) return own.kind;
  if (starts(word, "check_valve") || starts(word, "foot_valve")) return PartKind::check_valve;
  return ends(word, "valve") ? PartKind::valve : PartKind::fitting;
}

}  // namespace runnel::network
