// Two proposals side by side.
#include "runnel/review/against.h"

#include <catch2/catch.hpp>

#include "proposal_model.h"
#include "runnel/review/read_rules.h"

using namespace runnel::review;

TEST_CASE("two proposals are set beside one another where they differ") {
  std::mt19937 random(31);
  const auto figures = proposal::sound(random);
  auto other = figures;
  other.air_valve = false;
  other.pipe = "PE100 SDR17 63 mm";
  other.reach = 1.5 * figures.reach;
  const auto a = proposal::model(proposal::text_of(figures)), b = proposal::model(proposal::text_of(other));
  const Review first = *review(a, *find_rule_set("stock")).value,
               second = *review(b, *find_rule_set("stock")).value;
  const Comparison beside = compare({a, first}, {b, second});
  CHECK(first.good);
  CHECK_FALSE(second.good);
  const RuleBeside* air = nullptr;
  for (const RuleBeside& rule : beside.rules) {
    if (rule.rule == "air-leaves") air = &rule;
    CHECK(rule.rule != "static-pressure");  // holds in both
  }
  REQUIRE(air != nullptr);
  CHECK(air->first == nullptr);  // its high point has a valve
  REQUIRE(air->second != nullptr);
  CHECK(air->second->verdict == Verdict::fails);
  REQUIRE(beside.places.size() == 1);
  CHECK(*beside.places[0].first_m3s ==
        Approx(figures.yield * 1e-3).epsilon(1e-5));  // its text has six decimals
  CHECK(beside.second_pipe_m > 1.3 * beside.first_pipe_m);
}

TEST_CASE("a proposal beside itself differs in nothing") {
  std::mt19937 random(32);
  const auto drawn = proposal::model(proposal::text_of(proposal::sound(random)));
  const Review one = *review(drawn, *find_rule_set("stock")).value;
  const Comparison beside = compare({drawn, one}, {drawn, one});
  CHECK(beside.rules.empty());
  for (const PlaceBeside& place : beside.places) CHECK(*place.first_m3s == *place.second_m3s);
}
