#pragma once
// Reads the small comma-separated tables under tests/data: a header row, no quotes.
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace csv {

using Row = std::map<std::string, std::string>;

inline std::vector<std::string> cells(const std::string& line) {
  std::vector<std::string> out;
  std::istringstream in(line);
  for (std::string cell; std::getline(in, cell, ',');) out.push_back(cell);
  if (!line.empty() && line.back() == ',') out.emplace_back();
  return out;
}

inline std::vector<Row> read(const std::string& file) {
  std::ifstream in(std::string(RUNNEL_SOURCE_DIR) + "/tests/data/" + file);
  if (!in) throw std::runtime_error("no such file: " + file);
  std::string line;
  std::getline(in, line);
  const std::vector<std::string> names = cells(line);
  std::vector<Row> rows;
  while (std::getline(in, line)) {
    const std::vector<std::string> values = cells(line);
    if (values.size() < names.size()) throw std::runtime_error("short row in " + file + ": " + line);
    Row row;
    for (std::size_t i = 0; i < names.size(); ++i) row[names[i]] = values[i];
    rows.push_back(row);
  }
  return rows;
}

}  // namespace csv
