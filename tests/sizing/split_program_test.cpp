#include "runnel/sizing/split_program.h"

#include <catch2/catch.hpp>

#include "runnel/proof/check_choice.h"
#include "runnel/sizing/tree_program.h"
#include "sizing/random_tree.h"
#include "sizing/second_programme.h"
#include "sizing/series_line.h"

using namespace runnel;

TEST_CASE("the series line may change size within a reach") {
  const auto line = support::series_line();
  const auto answer = sizing::cheapest_split(line);
  REQUIRE(answer.found);
  // By a general simplex program and an interior-point one.
  CHECK(answer.cost == Approx(5163.252511325082).margin(1e-6));
  CHECK(480.0 * answer.shares[4][1] == Approx(444.3299848998896).margin(1e-6));
  CHECK(480.0 * answer.shares[4][2] == Approx(35.67001510011016).margin(1e-6));
  CHECK(proof::check_shares(line, answer.shares, answer.cost).empty());
  CHECK(proof::check(line, answer.proof).empty());
  CHECK(answer.proof.cost == Approx(answer.cost).epsilon(1e-9));
}

TEST_CASE("splits are never dearer than whole lines and agree with a second program") {
  std::mt19937 chance(3);
  int found = 0;
  for (int trial = 0; trial < 200; ++trial) {
    support::RandomTree of;
    of.branches = 12;
    of.crest_chance = 0.0;
    const auto tree = support::random_tree(chance, of);
    const auto split = sizing::cheapest_split(tree);
    const auto whole = sizing::cheapest(tree);
    const auto second = support::second_programme(tree, false);
    INFO("trial " << trial);
    REQUIRE(split.found == (whole.outcome == sizing::TreeOutcome::proved));
    REQUIRE(split.found == second.has_value());
    if (!split.found) continue;
    ++found;
    CHECK(split.cost == Approx(*second).epsilon(1e-8));  // what both programs keep their constraints to
    CHECK(split.cost <= whole.cost * (1.0 + 1e-9));
    CHECK(proof::check_shares(tree, split.shares, split.cost).empty());
    CHECK(proof::check(tree, split.proof).empty());
    CHECK(split.proof.cost == Approx(split.cost).epsilon(1e-8));
  }
  CHECK(found > 50);
}

TEST_CASE("a spoiled proof of a split is refused") {
  const auto line = support::series_line();
  const auto answer = sizing::cheapest_split(line);
  REQUIRE(proof::check(line, answer.proof).empty());
  auto spoiled = answer.proof;
  SECTION("a claim of more than is proved") { spoiled.cost += 0.1; }
  SECTION("a price below zero") { spoiled.price_per_m[0] = -1.0; }
  SECTION("head sold dearer than it was bought") { spoiled.price_per_m[5] += 10.0; }
  SECTION("prices of nothing at all") {
    for (double& price : spoiled.price_per_m) price = 0.0;
  }
  CHECK_FALSE(proof::check(line, spoiled).empty());
}
