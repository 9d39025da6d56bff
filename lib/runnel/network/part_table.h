#pragma once
// The parts a line can carry: by which words they go, what they are, and which keys of their own they have.
// Reading, the schema and `validate` all work from this table, so a new part is a row of it (and a member
// of Part if it has a key of its own).
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "runnel/network/pipeline.h"

namespace runnel::network {

/// A key that a kind of part has beside `at` and `loss`, which all have.
struct PartKey {
  const char* key;      ///< "pressure"
  const char* example;  ///< "pressure: 30 psi"
  const char* what;     ///< one sentence, for the schema
  bool needed;
  /// Where its value goes: a share, 0 shut to 1 open, or a gauge pressure above zero.
  std::variant<double Part::*, Pressure Part::*> member;
  const char* left_out = "";  ///< what holds without it, in words
};

struct PartKindRow {
  PartKind kind;
  bool called_by_name;  ///< its word is followed by a name; else by a count or a name
  std::vector<PartKey> keys;
};

/// Precondition: none; every kind has its row.
const PartKindRow& part_kind_row(PartKind kind);
/// The rows, in the order of PartKind.
const std::vector<PartKindRow>& part_kind_rows();

/// Every word that may open a part, except `pipe`: those with a published loss, and those that are parts
/// without one.
const std::vector<std::string>& part_words();

/// What a word of part_words() means, in one sentence; empty for other words.
std::string_view part_meaning(std::string_view word);

/// What kind of part a word names; one of part_words().
PartKind kind_of_part(std::string_view word);

}  // namespace runnel::network
