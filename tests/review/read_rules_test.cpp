// Rule sets as text.
#include "runnel/review/read_rules.h"

#include <catch2/catch.hpp>
#include <set>

#include "runnel/base/bibliography.h"
#include "runnel/review/measure.h"

using namespace runnel::review;

namespace {

/// `code line:column` of each finding.
std::vector<std::string> places(const std::vector<runnel::Finding>& findings) {
  std::vector<std::string> out;
  for (const auto& f : findings)
    out.push_back(f.code + " " + std::to_string(f.mark.line) + ":" + std::to_string(f.mark.column));
  return out;
}

const RuleSet& stock() { return *find_rule_set("stock"); }

}  // namespace

TEST_CASE("the rule sets that come with the library are whole") {
  REQUIRE(find_rule_set("stock") != nullptr);
  REQUIRE(find_rule_set("village") != nullptr);
  std::set<std::string> used;
  for (const RuleSet& set : standard_rule_sets()) {
    CHECK(set.rules.size() >= 20);
    std::set<std::string> ids;
    for (const Rule& rule : set.rules) {
      INFO(set.name << ": " << rule.id);
      CHECK(ids.insert(rule.id).second);
      CHECK(rule.text.size() > 15);
      CHECK(find_measure(rule.measure) != nullptr);
      CHECK(rule.changed.empty());
      if (!rule.source.key.empty()) CHECK(runnel::base::find_reference(rule.source.key) != nullptr);
      // What nobody read may not fail a proposal unless the matter is beyond dispute: the velocities alone.
      if (rule.certainty == runnel::pipes::Certainty::from_memory && rule.weight == Weight::must)
        CHECK(rule.measure == "velocity");
      used.insert(rule.measure);
    }
  }
  for (const Measure& measure : measures()) {
    INFO(measure.name);
    CHECK(used.count(std::string(measure.name)) == 1);
  }
}

TEST_CASE("the 72 % rule and the least rating stand as they are in print") {
  const Rule* surge = stock().find("static-pressure-without-surge");
  REQUIRE(surge != nullptr);
  CHECK(surge->limit.si == Approx(0.72));  // [asae-s376]
  CHECK(surge->source.key == "asae-s376");
  CHECK(source_words(*surge).find("1997") != std::string::npos);
  CHECK(stock().find("plastic-rating")->limit.si ==
        Approx(80.0 * 6894.757293168362));  // 80 psi [nrcs-516-az]
}

TEST_CASE("a reader's own file tightens, relaxes with a reason, leaves out and adds") {
  const auto own = with_own_rules(
      stock(),
      "rules:\n"
      "  fastest-water: {at_most: 1 m/s}\n"
      "  cover: {at_least: -0.1 m, reason: rock at half a metre}\n"
      "  frost: {leave_out: it never freezes here}\n"
      "  slow: {measures: velocity, at_least: 0.3 m/s, text: Sand must not settle., weight: advice}\n",
      "own.yaml");
  REQUIRE(own);
  CHECK(own.value->find("fastest-water")->limit.si == Approx(1.0));
  CHECK(own.value->find("fastest-water")->changed == "tightened");
  CHECK(own.value->find("cover")->changed == "relaxed: rock at half a metre");
  CHECK(own.value->find("frost") == nullptr);
  REQUIRE(own.value->find("slow") != nullptr);
  CHECK(own.value->find("slow")->changed == "added");
  CHECK(own.value->find("slow")->weight == Weight::advice);
  CHECK(own.value->find("washouts")->limit.si == stock().find("washouts")->limit.si);
}

TEST_CASE("a rule is left out or relaxed only for a reason of more than a word") {
  const auto refused = [](const std::string& text) {
    const auto read = with_own_rules(stock(), text, "own.yaml");
    return !read && read.findings.front().code == "relaxed-without-reason";
  };
  CHECK(refused("rules:\n  frost: {leave_out: yes}\n"));
  CHECK(refused("rules:\n  frost: {leave_out: ok }\n"));
  CHECK(refused("rules:\n  cover: {at_least: -1 m, reason: ok}\n"));
  CHECK(refused("rules:\n  cover: {at_most: 9 m}\n"));
  const auto own =
      with_own_rules(stock(), "rules:\n  frost: {leave_out: it never freezes here}\n", "own.yaml");
  REQUIRE(own);
  REQUIRE(own.value->left_out.size() == 1);
  CHECK(own.value->left_out[0].id == "frost");
  CHECK(own.value->left_out[0].reason == "it never freezes here");
}

TEST_CASE("rules of works belong to every set, and are no set of their own") {
  for (const RuleSet& set : standard_rule_sets())
    for (const char* id : {"overflow-capacity", "box-vent", "filter-retention", "distance-latrine"}) {
      INFO(set.name << " " << id);
      CHECK(set.find(id) != nullptr);
    }
  CHECK(find_rule_set("works") == nullptr);
}

TEST_CASE("distances stand as they are in print") {
  CHECK(stock().find("clear-uphill")->limit.si == Approx(200.0 * 0.3048));    // [wisconsin-nr-812]
  CHECK(stock().find("clear-sideways")->limit.si == Approx(100.0 * 0.3048));  // [wisconsin-nr-812]
  CHECK(stock().find("clear-downhill")->limit.si == Approx(50.0 * 0.3048));   // [ohio-3701-28-13]
  CHECK(stock().find("ditch-outfall")->limit.si == Approx(25.0 * 0.3048));    // [ohio-3701-28-13]
  CHECK(stock().find("distance-sewer")->limit.si == Approx(50.0 * 0.3048));   // [utah-r309-600]
  CHECK(stock().find("distance-manure")->limit.si == 50.0);                   // [uk-dwi-springs]
  CHECK(stock().find("distance-stock")->limit.si == 50.0);                    // [uk-dwi-springs]
  CHECK(stock().find("distance-latrine")->limit.si == 30.0);                  // [green-roads-water]
  CHECK(stock().find("fence")->limit.si == 10.0);                             // [green-roads-water]
}

TEST_CASE("what is wrong in a file of rules is told with its place") {
  const auto told = [](const std::string& text) {
    const auto read = with_own_rules(stock(), text, "own.yaml");
    CHECK_FALSE(read);
    return places(read.findings);
  };
  using Places = std::vector<std::string>;
  CHECK(told("rules:\n  fastest-water: {at_most: 4 m/s}\n") == Places{"relaxed-without-reason 2:3"});
  CHECK(told("rules:\n  fastest-water: {weight: advice, at_most: 5 ft/s}\n") ==
        Places{"relaxed-without-reason 2:3"});
  CHECK(told("rules:\n  fastest-water: {at_most: 4}\n") == Places{"missing-unit 2:28"});
  CHECK(told("rules:\n  fastest-water: {at_most: 1 m/s, at_least: 0 m/s}\n") ==
        Places{"rule-two-limits 2:45"});
  CHECK(told("rules:\n  fastest-water: {}\n") == Places{"missing-key 2:18"});
  CHECK(told("rules:\n  mine: {measures: velocety, at_most: 1 m/s, text: A sentence.}\n") ==
        Places{"rule-measures-nothing 2:20"});
  CHECK(told("rules:\n  mine: {leave_out: no need}\n").front().rfind("missing-key", 0) == 0);
  CHECK(told("rules:\n  fastest-water: {at_mst: 1 m/s, at_most: 1 m/s}\n") == Places{"unknown-key 2:19"});
  CHECK(told("rulez: {}\n") == Places{"missing-key 1:1", "unknown-key 1:1"});
}
