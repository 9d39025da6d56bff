// What a lay owner reads first.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "proposal_model.h"
#include "runnel/report/review.h"
#include "runnel/review/read_rules.h"

using namespace runnel;

namespace {

int lines_with_words(const std::string& text) {
  std::istringstream in(text);
  int count = 0;
  for (std::string line; std::getline(in, line);) count += !line.empty();
  return count;
}

}  // namespace

TEST_CASE("the summary of a bad proposal fits twenty lines and agrees with the JSON") {
  std::mt19937 random(41);
  auto figures = proposal::sound(random);
  figures.valve = figures.washout = figures.screened = figures.season = false;
  figures.overflow_bore = 0.01;
  figures.cover = 0.2;
  figures.ask = 2.0;
  figures.claimed = 3.0;
  const auto drawn = proposal::model(proposal::text_of(figures));
  const auto answer = *review::review(drawn, *review::find_rule_set("stock")).value;
  const std::string text = report::review_text({drawn, answer}, {});
  INFO(text);
  CHECK(lines_with_words(text) <= 20);
  CHECK(text.find("This proposal does not hold: ") == 0);
  CHECK(text.find("more: add -v") != std::string::npos);
  const auto json = nlohmann::json::parse(report::review_json({drawn, answer}));
  CHECK(json.at("good") == false);
  std::size_t failing = 0;
  for (const auto& ruling : json.at("rulings"))
    failing += ruling.at("verdict") == "fails" && ruling.at("weight") == "must";
  for (const auto& works : json.at("works"))
    for (const auto& ruling : works.at("rulings"))
      failing += ruling.at("verdict") == "fails" && ruling.at("weight") == "must";
  const auto all = review::all_rulings(answer);
  CHECK(failing == static_cast<std::size_t>(std::count_if(all.begin(), all.end(), review::fails)));
  CHECK(failing >= 6);
}

TEST_CASE("every ruling stands in the whole review with its source") {
  std::mt19937 random(42);
  const auto drawn = proposal::model(proposal::text_of(proposal::sound(random)));
  const auto answer = *review::review(drawn, *review::find_rule_set("village")).value;
  report::TextOptions options;
  options.every_point = true;
  options.width = 2000;  // so that nothing is broken
  const std::string text = report::review_text({drawn, answer}, options);
  for (const review::Rule& rule : answer.rules.rules)
    if (review::worst_of_rule(answer.rulings, rule.id)) {
      INFO(rule.id);
      CHECK(text.find(rule.text) != std::string::npos);
      CHECK(text.find(review::source_words(rule)) != std::string::npos);
    }
}
