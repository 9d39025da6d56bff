// Which entries elimination brings about, against eliminating a full pattern place by place.
#include "runnel/linear/elimination.h"

#include <catch2/catch.hpp>
#include <set>

#include "linear/random_links.h"
#include "runnel/linear/ordering.h"

using runnel::linear::Elimination;
using Pairs = std::vector<std::pair<int, int>>;

namespace {

/// Entries (row, column) of L, row > column, in the order of elimination.
std::set<std::pair<int, int>> filled(const Elimination& plan, const Pairs& pairs) {
  const auto n = static_cast<std::size_t>(plan.places);
  std::vector<std::set<int>> below(n);
  for (const auto& [a, b] : pairs) {
    const auto i = static_cast<int>(plan.position_of[static_cast<std::size_t>(a)]);
    const auto j = static_cast<int>(plan.position_of[static_cast<std::size_t>(b)]);
    below[static_cast<std::size_t>(std::min(i, j))].insert(std::max(i, j));
  }
  std::set<std::pair<int, int>> entries;
  for (std::size_t k = 0; k < n; ++k) {
    for (const int i : below[k]) {
      entries.emplace(i, static_cast<int>(k));
      for (const int j : below[k])
        if (j > i) below[static_cast<std::size_t>(i)].insert(j);
    }
  }
  return entries;
}

}  // namespace

TEST_CASE("the pattern of the factor is that of eliminating place by place") {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    runnel::test::Dice dice(seed);
    const int n = 1 + dice.below(40);
    const Pairs pairs = runnel::test::random_pairs(dice, n, dice.below(30));
    Elimination plan;
    plan.analyse(n, pairs);
    const auto expected = filled(plan, pairs);
    std::set<std::pair<int, int>> by_row, by_column;
    for (int r = 0; r < n; ++r)
      for (int p = plan.row_start[static_cast<std::size_t>(r)];
           p < plan.row_start[static_cast<std::size_t>(r) + 1]; ++p)
        by_row.emplace(r, plan.row_pattern[static_cast<std::size_t>(p)]);
    for (int c = 0; c < n; ++c)
      for (int p = plan.col_start[static_cast<std::size_t>(c)];
           p < plan.col_start[static_cast<std::size_t>(c) + 1]; ++p)
        by_column.emplace(plan.col_row[static_cast<std::size_t>(p)], c);
    CAPTURE(seed, n);
    CHECK(by_row == expected);
    CHECK(by_column == expected);
  }
}

TEST_CASE("pairs that repeat share one slot") {
  Elimination plan;
  plan.analyse(3, {{0, 1}, {1, 2}, {1, 0}, {0, 1}});
  CHECK(plan.slot_of[0] == plan.slot_of[2]);
  CHECK(plan.slot_of[0] == plan.slot_of[3]);
  CHECK(plan.slot_of[0] != plan.slot_of[1]);
  CHECK(plan.upper_row.size() == 2);
}
