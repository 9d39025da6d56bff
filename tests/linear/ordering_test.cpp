// An order of elimination is a permutation, and a good one fills little.
#include "runnel/linear/ordering.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "linear/random_links.h"
#include "runnel/linear/elimination.h"

using runnel::linear::Elimination;
using runnel::linear::minimum_degree;
using Pairs = std::vector<std::pair<int, int>>;

namespace {

bool is_permutation(std::vector<int> rows, int n) {
  std::sort(rows.begin(), rows.end());
  for (int i = 0; i < n; ++i)
    if (rows[static_cast<std::size_t>(i)] != i) return false;
  return static_cast<int>(rows.size()) == n;
}

std::size_t entries(int n, const Pairs& pairs) {
  Elimination plan;
  plan.analyse(n, pairs);
  return static_cast<std::size_t>(plan.row_start.back());
}

}  // namespace

TEST_CASE("every place gets a row of its own") {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    runnel::test::Dice dice(seed);
    const int n = 1 + dice.below(300);
    CAPTURE(seed, n);
    CHECK(is_permutation(minimum_degree(n, runnel::test::random_pairs(dice, n, dice.below(n))), n));
  }
  CHECK(minimum_degree(3, {}).size() == 3);
}

TEST_CASE("a ring fills one entry for each place but three, whatever place it begins at") {
  for (int n = 3; n <= 64; ++n) {
    Pairs ring;
    for (int i = 0; i < n; ++i) ring.emplace_back(i, (i + 1) % n);
    CAPTURE(n);
    CHECK(entries(n, ring) == static_cast<std::size_t>(2 * n - 3));
  }
}

TEST_CASE("the middle of a star comes last but one") {
  Pairs star;
  for (int i = 1; i < 200; ++i) star.emplace_back(0, i);
  CHECK(minimum_degree(200, star)[0] >= 198);
}

TEST_CASE("a grid of 40 by 40 fills far less than its rows in turn would") {
  // In their own order the rows of a band of width 40 fill it: 1,600 times 40.
  CHECK(entries(1600, runnel::test::grid_pairs(40, 40)) < 1600 * 40 / 2);
}
