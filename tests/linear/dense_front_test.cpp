// The dense work on one block of columns, on matrices whose factors are whole numbers: every sum is exact, so
// the answer must be, at whatever vector width the machine has.
#include "runnel/linear/dense_front.h"

#include <catch2/catch.hpp>
#include <limits>
#include <vector>

#include "linear/random_links.h"

using runnel::linear::factorise_front;
using runnel::test::Dice;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Entries above the diagonal and update entries above theirs are nobody's: they must stay as they were.
constexpr double untouched = -12345.0;

struct Front {
  int height = 0, pivots = 0;
  std::vector<double> factor, columns, update, left;  ///< left: what must remain of the update
  double& entry(std::vector<double>& all, int row, int column) const {
    return all[at(column) * at(height) + at(row)];
  }
};

/// Whole numbers below the diagonal, powers of two on it: L, then L L^T by the plain triple sum.
Front whole_front(Dice& dice, int height, int pivots) {
  Front f;
  f.height = height, f.pivots = pivots;
  f.factor.assign(at(height) * at(pivots), untouched);
  f.columns = f.factor;
  for (int j = 0; j < pivots; ++j)
    for (int i = j; i < height; ++i)
      f.entry(f.factor, i, j) = i == j ? std::ldexp(1.0, dice.below(4) - 1) : dice.below(9) - 4;
  const auto product = [&](int i, int j) {
    double sum = 0.0;
    for (int k = 0; k <= std::min(j, pivots - 1); ++k)
      sum += f.entry(f.factor, i, k) * f.entry(f.factor, j, k);
    return sum;
  };
  for (int j = 0; j < pivots; ++j)
    for (int i = j; i < height; ++i) f.entry(f.columns, i, j) = product(i, j);
  const int below = height - pivots;
  f.update.assign(at(below) * at(below), untouched);
  f.left = f.update;
  for (int j = 0; j < below; ++j)
    for (int i = j; i < below; ++i) {
      double& was = f.update[at(j) * at(below) + at(i)];
      was = dice.below(2001) - 1000;
      f.left[at(j) * at(below) + at(i)] = was - product(pivots + i, pivots + j);
    }
  return f;
}

}  // namespace

TEST_CASE("a block of columns is factorised and taken off the rest to the last digit") {
  Dice dice(1);
  // Columns are taken four at a time and rows as many as fit a vector: every remainder of both.
  for (int pivots = 0; pivots <= 13; ++pivots)
    for (int below = 0; below <= 19; ++below) {
      CAPTURE(pivots, below);
      Front f = whole_front(dice, pivots + below, pivots);
      REQUIRE(factorise_front(f.height, pivots, f.columns.data(), f.update.data()));
      CHECK(f.columns == f.factor);
      CHECK(f.update == f.left);
    }
}

TEST_CASE("a tall block is as exact as a small one") {
  Dice dice(2);
  Front f = whole_front(dice, 203, 61);
  REQUIRE(factorise_front(f.height, f.pivots, f.columns.data(), f.update.data()));
  CHECK(f.columns == f.factor);
  CHECK(f.update == f.left);
}

TEST_CASE("a pivot that is not positive or no number is refused wherever it stands") {
  Dice dice(3);
  const double infinite = std::numeric_limits<double>::infinity();
  for (int bad = 0; bad < 6; ++bad)
    for (const double off : {0.0, -1.0, infinite, std::numeric_limits<double>::quiet_NaN()}) {
      CAPTURE(bad, off);
      Front f = whole_front(dice, 9, 6);
      // Less the square of its own factor the pivot is nothing; what is added to that is what the
      // factorisation meets.
      const double own = f.entry(f.factor, bad, bad);
      f.entry(f.columns, bad, bad) += off - own * own;
      CHECK_FALSE(factorise_front(f.height, f.pivots, f.columns.data(), f.update.data()));
    }
}

TEST_CASE("a least positive pivot is enough") {
  double pivot = std::numeric_limits<double>::min(), update = 0.0;
  REQUIRE(factorise_front(1, 1, &pivot, &update));
  CHECK(pivot == std::ldexp(1.0, -511));  // the root of 2^-1022
}
