// The page of the language, models/README.md: its models read, its keys are used, its examples read.
// tests/scripts/language.cmake holds its tables to what the program prints.
#include "runnel/input/language.h"

#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "runnel/document/tree.h"
#include "support.h"

using namespace runnel::input;
using namespace runnel::input::test;
using runnel::document::Node;

namespace {

const std::string models_folder = std::string(RUNNEL_SOURCE_DIR) + "/models";

/// The whole models between the fences of the page.
std::vector<std::string> models_of_page() {
  const std::string page = *text_of(models_folder + "/README.md");
  const std::string open = "```yaml\n";
  std::vector<std::string> models;
  for (std::size_t at = page.find(open); at != std::string::npos; at = page.find(open, at)) {
    at += open.size();
    models.push_back(page.substr(at, page.find("```", at) - at));
  }
  return models;
}

std::vector<std::string> test_models() {
  std::vector<std::string> models = models_of_page();
  for (const char* sub : {"good", "words"})
    for (const std::string& path : models_in(folder + sub)) models.push_back(*text_of(path));
  for (const std::string& path : models_in(models_folder))
    if (path.find("/model.yaml") != std::string::npos) models.push_back(*text_of(path));
  return models;
}

using Id = std::pair<std::string, std::string>;  // block and key

bool is_block(const std::string& place) {
  for (const LanguageKey& key : language_keys())
    if (key.block == place) return true;
  return false;
}

const std::map<std::string, std::string> told_once = {{"overflow", "boxes: NAME: overflow:"},
                                                      {"draws", "tanks: NAME: draws:"},
                                                      {"float_valve", "tanks: NAME: float_valve:"}};

/// Calls `seen(id, value)` for every key of the language below a node.
template <class Seen>
void each_key(const Node& node, const std::string& place, const Seen& seen) {
  const auto inside = [&](const Node& value, const std::string& below) {
    if (is_block(below)) each_key(value, below, seen);
    if (is_block(below + " NAME:"))
      for (const auto& entry : value.entries) each_key(*entry.value, below + " NAME:", seen);
    if (is_block(below + " -"))
      for (const auto& item : value.items) each_key(*item, below + " -", seen);
  };
  for (const auto& entry : node.entries) {
    seen(Id{place, entry.key}, *entry.value);
    // What boxes, tanks, taps and lines have in common the page tells once.
    if (const auto told = told_once.find(entry.key); told != told_once.end()) {
      inside(*entry.value, told->second);
      continue;
    }
    const bool left_open = entry.value->find("choose") != nullptr;
    const bool a_pipe = entry.key == "pipe" && entry.value->kind == Node::Kind::map && !left_open;
    inside(*entry.value, a_pipe ? "pipes: NAME:" : place + (place.empty() ? "" : " ") + entry.key + ":");
    if (a_pipe) each_key(*entry.value, "pipes: NAME:", seen);
  }
}

/// The tree as a text again, with one value written differently.
std::string written(const Node& node, const Node* instead, const std::string& example) {
  if (&node == instead) return example;
  std::string text;
  switch (node.kind) {
    case Node::Kind::missing:
      return "";
    case Node::Kind::scalar:
      for (const char c : node.text)
        text += c == '"' || c == '\\' ? std::string("\\") + c : std::string(1, c);
      return "\"" + text + "\"";
    case Node::Kind::sequence:
      for (const auto& item : node.items)
        text += (text.empty() ? "" : ", ") + written(*item, instead, example);
      return "[" + text + "]";
    case Node::Kind::map:
      for (const auto& entry : node.entries)
        text += (text.empty() ? "\"" : ", \"") + entry.key + "\": " + written(*entry.value, instead, example);
      return "{" + text + "}";
  }
  return text;
}

ReadOptions with_side_files() {
  ReadOptions options;
  options.side_file = [](const std::string& name) -> std::optional<std::string> {
    if (name == "main.csv") return "station_m,elevation_m\n0,100\n50,90\n";
    return text_of(folder + "good/" + (name == "own_pipes.yaml" ? "survey_file.pipes" : name));
  };
  return options;
}

/// Codes that tell of a value which cannot be read at all, whatever the rest of the model says.
bool unreadable(const std::string& code) {
  static const std::set<std::string> codes{
      "missing-unit", "wrong-unit",  "unknown-unit", "not-a-quantity", "bad-number",   "bad-opening",
      "unknown-word", "not-a-value", "not-a-block",  "not-a-list",     "bad-count",    "unknown-law",
      "empty-value",  "unknown-key", "missing-key",  "bad-hours",      "no-such-file", "syntax",
      "bad-row",      "said-twice",  "unknown-pipe", "unknown-version"};
  return codes.count(code) > 0;
}

/// What the reader says of the first test model that uses a key, once its value is the example.
std::optional<runnel::Checked<runnel::network::Model>> tried(const Id& id, const std::string& example) {
  for (const std::string& text : test_models()) {
    const auto tree = runnel::document::read(text, "model.yaml");
    if (!tree) continue;
    const Node* instead = nullptr;
    each_key(**tree.value, "", [&](const Id& found, const Node& value) {
      if (found == id && !instead) instead = &value;
    });
    if (instead) return read_model(written(**tree.value, instead, example), "m.yaml", with_side_files());
  }
  return std::nullopt;
}

}  // namespace

