#pragma once
// Pieces shared by the JSON writers. Not for users of the library: it names the JSON library.
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "runnel/base/finding.h"

namespace runnel::report {

using Json = nlohmann::ordered_json;

/// A number, or std::logic_error naming the key.
inline Json number(double value, const char* key) {
  if (!std::isfinite(value)) throw std::logic_error(std::string("a number is not finite: ") + key);
  return value;
}

inline Json number(const std::optional<double>& value, const char* key) {
  return value ? number(*value, key) : Json(nullptr);
}

/// What a finding or a verdict is about; empty where it is about the whole.
Json where_json(const Where& where);
Json findings_json(const std::vector<Finding>& findings);

/// A figure under a key that names its unit: {"pressure_pa": 2.1e5}.
Json figure_json(Figure figure);

/// Indented text; bytes that are not UTF-8 become U+FFFD.
std::string dumped(const Json& json);

}  // namespace runnel::report
