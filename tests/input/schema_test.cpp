// The JSON Schema, judged by ajv (npm), a validator that is not ours. `.ci/run` installs it with
// `npm ci --prefix tests/input/ajv`; without it these tests fail.
#include "runnel/input/schema.h"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "mutate.h"
#include "support.h"

using namespace runnel::input;
using namespace runnel::input::test;
using Json = nlohmann::json;

namespace {

struct Judged {
  int exit = -1;
  std::string words;
};

std::string shell_quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

/// Has ajv judge a list of {name, text, passes}.
Judged judge(const Json& manifest, const std::string& name) {
  const auto place =
      std::filesystem::temp_directory_path() / ("runnel-schema-" + std::to_string(getpid()) + "-" + name);
  std::filesystem::create_directories(place);
  const auto path = [&](const char* file) { return (place / file).string(); };
  std::ofstream(path("schema.json")) << model_schema();
  std::ofstream(path("manifest.json")) << manifest.dump();
  const std::string command = "node " + shell_quoted(folder + "ajv/check.mjs") + " " +
                              shell_quoted(path("schema.json")) + " " + shell_quoted(path("manifest.json")) +
                              " > " + shell_quoted(path("out.txt")) + " 2>&1";
  Judged judged;
  judged.exit = std::system(command.c_str());
  judged.words = text_of(path("out.txt")).value_or("");
  std::filesystem::remove_all(place);
  return judged;
}

bool ajv_is_there() { return std::filesystem::exists(folder + "ajv/node_modules/ajv/package.json"); }

constexpr const char* how_to_install = "ajv is not installed: run `npm ci --prefix tests/input/ajv`";

Json entry(const std::string& path, bool passes) {
  return {{"name", path}, {"text", *text_of(path)}, {"passes", passes}};
}

}  // namespace

TEST_CASE("the schema accepts every good model and refuses every bad structure") {
  if (!ajv_is_there()) FAIL(how_to_install);
  Json manifest = Json::array();
  for (const std::string& path : models_in(folder + "good")) manifest.push_back(entry(path, true));
  for (const std::string& path : models_in(std::string(RUNNEL_SOURCE_DIR) + "/models")) {
    const std::string text = "\n" + *text_of(path);
    if (text.find("\nrunnel:") != std::string::npos) manifest.push_back(entry(path, true));
  }
  for (const std::string& path : models_in(folder + "bad"))
    manifest.push_back(entry(path, text_of(path)->find("# schema: passes\n") != std::string::npos));
  const Judged judged = judge(manifest, "files");
  INFO(judged.words);
  CHECK(judged.exit == 0);
}

TEST_CASE("what the reader accepts, the schema accepts") {
  if (!ajv_is_there()) FAIL(how_to_install);
  std::vector<std::string> models;
  for (const std::string& path : models_in(folder + "good"))
    if (path.find("survey_file") == std::string::npos && path.find("open_pipe") == std::string::npos)
      models.push_back(*text_of(path));  // the others name files beside them
  Mutator mutator(99);
  Json manifest = Json::array();
  for (std::size_t i = 0; i < 6'000; ++i) {
    std::string text = mutator.reworded(models[i % models.size()]);
    if (read_model(text, "m.yaml")) manifest.push_back({{"name", text}, {"text", text}, {"passes", true}});
  }
  REQUIRE(manifest.size() > 300);  // enough of them stay models
  const Judged judged = judge(manifest, "mutants");
  INFO(judged.words);
  CHECK(judged.exit == 0);
}

TEST_CASE("the schema is draft-07 with a title and a description for every section") {
  const Json schema = Json::parse(model_schema());
  CHECK(schema["$schema"] == "http://json-schema.org/draft-07/schema#");
  CHECK(schema["additionalProperties"] == false);
  for (const auto& [name, section] : schema["properties"].items()) {
    INFO(name);
    CHECK(section.contains("description"));
  }
}
