#pragma once
// The parts that a line can carry: their words, their kinds and the keys of their own. Reading, the schema
// and `validate` all work from this table, so a new part is a row of it (and a member of Part if it has a key
// of its own).
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "runnel/network/pipeline.h"

namespace runnel::network {

/// A key that a kind of part has besides `at` and `loss`, which all have.
struct PartKey {
  const char* key;      ///< "pressure"
  const char* example;  ///< "pressure: 30 psi"
  const char* what;     ///< one sentence, for the schema
  bool needed;
  /// Where its value is stored: a share, 0 shut to 1 open, or a gauge pressure above zero.
  std::variant<double Part::*, Pressure Part::*> member;
  const char* left_out = "";  ///< what applies without it, in words
};

struct PartKindRow {
  PartKind kind;
  bool called_by_name;  ///< a name follows its word; otherwise a count or a name
  std::vector<PartKey> keys;
};

/// Every kind has a row.
const PartKindRow& part_kind_row(PartKind kind);
/// The rows, in the order of PartKind.
const std::vector<PartKindRow>& part_kind_rows();

/// Every word that may begin a part, except `pipe`, with or without a published loss.
const std::vector<std::string>& part_words();

/// What a word of part_words() means, in one sentence; empty for other words.
std::string_view part_meaning(std::string_view word);

/// The kind of part that a word of part_words() names.
PartKind kind_of_part(std::string_view word);

}  // namespace runnel::network
