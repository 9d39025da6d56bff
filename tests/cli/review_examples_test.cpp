// What a lay owner reads of every example: few lines, one verdict, and an exit code that says the same.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>

#include "support/examples.h"
#include "support/run_runnel.h"

namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

std::vector<std::string> examples() {
  std::vector<std::string> all;
  for (const fs::path& folder : support::examples()) all.push_back((folder / "model.yaml").string());
  return all;
}

int lines_with_words(const std::string& text) {
  std::istringstream in(text);
  int count = 0;
  for (std::string line; std::getline(in, line);) count += line.find_first_not_of(' ') != std::string::npos;
  return count;
}

/// Something that must hold and fails, under whatever setting.
bool anything_fails(const Json& json) {
  const auto must_fail = [](const Json& rulings) {
    return std::any_of(rulings.begin(), rulings.end(), [](const Json& one) {
      return one.at("verdict") == "fails" && one.at("weight") == "must";
    });
  };
  const auto& works = json.at("works");
  const auto& claims = json.at("claims");
  const auto& findings = json.at("findings");
  return must_fail(json.at("rulings")) ||
         std::any_of(works.begin(), works.end(),
                     [&](const Json& one) { return must_fail(one.at("rulings")); }) ||
         std::any_of(claims.begin(), claims.end(),
                     [](const Json& one) { return one.at("verdict") == "fails"; }) ||
         std::any_of(findings.begin(), findings.end(),
                     [](const Json& one) { return one.at("severity") == "error"; });
}

}  // namespace

TEST_CASE("the review of every example fits twenty lines and exits by what it finds") {
  int failing = 0, sound = 0;
  for (const std::string& model : examples())
    for (const char* rules : {"stock", "village"}) {
      INFO(model << " for " << rules);
      const support::Ran text = support::run_runnel("review " + model + " --for " + rules);
      INFO(text.out);
      CHECK(lines_with_words(text.out) <= 20);
      CHECK(text.out.find("Local codes and a licensed engineer") != std::string::npos);
      const support::Ran programs = support::run_runnel("review " + model + " --for " + rules + " --json");
      const Json json = Json::parse(programs.out, nullptr, false);
      REQUIRE_FALSE(json.is_discarded());
      const bool bad = anything_fails(json), open = !json.at("open").empty();
      CHECK(text.exit == (bad || open ? 1 : 0));
      CHECK(programs.exit == text.exit);
      CHECK(json.at("good") == (!bad && !open));
      CHECK((text.out.rfind("This proposal does not hold", 0) == 0) == bad);
      CHECK((text.out.rfind("It cannot be said", 0) == 0) == (!bad && open));
      ++(bad || open ? failing : sound);
    }
  CHECK(failing >= 4);
  CHECK(sound >= 4);
}

TEST_CASE("every ruling of every example has a figure or what is missing, a limit and a source") {
  int seen = 0;
  for (const std::string& model : examples()) {
    const Json json = Json::parse(support::run_runnel("review " + model + " --json").out, nullptr, false);
    REQUIRE_FALSE(json.is_discarded());
    std::vector<Json> all(json.at("rulings").begin(), json.at("rulings").end());
    for (const Json& works : json.at("works"))
      all.insert(all.end(), works.at("rulings").begin(), works.at("rulings").end());
    for (const Json& one : all) {
      INFO(model << " " << one.dump());
      const bool judged = one.at("verdict") != "cannot be judged";
      CHECK(one.at("figure").is_object() == judged);
      CHECK(one.contains("missing") == !judged);
      if (judged) {
        CHECK(one.at("limit").is_object());
        CHECK(one.at("margin").is_number());
      }
      CHECK(one.at("source").get<std::string>().size() > 5);
      ++seen;
    }
  }
  CHECK(seen > 300);
}
