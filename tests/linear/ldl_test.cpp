// The factorisation of a small system against matrices whose inverse is known in closed form, and the laws of
// its filling in. Random matrices against the dense method are in factor_test.cpp.
#include "runnel/linear/ldl.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>

#include "linear/random_links.h"

using runnel::linear::Ldl;
using runnel::test::Dice;
using Pairs = std::vector<std::pair<int, int>>;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Places 0..n-1 in a row, unit conductances between them and from both ends to the ground, numbered as
/// `name` says.
Ldl chain(int n, const std::vector<int>& name) {
  Pairs pairs;
  for (int i = 0; i + 1 < n; ++i) pairs.emplace_back(name[at(i)], name[at(i + 1)]);
  Ldl ldl;
  ldl.analyse(n, pairs);
  ldl.clear();
  for (int i = 0; i < n; ++i) ldl.add_diagonal(i, 2.0);
  for (std::size_t k = 0; k < pairs.size(); ++k) ldl.add_coupling(k, -1.0);
  return ldl;
}

std::vector<int> shuffled(Dice& dice, int n) {
  std::vector<int> name(at(n));
  for (int i = 0; i < n; ++i) name[at(i)] = i;
  for (int i = n - 1; i > 0; --i) std::swap(name[at(i)], name[at(dice.below(i + 1))]);
  return name;
}

}  // namespace

TEST_CASE("what is put into one place of a chain falls in a straight line to both ends") {
  Dice dice(4);
  for (const int n : {1, 2, 3, 10, 64, 65, 200}) {  // 64 and fewer are ordered by another method
    const std::vector<int> name = shuffled(dice, n);
    Ldl ldl = chain(n, name);
    REQUIRE(ldl.size() == n);
    REQUIRE(ldl.factorise());
    double worst = 0.0;
    for (int put = 0; put < n; ++put) {  // every column of the inverse, from one factor
      std::vector<double> b(at(n), 0.0);
      b[at(name[at(put)])] = 1.0;
      ldl.solve(b);
      for (int i = 0; i < n; ++i) {
        const double expected = (std::min(i, put) + 1.0) * (n - std::max(i, put)) / (n + 1.0);
        worst = std::max(worst, std::abs(b[at(name[at(i)])] / expected - 1.0));
      }
    }
    CAPTURE(n);
    CHECK(worst < 1e-11);  // a condition of up to n squared times a rounding of 1.1e-16
  }
}

TEST_CASE("couplings may have either sign") {
  // [[4, 2, 0], [2, 5, -2], [0, -2, 6]] times (1, 2, 3) is (8, 6, 14).
  Ldl ldl;
  ldl.analyse(3, {{1, 0}, {1, 2}});
  ldl.clear();
  for (const auto& [i, value] : {std::pair{0, 4.0}, {1, 5.0}, {2, 6.0}}) ldl.add_diagonal(i, value);
  ldl.add_coupling(0, 2.0), ldl.add_coupling(1, -2.0);
  REQUIRE(ldl.factorise());
  std::vector<double> b{8.0, 6.0, 14.0};
  ldl.solve(b);
  for (int i = 0; i < 3; ++i) CHECK(b[at(i)] == Approx(i + 1.0).epsilon(1e-14));
}

TEST_CASE(
    "entries of one place and of one pair add up, whichever end is named first, and clearing forgets them") {
  Ldl once, often;
  once.analyse(2, {{0, 1}});
  often.analyse(2, {{0, 1}, {1, 0}, {0, 1}});
  once.clear(), often.clear();
  for (const double junk : {77.0, -3.0}) often.add_diagonal(0, junk), often.add_coupling(1, junk);
  often.clear();
  once.add_diagonal(0, 4.0), once.add_diagonal(1, 9.0), once.add_coupling(0, -5.0);
  often.add_diagonal(0, 1.5), often.add_diagonal(0, 2.5), often.add_diagonal(1, 9.0);
  often.add_coupling(0, -1.0), often.add_coupling(1, -2.5), often.add_coupling(2, -1.5);
  REQUIRE(once.factorise());
  REQUIRE(often.factorise());
  std::vector<double> x{1.0, 2.0}, y = x;
  once.solve(x), often.solve(y);
  CHECK(x == y);                                      // the very same sums
  CHECK(x[0] == Approx(19.0 / 11.0).epsilon(1e-14));  // (9 + 5 * 2) / (4 * 9 - 5 * 5)
}

TEST_CASE("the smallest step from definite to not is seen") {
  const auto factorises = [](double coupling) {
    Ldl ldl;
    ldl.analyse(2, {{0, 1}});
    ldl.clear();
    ldl.add_diagonal(0, 1.0), ldl.add_diagonal(1, 1.0);
    ldl.add_coupling(0, coupling);
    return ldl.factorise();
  };
  const double just_below = std::nextafter(1.0, 0.0), just_above = std::nextafter(1.0, 2.0);
  for (const double sign : {1.0, -1.0}) {
    CHECK(factorises(sign * just_below));
    CHECK_FALSE(factorises(sign));
    CHECK_FALSE(factorises(sign * just_above));
    CHECK_FALSE(factorises(sign * std::numeric_limits<double>::infinity()));
  }
}

TEST_CASE("no place at all is solved") {
  Ldl ldl;
  ldl.analyse(0, {});
  ldl.clear();
  REQUIRE(ldl.factorise());
  std::vector<double> nothing;
  ldl.solve(nothing);
  CHECK(nothing.empty());
  CHECK(ldl.size() == 0);
}

TEST_CASE("a factorisation may be analysed anew for another pattern") {
  Dice dice(6);
  Ldl ldl = chain(90, shuffled(dice, 90));
  REQUIRE(ldl.factorise());
  ldl.analyse(2, {{0, 1}});
  CHECK(ldl.size() == 2);
  ldl.clear();
  ldl.add_diagonal(0, 2.0), ldl.add_diagonal(1, 2.0), ldl.add_coupling(0, -1.0);
  REQUIRE(ldl.factorise());
  std::vector<double> b{3.0, 0.0};
  ldl.solve(b);
  CHECK(b[0] == Approx(2.0).epsilon(1e-15));
  CHECK(b[1] == Approx(1.0).epsilon(1e-15));
}
