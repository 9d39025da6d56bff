// The factorisation of a large system on grids, whose eigenvectors are known in closed form, and on a tree of
// dense blocks. Random matrices against the dense method are in factor_test.cpp.
#include "runnel/linear/multifrontal.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "linear/random_links.h"

using runnel::linear::Multifrontal;
using runnel::test::Dice;
using Pairs = std::vector<std::pair<int, int>>;

namespace {

constexpr double pi = 3.14159265358979323846;
std::size_t at(int i) { return static_cast<std::size_t>(i); }

void fill_grid(Multifrontal& method, const Pairs& pairs, int places) {
  method.clear();
  for (std::size_t k = 0; k < pairs.size(); ++k) method.add_coupling(k, -1.0);
  for (int i = 0; i < places; ++i) method.add_diagonal(i, 4.0);
}

}  // namespace

TEST_CASE("on a grid whose rim is joined to the ground every wave is only made smaller") {
  // sin(p pi x / (w + 1)) sin(q pi y / (h + 1)) is an eigenvector of the matrix with 4 on the diagonal and -1
  // between neighbours, of the value 4 - 2 cos(p pi / (w + 1)) - 2 cos(q pi / (h + 1)).
  for (const auto& [width, height] : {std::pair{1, 1}, {1, 50}, {37, 41}, {60, 8}}) {
    const int n = width * height;
    const Pairs pairs = runnel::test::grid_pairs(width, height);
    Multifrontal method;
    method.analyse(n, pairs);
    fill_grid(method, pairs, n);
    REQUIRE(method.factorise());
    for (const auto& [p, q] : {std::pair{1, 1}, {2, 5}, {width, height}, {(width + 1) / 2, 1}}) {
      std::vector<double> wave(at(n)), b;
      for (int v = 0; v < n; ++v)
        wave[at(v)] = std::sin(p * pi * (v % width + 1) / (width + 1)) *
                      std::sin(q * pi * (v / width + 1) / (height + 1));
      const double value = 4.0 - 2.0 * std::cos(p * pi / (width + 1)) - 2.0 * std::cos(q * pi / (height + 1));
      b = wave;
      method.solve(b);
      double worst = 0.0;
      for (int v = 0; v < n; ++v) worst = std::max(worst, std::abs(b[at(v)] * value - wave[at(v)]));
      CAPTURE(width, height, p, q);
      CHECK(worst < 1e-11);  // a condition of up to 700 on 1,517 places, rounding 1.1e-16
    }
  }
}

TEST_CASE("dense blocks that hang on one middle are solved to what was put in") {
  // Blocks of twelve, each joined through and through and to the middle three: tall fronts handed up to one
  // parent.
  constexpr int blocks = 15, size = 12, middle = 3, n = blocks * size + middle;
  Pairs pairs;
  const auto member = [](int block, int i) { return middle + block * size + i; };
  for (int b = 0; b < blocks; ++b)
    for (int i = 0; i < size; ++i) {
      for (int j = 0; j < i; ++j) pairs.emplace_back(member(b, i), member(b, j));
      for (int m = 0; m < middle; ++m) pairs.emplace_back(m, member(b, i));
    }
  Dice dice(8);
  std::vector<double> diagonal(at(n), 1.0), coupling, x(at(n));
  for (const auto& [i, j] : pairs) {
    coupling.push_back(dice.below(19) - 9);  // of either sign
    diagonal[at(i)] += std::abs(coupling.back()), diagonal[at(j)] += std::abs(coupling.back());
  }
  for (double& value : x) value = dice.below(201) - 100;
  std::vector<double> b(at(n));
  for (int v = 0; v < n; ++v) b[at(v)] = diagonal[at(v)] * x[at(v)];
  for (std::size_t k = 0; k < pairs.size(); ++k) {
    const auto [i, j] = pairs[k];
    b[at(i)] += coupling[k] * x[at(j)], b[at(j)] += coupling[k] * x[at(i)];
  }
  Multifrontal method;
  method.analyse(n, pairs);
  for (int again = 0; again < 2; ++again) {  // the second time over the factor of the first
    method.clear();
    for (int v = 0; v < n; ++v) method.add_diagonal(v, diagonal[at(v)]);
    for (std::size_t k = 0; k < pairs.size(); ++k) method.add_coupling(k, coupling[k]);
    REQUIRE(method.factorise());
    std::vector<double> solved = b;
    method.solve(solved);
    double worst = 0.0;
    for (int v = 0; v < n; ++v) worst = std::max(worst, std::abs(solved[at(v)] - x[at(v)]));
    CHECK(worst < 1e-9);  // diagonals up to some 1,700 over a least excess of 1, times x of 100 and a
                          // rounding of 1.1e-16
  }
}

TEST_CASE(
    "a part of a large system that is not definite spoils the whole, and only until it is filled anew") {
  constexpr int width = 20, n = 2 * width * width;  // two grids that know nothing of each other
  Pairs pairs = runnel::test::grid_pairs(width, width);
  const std::size_t one = pairs.size();
  for (std::size_t k = 0; k < one; ++k) pairs.emplace_back(pairs[k].first + n / 2, pairs[k].second + n / 2);
  Multifrontal method;
  method.analyse(n, pairs);
  fill_grid(method, pairs, n);
  // The least value of a grid of 20 by 20 is 4 - 4 cos(pi / 21) = 0.0447: taken off everywhere it leaves
  // nothing.
  for (int v = n / 2; v < n; ++v) method.add_diagonal(v, -0.05);
  CHECK_FALSE(method.factorise());
  fill_grid(method, pairs, n);
  for (int v = n / 2; v < n; ++v) method.add_diagonal(v, -0.04);
  CHECK(method.factorise());
}
