// Both sparse factorisations against Eigen's dense one, on the same random matrices.
#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include "linear/random_links.h"
#include "runnel/linear/ldl.h"
#include "runnel/linear/multifrontal.h"

using namespace runnel::linear;
using runnel::test::Dice;
using Pairs = std::vector<std::pair<int, int>>;

namespace {

/// Sets new values on the analysed pattern, solves, and gives the worst difference from the dense solution.
template <class Method>
double worst_difference(Method& method, Dice& dice, int n, const Pairs& pairs) {
  Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(n, n);
  method.clear();
  for (std::size_t k = 0; k < pairs.size(); ++k) {
    const auto [i, j] = pairs[k];
    const double value = std::exp(dice.real(-4.0, 4.0));
    method.add_coupling(k, -value);
    dense(i, j) -= value, dense(j, i) -= value;
    dense(i, i) += value, dense(j, j) += value;
    method.add_diagonal(i, value), method.add_diagonal(j, value);
  }
  for (int i = 0; i < n; ++i) {
    const double value = dice.real(0.1, 2.0);
    dense(i, i) += value;
    method.add_diagonal(i, value);
  }
  std::vector<double> b(static_cast<std::size_t>(n));
  for (double& value : b) value = dice.real(-1.0, 1.0);
  const Eigen::VectorXd expected = dense.ldlt().solve(Eigen::Map<Eigen::VectorXd>(b.data(), n));
  REQUIRE(method.factorise());
  method.solve(b);
  return (Eigen::Map<Eigen::VectorXd>(b.data(), n) - expected).cwiseAbs().maxCoeff();
}

}  // namespace

TEMPLATE_TEST_CASE("random matrices are solved as the dense method does", "", Ldl, Multifrontal) {
  double worst = 0.0;
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    Dice dice(seed);
    const int n = 1 + dice.below(seed % 10 == 0 ? 300 : 70);  // 64 and fewer are ordered by another method
    const Pairs pairs = runnel::test::random_pairs(dice, n, dice.below(2 * n));
    TestType method;
    method.analyse(n, pairs);
    for (int again = 0; again < 3; ++again) worst = std::max(worst, worst_difference(method, dice, n, pairs));
  }
  CHECK(worst * 1e11 < 1.0);  // condition up to 1e5 times a rounding of 1.1e-16
}

TEMPLATE_TEST_CASE("grids, stars, cliques, lone places and repeated pairs are solved", "", Ldl, Multifrontal) {
  Dice dice(5);
  Pairs star, clique, twice = runnel::test::grid_pairs(6, 5);
  for (int v = 1; v < 100; ++v) star.emplace_back(v, 0);
  for (int i = 0; i < 40; ++i)
    for (int j = 0; j < i; ++j) clique.emplace_back(i, j);
  const Pairs once = twice;
  for (auto [i, j] : once) twice.emplace_back(j, i);
  const std::vector<std::pair<int, Pairs>> cases = {
      {900, runnel::test::grid_pairs(30, 30)}, {100, star}, {40, clique}, {45, clique}, {30, twice}, {5, {}}, {1, {}}};
  for (const auto& [n, pairs] : cases) {
    TestType method;
    method.analyse(n, pairs);
    CHECK(worst_difference(method, dice, n, pairs) * 1e11 < 1.0);  // as above
  }
}

TEMPLATE_TEST_CASE("a matrix that is not positive definite is refused, and the next one is solved", "", Ldl, Multifrontal) {
  Dice dice(9);
  const int n = 80;
  const Pairs pairs = runnel::test::random_pairs(dice, n, 60);
  TestType method;
  method.analyse(n, pairs);
  for (const double bad : {-1.0, 0.0, std::numeric_limits<double>::quiet_NaN()}) {
    method.clear();
    for (int i = 0; i < n; ++i) method.add_diagonal(i, i == 40 ? bad : 1.0);
    CHECK_FALSE(method.factorise());
    CHECK(worst_difference(method, dice, n, pairs) * 1e11 < 1.0);  // as above
  }
}

TEST_CASE("both methods agree on a large grid") {
  const int n = 60 * 60;
  const Pairs pairs = runnel::test::grid_pairs(60, 60);
  Ldl ldl;
  Multifrontal multifrontal;
  ldl.analyse(n, pairs), multifrontal.analyse(n, pairs);
  ldl.clear(), multifrontal.clear();
  Dice dice(3);
  for (std::size_t k = 0; k < pairs.size(); ++k) {
    const double value = std::exp(dice.real(-8.0, 8.0));
    ldl.add_coupling(k, -value), multifrontal.add_coupling(k, -value);
    for (int end : {pairs[k].first, pairs[k].second}) ldl.add_diagonal(end, value), multifrontal.add_diagonal(end, value);
  }
  std::vector<double> x(static_cast<std::size_t>(n));
  for (int i = 0; i < n; ++i) ldl.add_diagonal(i, 1e-3), multifrontal.add_diagonal(i, 1e-3);
  for (double& value : x) value = dice.real(0.0, 1.0);
  std::vector<double> y = x;
  REQUIRE(ldl.factorise());
  REQUIRE(multifrontal.factorise());
  ldl.solve(x), multifrontal.solve(y);
  double worst = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) worst = std::max(worst, std::abs(x[i] / y[i] - 1.0));
  CHECK(worst * 1e8 < 1.0);  // condition about 1e7 times a rounding of 1.1e-16, and some
}