TEST_CASE("every key says what it means, what it takes, and what holds without it") {
  CHECK(language_keys().size() > 120);
  std::set<Id> once;
  for (const LanguageKey& key : language_keys()) {
    INFO(key.block << " " << key.key);
    CHECK(once.insert({key.block, key.key}).second);
    CHECK(key.meaning.size() > 3);
    CHECK(key.meaning.back() == '.');
    CHECK_FALSE(key.kind.empty());
    const std::string below = key.block + (key.block.empty() ? "" : " ") + key.key + ":";
    const bool inner = is_block(below) || is_block(below + " NAME:") || is_block(below + " -");
    CHECK((inner || !key.example.empty()));
  }
}

TEST_CASE("every model on the page of the language reads without a complaint") {
  const auto models = models_of_page();
  CHECK(models.size() >= 6);
  for (const std::string& model : models) {
    const auto read = read_model(model, "page.yaml");
    INFO(model << told(read.findings, "page.yaml"));
    CHECK(read);
    CHECK(read.findings.empty());
  }
}

TEST_CASE("a model with every part and every key of a pipe reads without a complaint") {
  const std::string path = folder + "words/every_part.yaml";
  const auto read = read_file(path);
  INFO(told(read.findings, path));
  CHECK(read);
  CHECK(read.findings.empty());
}

TEST_CASE("every key of the language is used in a model that is tested") {
  std::set<Id> used;
  for (const std::string& text : test_models()) {
    const auto tree = runnel::document::read(text, "model.yaml");
    if (tree) each_key(**tree.value, "", [&](const Id& id, const Node&) { used.insert(id); });
  }
  for (const LanguageKey& key : language_keys()) {
    INFO(key.block << " " << key.key);
    CHECK(used.count({key.block, key.key}) == 1);
  }
}

TEST_CASE("every example of the language reads where it is meant to stand") {
  for (const LanguageKey& key : language_keys()) {
    if (key.example.empty() || key.example.find("...") != std::string::npos) continue;
    const auto read = tried({key.block, key.key}, key.example);
    INFO(key.block << " " << key.key << ": " << key.example);
    REQUIRE(read);
    INFO(told(read->findings, "m.yaml"));
    for (const runnel::Finding& finding : read->findings) CHECK_FALSE(unreadable(finding.code));
  }
}

TEST_CASE("an example that cannot be read would be seen") {
  for (const auto& [block, key] : {Id{"boxes: NAME:", "lip"}, Id{"tanks: NAME:", "level"}}) {
    const auto read = tried({block, key}, "12 furlongs of rope");
    REQUIRE(read);
    REQUIRE_FALSE(read->findings.empty());
    CHECK(unreadable(read->findings.front().code));
  }
}
