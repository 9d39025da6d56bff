// Damaged models: the reader never crashes, hangs or throws, and never says nothing.
#include <catch2/catch.hpp>
#include <cmath>

#include "mutate.h"
#include "runnel/network/validate.h"
#include "support.h"

using namespace runnel;
using namespace runnel::input;
using namespace runnel::input::test;

namespace {

/// A side file for whatever name a damaged model asks for.
ReadOptions some_side_files() {
  ReadOptions options;
  const std::string survey = *text_of(folder + "good/survey_file.csv");
  const std::string pipes = *text_of(folder + "good/survey_file.pipes");
  options.side_file = [=](const std::string& name) -> std::optional<std::string> {
    if (name.size() > 40) return std::nullopt;
    return name.find("pipes") == std::string::npos ? survey : pipes;
  };
  return options;
}

/// Empty if the outcome is sound, else what is wrong with it.
std::string unsound(const std::string& text, const Checked<network::Model>& read) {
  if (!read.value && !any_error(read.findings)) return "no system, and no error";
  if (read.value && any_error(read.findings)) return "a system in spite of an error";
  for (const Finding& f : read.findings) {
    if (f.code.empty() || f.message.empty()) return "a finding without words";
    if (!f.mark.known()) return "a finding without a place: " + f.code;
    // One line past the last is where an unfinished text breaks off.
    if (f.mark.file == "m.yaml" && f.mark.line > 2 + std::count(text.begin(), text.end(), '\n'))
      return "a finding past the end: " + f.code;
    units::render(f.message, f.figures, units::UnitSystem::us);
    units::render(f.advice, f.figures, units::UnitSystem::us);
  }
  return read.value && any_error(network::validate(*read.value)) ? "a system that `validate` refuses" : "";
}

}  // namespace

TEST_CASE("20,000 damaged models: each gives a system or an error") {
  std::vector<std::string> models;
  for (const std::string& path : models_in(folder + "good")) models.push_back(*text_of(path));
  const ReadOptions options = some_side_files();
  Mutator mutator(20240611);
  int systems = 0;
  for (int i = 0; i < 20'000; ++i) {
    const std::string text = mutator.damaged(models[static_cast<std::size_t>(i) % models.size()]);
    const auto read = read_model(text, "m.yaml", options);
    const std::string trouble = unsound(text, read);
    if (!trouble.empty()) {
      INFO("number " << i << "\n" << text << "\n" << told(read.findings, "m.yaml"));
      FAIL(trouble);
    }
    systems += read.value.has_value();
  }
  // Both outcomes must be met often, or the damage teaches nothing.
  CHECK(systems > 500);
  CHECK(systems < 19'500);
}

TEST_CASE("damaged survey files are refused or read, never more") {
  const std::string model = *text_of(folder + "good/survey_file.yaml");
  const std::string survey = *text_of(folder + "good/survey_file.csv");
  const std::string pipes = *text_of(folder + "good/survey_file.pipes");
  Mutator mutator(7);
  for (int i = 0; i < 3'000; ++i) {
    const std::string bad = mutator.damaged(i % 3 ? survey : pipes);
    ReadOptions options;
    options.side_file = [&](const std::string& name) -> std::optional<std::string> {
      return (name == "survey_file.csv") == (i % 3 != 0) ? bad : i % 3 ? pipes : survey;
    };
    const auto read = read_model(model, "m.yaml", options);
    INFO(bad << "\n" << told(read.findings, "m.yaml"));
    REQUIRE(read.value.has_value() != any_error(read.findings));
  }
}
