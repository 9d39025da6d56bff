// Odd but right models are read, with just the warnings that their comments announce.
#include <catch2/catch.hpp>

#include "runnel/network/validate.h"
#include "support.h"

using namespace runnel;
using namespace runnel::input;
using namespace runnel::input::test;

namespace {

std::vector<std::string> announced(std::string text) {
  std::vector<std::string> all;
  const std::string key = "# warns: ";
  for (auto at = text.find(key); at != std::string::npos; at = text.find(key, at + 1)) {
    const auto start = at + key.size();
    all.push_back(text.substr(start, text.find('\n', start) - start));
  }
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

TEST_CASE("every good input gives a system and only the warnings it announces") {
  for (const std::string& path : models_in(folder + "good")) {
    const auto read = read_file(path);
    INFO(path << "\n" << told(read.findings, path));
    CHECK(read.value.has_value());
    std::vector<std::string> warnings;
    for (const Finding& f : read.findings)
      if (f.severity != Severity::note) warnings.push_back(place_of(f, path));
    std::sort(warnings.begin(), warnings.end());
    CHECK(warnings == announced(*text_of(path)));
  }
}

TEST_CASE("what a good system holds passes `validate` by itself") {
  for (const std::string& path : models_in(folder + "good")) {
    const auto read = read_file(path);
    REQUIRE(read);
    CHECK_FALSE(any_error(network::validate(*read.value)));
  }
}
