// Models in an editor: a YAML language server (npm) opens them with the schema beside them. `.ci/run`
// installs it with `npm ci --prefix tests/input/editor`; without it these tests fail.
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "support.h"

using namespace runnel::input::test;
using Json = nlohmann::json;

namespace {

const std::string models_folder = std::string(RUNNEL_SOURCE_DIR) + "/models";
const std::string server = folder + "editor/node_modules/yaml-language-server/bin/yaml-language-server";

struct Opened {
  int exit = -1;
  std::string words;
};

/// Opens all models of a manifest, one after the other.
Opened open_all(const Json& manifest) {
  if (!std::filesystem::exists(server))
    FAIL("the language server is not installed: run `npm ci --prefix tests/input/editor`");
  const auto place = std::filesystem::temp_directory_path() / ("runnel-editor-" + std::to_string(getpid()));
  std::filesystem::create_directories(place);
  std::ofstream(place / "manifest.json") << manifest.dump();
  const std::string command = "node '" + folder + "editor/drive.mjs' '" + server + "' '" +
                              (place / "manifest.json").string() + "' > '" + (place / "out.txt").string() +
                              "' 2>&1";
  Opened opened;
  opened.exit = std::system(command.c_str());
  opened.words = text_of((place / "out.txt").string()).value_or("");
  std::filesystem::remove_all(place);
  return opened;
}

/// A text that lies nowhere, opened as if beside the models.
Json beside_models(const std::string& name, const std::string& text, Json clean) {
  return {{"name", name},
          {"file", models_folder + "/first_line/" + name},
          {"text", "# yaml-language-server: $schema=../runnel.schema.json\n" + text},
          {"clean", std::move(clean)}};
}

}  // namespace

TEST_CASE("an editor finds the schema of every example and marks nothing in it") {
  Json manifest = Json::array();
  for (const std::string& path : models_in(models_folder))
    if (path.find("/model.yaml") != std::string::npos)
      manifest.push_back({{"name", path}, {"file", path}, {"text", *text_of(path)}, {"clean", true}});
  REQUIRE(manifest.size() > 5);
  const Opened opened = open_all(manifest);
  INFO(opened.words);
  CHECK(opened.exit == 0);
}

TEST_CASE("an editor marks what the schema refuses, and says what is wrong with it") {
  Json manifest = Json::array();
  for (const std::string& path : models_in(folder + "bad")) {
    const std::string text = *text_of(path);
    // What is no YAML is marked by the editor's own reader, or is taken by it where runnel is stricter.
    const bool passes = text.find("# schema: passes\n") != std::string::npos;
    const std::string name = std::filesystem::path(path).filename().string();
    // It marks an anchor that nothing refers to.
    const bool clean = passes && name != "anchor.yaml";
    manifest.push_back(beside_models(name, text, clean ? Json(true) : Json(nullptr)));
  }
  const Opened opened = open_all(manifest);
  INFO(opened.words);
  CHECK(opened.exit == 0);
}

TEST_CASE("an editor offers the kinds of parts and the keys of a box") {
  const std::string start =
      "runnel: 1\nboxes:\n  spring:\n    \npipelines:\n  main:\n    from: spring\n    to: end\n    parts:\n  "
      "    - ";
  Json model = beside_models("offered.yaml", start, nullptr);
  model["offers"] = Json::array(
      {{{"line", 4}, {"character", 4}, {"labels", {"yield", "outlet", "lip", "overflow"}}},
       {{"line", 10}, {"character", 8}, {"labels", {"ball_valve", "air_valve", "washout", "union"}}}});
  const Opened opened = open_all(Json::array({model}));
  INFO(opened.words);
  CHECK(opened.exit == 0);
}
