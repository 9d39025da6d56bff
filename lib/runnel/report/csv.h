#pragma once
// Comma-separated values.
#include <string>

namespace runnel::report {

/// A text as one cell: quoted where a comma, a quote or the end of a line would break the row [rfc4180].
inline std::string csv_cell(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + "\"";
}

}  // namespace runnel::report
