// Dominant M-matrices: against Eigen's dense solver where that is good, and against exact answers where
// conductances lie so far apart that it is not.
#include "runnel/linear/dominant_lu.h"

#include <Eigen/Dense>
#include <catch2/catch.hpp>
#include <cmath>

#include "linear/random_links.h"

using namespace runnel::linear;
using runnel::test::Dice;

TEST_CASE("a dominant unsymmetric matrix is solved as the dense solver does") {
  Dice dice(71);
  for (int round = 0; round < 200; ++round) {
    const int n = 1 + dice.below(90);
    const auto pairs = runnel::test::random_pairs(dice, n, dice.below(2 * n));
    DominantLu lu;
    lu.analyse(n, pairs);
    for (int again = 0; again < 2; ++again) {  // the second time on the memory of the first
      Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(n, n);
      lu.clear();
      for (std::size_t k = 0; k < pairs.size(); ++k) {
        const auto [i, j] = pairs[k];
        const double row_i = dice.chance(0.2) ? 0.0 : dice.real(0.1, 3.0),
                     row_j = dice.chance(0.2) ? 0.0 : dice.real(0.1, 3.0);
        lu.add_coupling(k, row_i, row_j);
        dense(i, j) -= row_i, dense(j, j) += row_i;
        dense(j, i) -= row_j, dense(i, i) += row_j;
      }
      Eigen::VectorXd b(n);
      std::vector<double> x;
      for (int i = 0; i < n; ++i) {
        const double excess = dice.real(0.01, 1.0);
        lu.add_excess(i, excess);
        dense(i, i) += excess;
        x.push_back(b(i) = dice.real(-1.0, 1.0));
      }
      REQUIRE(lu.factorise(1e-30));
      lu.solve(x);
      const Eigen::VectorXd expected = dense.partialPivLu().solve(b);
      // Excesses of 0.01 beside entries of 3 on a hundred places: some 1e5 of condition.
      CHECK((Eigen::Map<Eigen::VectorXd>(x.data(), n) - expected).cwiseAbs().maxCoeff() <=
            1e-10 * (1.0 + expected.cwiseAbs().maxCoeff()));
    }
  }
}

TEST_CASE("a ring of great conductances on one tiny one loses no digits") {
  // Three places joined in a ring by conductances c; the first is tied to the ground by g. One unit put in at
  // the second leaves by the ground alone: x0 = 1 / g, and the ring divides the unit 2 to 1.
  for (const double c : {1.0, 1e8, 1e15}) {
    for (const double g : {1.0, 1e-9, 1e-18}) {
      DominantLu lu;
      lu.analyse(3, {{0, 1}, {1, 2}, {2, 0}});
      lu.clear();
      for (std::size_t k = 0; k < 3; ++k) lu.add_coupling(k, c, c);
      lu.add_excess(0, g);
      REQUIRE(lu.factorise(0.0));
      std::vector<double> x{0.0, 1.0, 0.0};
      lu.solve(x);
      CHECK(x[0] == Approx(1.0 / g).epsilon(1e-14));  // rounding of a dozen operations
      CHECK(x[1] == Approx(1.0 / g + 2.0 / (3.0 * c)).epsilon(1e-14));
      CHECK(x[2] == Approx(1.0 / g + 1.0 / (3.0 * c)).epsilon(1e-14));
    }
  }
}

TEST_CASE("a place that nothing answers for gets the least pivot") {
  DominantLu lu;
  lu.analyse(2, {{0, 1}});
  lu.clear();
  CHECK_FALSE(lu.factorise(0.0));
  lu.clear();
  REQUIRE(lu.factorise(1e-6));
  std::vector<double> x{1.0, -2.0};
  lu.solve(x);
  CHECK(x[0] == Approx(1e6));
  CHECK(x[1] == Approx(-2e6));
}
