#include "runnel/sizing/tree_program.h"

#include <catch2/catch.hpp>

#include "runnel/proof/check_choice.h"
#include "sizing/random_tree.h"
#include "sizing/second_programme.h"
#include "sizing/series_line.h"

using namespace runnel;
using network::TreeChoice;
using sizing::TreeOutcome;

namespace {

/// Every choice there is, one after the other.
struct Enumeration {
  bool any = false;
  double cost = std::numeric_limits<double>::infinity();
};

Enumeration enumerate(const TreeChoice& tree) {
  Enumeration best;
  std::vector<std::size_t> option(tree.branches.size(), 0);
  while (true) {
    std::vector<double> head_m{tree.head_m};
    double cost = 0.0;
    bool does = true;
    for (std::size_t b = 0; b < option.size(); ++b) {
      const auto& branch = tree.branches[b];
      const auto& chosen = branch.options[option[b]];
      const double above_m = head_m[static_cast<std::size_t>(branch.above)];
      head_m.push_back(above_m - chosen.loss_m);
      does = does && above_m >= chosen.need_m && head_m.back() >= branch.floor_m;
      cost += chosen.cost;
    }
    if (does) {
      best.any = true;
      best.cost = std::min(best.cost, cost);
    }
    std::size_t b = 0;
    while (b < option.size() && ++option[b] == tree.branches[b].options.size()) option[b++] = 0;
    if (b == option.size()) return best;
  }
}

}  // namespace

TEST_CASE("the series line of six reaches gets its cheapest sizes") {
  // Figures by enumeration of all 15,625 choices, tests/sizing/series_line.h.
  SECTION("as it stands") {
    const auto answer = sizing::cheapest(support::series_line());
    REQUIRE(answer.outcome == TreeOutcome::proved);
    CHECK(answer.cost == Approx(5301.5).margin(1e-6));
    CHECK(answer.options == std::vector<int>{3, 3, 2, 1, 2, 1});
    CHECK(answer.head_m.back() == Approx(168.24176653028428).margin(1e-9));
    CHECK(proof::check(support::series_line(), answer.proof).empty());
  }
  SECTION("with the second size rated for 70 m only") {
    const auto line = support::series_line(70.0);
    const auto answer = sizing::cheapest(line);
    REQUIRE(answer.outcome == TreeOutcome::proved);
    CHECK(answer.cost == Approx(5339.0).margin(1e-6));
    CHECK(proof::check(line, answer.proof).empty());
  }
}

TEST_CASE("the cheapest choice is that of an enumeration of all, on a thousand random trees") {
  std::mt19937 chance(20261125);
  int possible = 0;
  for (int trial = 0; trial < 1000; ++trial) {
    const auto tree = support::random_tree(chance);
    const auto all = enumerate(tree);
    // Few cells as well as many: what the grid forgets must never matter.
    sizing::TreeLimits limits;
    limits.cells = trial % 2 ? 16 : 2048;
    const auto answer = sizing::cheapest(tree, limits);
    INFO("trial " << trial);
    REQUIRE(all.any == (answer.outcome == TreeOutcome::proved));
    CHECK(all.any == (answer.least_head_m <= tree.head_m));
    if (!all.any) continue;
    ++possible;
    CHECK(answer.cost == Approx(all.cost).epsilon(1e-12));
    CHECK(proof::check_options(tree, answer.options, answer.cost).empty());
    CHECK(proof::check(tree, answer.proof).empty());
  }
  CHECK(possible > 300);
  CHECK(possible < 1000);
}

TEST_CASE("the cheapest choice is that of a general mixed-integer programme, on 200 random trees") {
  std::mt19937 chance(7);
  for (int trial = 0; trial < 200; ++trial) {
    support::RandomTree of;
    of.branches = 12;
    of.sizes = 6;
    const auto tree = support::random_tree(chance, of);
    const auto answer = sizing::cheapest(tree);
    const auto second = support::second_programme(tree, true);
    INFO("trial " << trial);
    REQUIRE(second.has_value() == (answer.outcome == TreeOutcome::proved));
    // The general programme keeps its constraints to 1e-7 of their size only.
    if (second) CHECK(answer.cost == Approx(*second).epsilon(1e-7));
  }
}

TEST_CASE("a hundred lines of twelve sizes are proved") {
  std::mt19937 chance(11);
  support::RandomTree of;
  of.branches = 100;
  of.sizes = 12;
  int proved = 0;
  for (int trial = 0; trial < 5; ++trial) {
    auto tree = support::random_tree(chance, of);
    for (auto& branch : tree.branches) branch.floor_m -= 20.0;
    const auto answer = sizing::cheapest(tree);
    CHECK(answer.outcome != TreeOutcome::not_proved);
    if (answer.outcome != TreeOutcome::proved) continue;
    ++proved;
    CHECK(proof::check(tree, answer.proof).empty());
    CHECK(proof::check_options(tree, answer.options, answer.cost).empty());
  }
  CHECK(proved > 0);
}

TEST_CASE("a spoiled proof is refused") {
  const auto line = support::series_line();
  const auto answer = sizing::cheapest(line);
  REQUIRE(proof::check(line, answer.proof).empty());
  SECTION("a claim of more than is proved") {
    auto spoiled = answer.proof;
    spoiled.cost += 0.1;
    CHECK_FALSE(proof::check(line, spoiled).empty());
  }
  SECTION("every single figure that the claim stands on, raised") {
    for (std::size_t b = 0; b < answer.proof.branches.size(); ++b) {
      auto spoiled = answer.proof;
      for (auto& step : spoiled.branches[b]) step.cost += 0.1;
      INFO("branch " << b);
      CHECK_FALSE(proof::check(line, spoiled).empty());
    }
  }
  SECTION("a branch that says nothing") {
    auto spoiled = answer.proof;
    spoiled.branches[3].clear();
    CHECK_FALSE(proof::check(line, spoiled).empty());
  }
  SECTION("a line left out") {
    auto spoiled = answer.proof;
    spoiled.branches.pop_back();
    CHECK_FALSE(proof::check(line, spoiled).empty());
  }
  SECTION("costs that are no numbers") {
    auto spoiled = answer.proof;
    spoiled.branches[0][0].cost = std::nan("");
    CHECK_FALSE(proof::check(line, spoiled).empty());
  }
  SECTION("another choice") {
    auto options = answer.options;
    options[4] = 1;  // one size smaller: cheaper, and the end gets no water
    CHECK_FALSE(proof::check_options(line, options, answer.cost).empty());
    CHECK_FALSE(proof::check_options(line, answer.options, answer.cost - 1.0).empty());
  }
}

TEST_CASE("a tree that nothing can serve says what head it would need") {
  auto line = support::series_line();
  line.head_m = 160.0;
  const auto answer = sizing::cheapest(line);
  CHECK(answer.outcome == TreeOutcome::impossible);
  // With the widest pipe on every reach, the end of the first reach asks for most: 208 m and 5 m of pressure,
  // and 3.429 m lost on the way.
  CHECK(answer.least_head_m == Approx(216.429212035699705).margin(1e-9));
}

TEST_CASE("a single line without floors takes the cheapest size") {
  TreeChoice tree;
  tree.head_m = 10.0;
  tree.branches.resize(1);
  tree.branches[0].options = {{5.0, 1.0, -1e9}, {3.0, 2.0}};
  const auto answer = sizing::cheapest(tree);
  REQUIRE(answer.outcome == TreeOutcome::proved);
  CHECK(answer.options == std::vector<int>{1});
  CHECK(proof::check(tree, answer.proof).empty());
}
