// Every example: it reads without a complaint, runs under each of its settings, and gives the figures of
// its expected.yaml. Where those come from stands beside each of them; hand_check.py here recomputes the
// ones that a person can, without any of this code.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "runnel/document/tree.h"
#include "runnel/input/read_model.h"
#include "runnel/report/json.h"
#include "runnel/steady/state.h"
#include "runnel/units/parse.h"
#include "runnel/verdict/flow_verdict.h"
#include "support/rooms.h"

namespace {

namespace fs = std::filesystem;
namespace network = runnel::network;
using nlohmann::json;
using runnel::document::Node;

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<fs::path> models() {
  std::vector<fs::path> all;
  for (const auto& entry : fs::directory_iterator(RUNNEL_SOURCE_DIR "/models"))
    if (fs::exists(entry.path() / "model.yaml")) all.push_back(entry.path());
  std::sort(all.begin(), all.end());
  return all;
}

network::Model read(const fs::path& folder) {
  const auto model = runnel::input::read_model(slurp(folder / "model.yaml"), "model.yaml");
  for (const auto& f : model.findings)
    FAIL_CHECK(folder.filename() << ":" << f.mark.line << " " << f.message);
  REQUIRE(model);
  return *model.value;
}

json answer(const network::Model& drawn, const std::string& setting) {
  const auto run = network::under_setting(drawn, setting);
  REQUIRE(run);
  const auto state = runnel::steady::solve(*run.value);
  CHECK(state.outcome == runnel::steady::Outcome::settled);
  CHECK(state.proof.consistent);
  const auto verdict = runnel::verdict::judge_flow(*run.value, state);
  return json::parse(runnel::report::flow_json({support::kept(*run.value), state, verdict, setting}));
}

double number(const Node& node) {
  const auto parsed = runnel::units::parse(node.text, runnel::units::Dimension::number);
  REQUIRE(parsed.ok());
  return parsed.si;
}

void compare(const json& result, const Node& expected) {
  const std::string what = expected.find("what")->text;
  INFO(what);
  const json::json_pointer pointer(what);
  REQUIRE(result.contains(pointer));
  const json& got = result.at(pointer);
  const Node& value = *expected.find("value");
  CHECK(expected.find("source")->text.size() > 10);
  if (value.kind == Node::Kind::missing) {
    CHECK(got.is_null());
  } else if (got.is_string()) {
    CHECK(got.get<std::string>() == value.text);
  } else if (got.is_boolean()) {
    CHECK((got.get<bool>() ? "true" : "false") == value.text);
  } else {
    REQUIRE(got.is_number());
    // The tolerance stands in the file, beside the value and its source.
    CHECK(got.get<double>() ==
          Approx(number(value)).epsilon(0.0).margin(number(*expected.find("tolerance"))));
  }
}

}  // namespace

TEST_CASE("every example reads clean and runs under every setting") {
  REQUIRE(models().size() >= 10);
  for (const fs::path& folder : models()) {
    INFO(folder.filename().string());
    CHECK(fs::exists(folder / "ABOUT.md"));
    CHECK(fs::exists(folder / "expected.yaml"));
    const network::Model system = read(folder);
    CHECK(system.note.find("Invented") != std::string::npos);
    std::vector<std::string> settings{"normal"};
    for (const auto& setting : system.settings) settings.push_back(setting.name);
    for (const std::string& setting : settings) {
      INFO(setting);
      CHECK(answer(system, setting).at("setting") == setting);
    }
  }
}

TEST_CASE("every example gives its expected figures") {
  for (const fs::path& folder : models()) {
    INFO(folder.filename().string());
    const network::Model system = read(folder);
    const auto tree = runnel::document::read(slurp(folder / "expected.yaml"), "expected.yaml");
    REQUIRE(tree);
    const Node* expected = (*tree.value)->find("expected");
    REQUIRE(expected != nullptr);
    CHECK(expected->items.size() >= 4);
    std::map<std::string, json> answers;
    for (const auto& item : expected->items) {
      const std::string setting = item->find("setting") ? item->find("setting")->text : "normal";
      if (!answers.count(setting)) answers[setting] = answer(system, setting);
      compare(answers[setting], *item);
    }
  }
}
