// Every file of bad/ has one defect, and its first line says which code it must give and where.
#include <catch2/catch.hpp>

#include "runnel/document/tree.h"
#include "support.h"

using namespace runnel;
using namespace runnel::input;
using namespace runnel::input::test;

namespace {

std::string after(const std::string& text, const std::string& key) {
  const auto at = text.find(key);
  if (at == std::string::npos) return {};
  return text.substr(at + key.size(), text.find('\n', at) - at - key.size());
}

}  // namespace

TEST_CASE("every bad input gives its one error, at its place, and no system") {
  const auto files = models_in(folder + "bad");
  REQUIRE(files.size() >= 60);
  for (const std::string& path : files) {
    const std::string text = *text_of(path);
    const std::string wanted = after(text, "# expect: ");
    const auto read = read_file(path);
    INFO(path << "\nwanted " << wanted << "\n" << told(read.findings, path));
    CHECK(text.rfind("# expect: ", 0) == 0);
    CHECK_FALSE(read.value.has_value());
    std::vector<std::string> errors;
    for (const Finding& f : read.findings)
      if (f.severity == Severity::error) errors.push_back(place_of(f, path));
    CHECK(errors == std::vector<std::string>{wanted});
  }
}

TEST_CASE("every finding of the bad inputs can be shown with its figures filled in") {
  for (const std::string& path : models_in(folder + "bad")) {
    const std::string text = *text_of(path);
    for (Finding f : read_file(path).findings) {
      INFO(path);
      f.message = units::render(f.message, f.figures, units::UnitSystem::si);
      f.advice = units::render(f.advice, f.figures, units::UnitSystem::si);
      CHECK_FALSE(f.message.empty());
      CHECK(f.message.find("{0}") == std::string::npos);
      CHECK(f.message.find("{1}") == std::string::npos);
      CHECK(f.mark.known());
      CHECK(f.mark.column >= 1);
      CHECK_FALSE(document::excerpt(f, text).empty());
    }
  }
}
