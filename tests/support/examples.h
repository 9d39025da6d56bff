#pragma once
// The examples under models/.
#include <algorithm>
#include <filesystem>
#include <vector>

namespace support {

/// The folder of each example, by name.
inline std::vector<std::filesystem::path> examples() {
  std::vector<std::filesystem::path> all;
  for (const auto& entry : std::filesystem::directory_iterator(RUNNEL_SOURCE_DIR "/models"))
    if (std::filesystem::exists(entry.path() / "model.yaml")) all.push_back(entry.path());
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace support
