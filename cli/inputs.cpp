#include "inputs.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace cli {
namespace {

using Identity = std::pair<dev_t, ino_t>;

// A process runs one command, so one list will do.
std::vector<Identity>& inputs() {
  static std::vector<Identity> all;
  return all;
}

}  // namespace

void remember_input(int descriptor) {
  struct stat about {};
  if (::fstat(descriptor, &about) == 0 && S_ISREG(about.st_mode))
    inputs().emplace_back(about.st_dev, about.st_ino);
}

bool was_read(const struct stat& file) {
  const auto& all = inputs();
  return std::find(all.begin(), all.end(), Identity{file.st_dev, file.st_ino}) != all.end();
}

}  // namespace cli
