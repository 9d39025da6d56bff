#pragma once
// The kinds of single values in a model, and the words that name them to people.
#include <optional>
#include <string_view>
#include <vector>

#include "runnel/units/parse.h"

namespace runnel::input {

enum class ValueKind {
  text,
  name,
  elevation,
  station,
  level,
  length,
  flow,
  volume,
  duration,
  pressure,
  velocity,
  temperature,
  density,
  viscosity,
  opening,
};

struct KindRow {
  ValueKind kind;
  std::string_view words;                     ///< "an elevation"
  const char* definition;                     ///< how the schema checks it
  std::optional<units::Dimension> dimension;  ///< none for words and openings
};

/// The rows, in the order of ValueKind.
const std::vector<KindRow>& kind_rows();
const KindRow& kind_row(ValueKind kind);

}  // namespace runnel::input
