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
#include "runnel/report/fill.h"
#include "runnel/report/json.h"
#include "runnel/report/text.h"
#include "runnel/steady/state.h"
#include "runnel/units/parse.h"
#include "runnel/units/print.h"
#include "runnel/verdict/answer.h"
#include "runnel/verdict/fill_answer.h"
#include "support/examples.h"
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
  REQUIRE(support::examples().size() >= 10);
  for (const fs::path& folder : support::examples()) {
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
  for (const fs::path& folder : support::examples()) {
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

TEST_CASE("every example's answer fits one screen, and nothing in it is cut") {
  for (const fs::path& folder : support::examples()) {
    const auto answered = runnel::verdict::answer_model(read(folder));
    REQUIRE(answered);
    for (const auto units : {runnel::units::UnitSystem::si, runnel::units::UnitSystem::us}) {
      runnel::report::TextOptions options;
      options.units = units;
      const std::string text = runnel::report::answer_text(*answered.value, options);
      INFO(folder.filename().string() << "\n" << text);
      const bool one = answered.value->leading().system.lines().size() == 1;
      CHECK(std::count(text.begin(), text.end(), '\n') <= (one ? 30 : 45));
      CHECK(text.find("...") == std::string::npos);
      CHECK_THAT(text, Catch::Contains("Assumed: ") && Catch::Contains("running"));
      const bool acts = text.find("Do this") != std::string::npos;
      CHECK(acts == (text.find("Nothing needs changing.") == std::string::npos));
    }
  }
}

TEST_CASE("every example's filling fits one screen, and nothing in it is cut") {
  for (const fs::path& folder : support::examples()) {
    const auto followed = runnel::verdict::fill_model(read(folder), {});
    REQUIRE(followed);
    const runnel::verdict::FillRun& run = followed.value->leading();
    const runnel::report::FillAnswer answer{run.system,  run.history, run.verdict, run.setting,
                                            run.options, false,       {},          &*followed.value};
    for (const auto units : {runnel::units::UnitSystem::si, runnel::units::UnitSystem::us}) {
      runnel::report::TextOptions options;
      options.units = units;
      const std::string text = runnel::report::fill_text(answer, options);
      INFO(folder.filename().string() << "\n" << text);
      const bool one = run.system.lines().size() == 1;
      CHECK(std::count(text.begin(), text.end(), '\n') <= (one ? 30 : 45));
      CHECK(text.find("...") == std::string::npos);
      if (!run.verdict.good()) CHECK_THAT(text, Catch::Contains("Do this\n  1. "));
      if (run.history.storages.empty()) continue;
      CHECK_THAT(text, Catch::Contains("\nTanks\n") && Catch::Contains("Assumed: "));
      options.every_point = true;
      const std::string all = runnel::report::fill_text(answer, options);
      CHECK_THAT(all, Catch::Contains("\nWorked out with\n") && !Catch::Contains("-v shows"));
    }
  }
}

TEST_CASE("no example gets a favourable first sentence for a state that does not last") {
  for (const fs::path& folder : support::examples()) {
    const auto answered = runnel::verdict::answer_model(read(folder));
    REQUIRE(answered);
    for (const auto& run : answered.value->runs) {
      const auto& verdict = run.verdict;
      const std::string said = runnel::units::render(verdict.sentence.text(), verdict.sentence.figures(),
                                                     runnel::units::UnitSystem::si);
      INFO(folder.filename().string() << ", " << run.setting << ": " << said);
      const bool favourable = said.rfind("It delivers", 0) == 0 || said.rfind("Water arrives", 0) == 0;
      CHECK(favourable == verdict.good());
      if (!favourable) continue;
      for (const auto& need : verdict.asks) {
        CHECK((need.cut_off || (need.judged && need.met)));
        CHECK_FALSE(need.met_until_s);
        CHECK_FALSE(need.met_only_primed);
        CHECK_FALSE(need.held_by_air());
      }
      if (verdict.air)
        for (const auto& way : verdict.air->paths)
          CHECK((way.start.verdict == runnel::air::StartVerdict::starts ||
                 said.find("filled by hand") != std::string::npos));
    }
  }
}
