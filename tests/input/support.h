#pragma once
// What the tests of this room share: reading files and folders.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "runnel/input/read_model.h"
#include "runnel/units/print.h"

namespace runnel::input::test {

inline const std::string folder = std::string(RUNNEL_SOURCE_DIR) + "/tests/input/";

inline std::optional<std::string> text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) return std::nullopt;
  return std::string(std::istreambuf_iterator<char>(in), {});
}

/// Every model below a folder, in order of name.
inline std::vector<std::string> models_in(const std::string& path) {
  std::vector<std::string> found;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(path))
    if (entry.path().extension() == ".yaml") found.push_back(entry.path().string());
  std::sort(found.begin(), found.end());
  return found;
}

/// Reads a model from disk; files that it names lie beside it.
inline Checked<network::Model> read_file(const std::string& path) {
  ReadOptions options;
  options.side_file = [&](const std::string& name) {
    return text_of((std::filesystem::path(path).parent_path() / name).string());
  };
  return read_model(text_of(path).value_or(""), path, options);
}

/// `code line:column`, with the file's name in front if it is another one than the model's.
inline std::string place_of(const Finding& f, const std::string& path) {
  const std::string line = std::to_string(f.mark.line) + ":" + std::to_string(f.mark.column);
  return f.code + " " + (f.mark.file == path ? line : f.mark.file + ":" + line);
}

/// All findings in words, for a test's INFO.
inline std::string told(const std::vector<Finding>& findings, const std::string& path) {
  std::string all;
  for (const Finding& f : findings)
    all += place_of(f, path) + "  " + units::render(f.message, f.figures, units::UnitSystem::us) + "\n    " +
           units::render(f.advice, f.figures, units::UnitSystem::us) + "\n";
  return all;
}

}  // namespace runnel::input::test
