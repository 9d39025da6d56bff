// The linear system of a Newton step against the dense matrix written down from its definition in
// node_system.h.
#include "runnel/linear/node_system.h"

#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include "linear/random_links.h"

using namespace runnel::linear;
using runnel::test::Dice;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct Case {
  int places = 0;
  std::vector<Ends> links;
  std::vector<double> alpha, beta, ground, rhs, x;
  std::vector<char> pinned;
};

enum class Kind { full, one_sided, pinned };

Case random_case(Dice& dice, int places, int loops, Kind kind) {
  Case c;
  c.places = places;
  for (auto [a, b] : runnel::test::random_pairs(dice, places, loops)) c.links.push_back({a, b});
  for (int k = 1 + dice.below(4); k > 0; --k)  // to fixed heads, at either end
    c.links.push_back(dice.chance(0.5) ? Ends{dice.below(places), -1} : Ends{-1, dice.below(places)});
  c.links.push_back({-1, -1});
  for (std::size_t k = 0; k < c.links.size(); ++k) {
    c.alpha.push_back(std::exp(dice.real(-3.0, 3.0)));
    c.beta.push_back(c.alpha.back());
    if (kind == Kind::one_sided && dice.chance(0.3)) (dice.chance(0.5) ? c.alpha : c.beta).back() = 0.0;
  }
  for (int v = 0; v < places; ++v) {
    c.ground.push_back(kind == Kind::one_sided ? dice.real(0.01, 1.0)
                       : dice.chance(0.3)      ? dice.real(0.0, 1.0)
                                               : 0.0);
    c.rhs.push_back(dice.real(-1.0, 1.0));
    c.pinned.push_back(kind != Kind::full && dice.chance(0.2));
    c.x.push_back(c.pinned.back() ? dice.real(-5.0, 5.0) : 0.0);
  }
  return c;
}

Eigen::VectorXd dense_solution(const Case& c) {
  Eigen::MatrixXd m = Eigen::MatrixXd::Zero(c.places, c.places);
  Eigen::VectorXd b(c.places);
  for (int v = 0; v < c.places; ++v) m(v, v) = c.ground[at(v)], b(v) = c.rhs[at(v)];
  for (std::size_t k = 0; k < c.links.size(); ++k) {
    const auto [a, e] = c.links[k];
    if (a >= 0) m(a, a) += c.alpha[k];
    if (e >= 0) m(e, e) += c.beta[k];
    if (a >= 0 && e >= 0) m(a, e) -= c.beta[k], m(e, a) -= c.alpha[k];
  }
  for (int v = 0; v < c.places; ++v)
    if (c.pinned[at(v)]) m.row(v).setZero(), m(v, v) = 1.0, b(v) = c.x[at(v)];
  return m.fullPivLu().solve(b);
}

double worst_difference(const Case& c) {
  NodeSystem system(c.places, c.links);
  std::vector<double> x = c.x;
  REQUIRE(system.solve(c.alpha, c.beta, c.ground, c.rhs, c.pinned, 1e-14, x));
  const Eigen::VectorXd expected = dense_solution(c);
  double worst = 0.0;
  for (int v = 0; v < c.places; ++v)
    worst = std::max(worst, std::abs(x[at(v)] - expected(v)) / std::max(1.0, std::abs(expected(v))));
  return worst;
}

}  // namespace

TEST_CASE("trees and loops, symmetric, one-sided and pinned, are solved as the dense method does") {
  for (const Kind kind : {Kind::full, Kind::one_sided, Kind::pinned})
    for (const bool tree : {true, false}) {
      double worst = 0.0;
      for (std::uint64_t seed = 0; seed < 150; ++seed) {
        Dice dice(seed);
        const int places = 1 + dice.below(60);
        worst = std::max(
            worst, worst_difference(random_case(dice, places, tree ? 0 : 1 + dice.below(places), kind)));
      }
      INFO("kind " << static_cast<int>(kind) << ", tree " << tree);
      CHECK(worst * 1e10 < 1.0);  // condition up to 1e5 or so, of the dense solution too
    }
}

TEST_CASE("a tree has no core, a loop is one, and what hangs on it is not") {
  Dice dice(1);
  std::vector<Ends> links;
  for (auto [a, b] : runnel::test::random_pairs(dice, 50, 0)) links.push_back({a, b});
  CHECK(NodeSystem(50, links).core_size() == 0);
  links = {{0, 1}, {1, 2}, {2, 3}, {3, 1}, {3, 4}, {4, -1}, {5, 5}};
  CHECK(NodeSystem(7, links).core_size() == 3);  // 1, 2, 3; place 6 stands alone
  links = {{0, 1}, {1, 0}};
  CHECK(NodeSystem(2, links).core_size() == 2);  // two pipes side by side
}

TEST_CASE("on a tree every head keeps its digits, however far the conductances lie apart") {
  // Water put in anywhere leaves by the root, so flows and heads are sums of positive numbers and the
  // expected values are good to rounding.
  for (std::uint64_t seed = 0; seed < 50; ++seed) {
    Dice dice(seed);
    const int n = 200;
    Case c;
    c.places = n;
    std::vector<int> parent(at(n), -1);
    for (int v = 1; v < n; ++v) {
      parent[at(v)] = dice.below(v);
      c.links.push_back(dice.chance(0.5) ? Ends{v, parent[at(v)]} : Ends{parent[at(v)], v});
      c.alpha.push_back(std::pow(10.0, dice.real(-9.0, 9.0)));
    }
    c.links.push_back({0, -1});
    c.alpha.push_back(1e-3);
    c.beta = c.alpha;
    c.ground.assign(at(n), 0.0), c.pinned.assign(at(n), 0), c.x.assign(at(n), 0.0);
    for (int v = 0; v < n; ++v) c.rhs.push_back(dice.real(0.1, 1.0));

    std::vector<double> flow = c.rhs, expected(at(n));
    for (int v = n - 1; v > 0; --v) flow[at(parent[at(v)])] += flow[at(v)];
    expected[0] = flow[0] / 1e-3;
    for (int v = 1; v < n; ++v)
      expected[at(v)] = expected[at(parent[at(v)])] + flow[at(v)] / c.alpha[at(v - 1)];

    NodeSystem system(n, c.links);
    std::vector<double> x = c.x;
    REQUIRE(system.solve(c.alpha, c.beta, c.ground, c.rhs, c.pinned, 1e-30, x));
    double worst = 0.0;
    for (int v = 0; v < n; ++v) worst = std::max(worst, std::abs(x[at(v)] / expected[at(v)] - 1.0));
    CHECK(worst * 1e12 < 1.0);  // 200 roundings of 1.1e-16 a path, and some; a plain factorisation keeps none
  }
}

TEST_CASE("a place that nothing answers for is held by the leak alone") {
  const std::vector<Ends> links = {{0, 1}, {2, -1}};
  NodeSystem system(4, links);  // 0 and 1 have no way to a fixed head, 3 has no link
  std::vector<double> x(4, 0.0);
  REQUIRE(system.solve({2.0, 4.0}, {2.0, 4.0}, {0, 0, 0, 0}, {1.0, 0.0, 8.0, -3.0}, {0, 0, 0, 0}, 1e-6, x));
  CHECK(x[2] == Approx(2.0).epsilon(1e-15));        // 8 / 4
  CHECK(x[3] == Approx(-3e6).epsilon(1e-12));       // -3 / leak
  CHECK(x[0] > 1e5);                                // far, and finite
  CHECK(x[0] - x[1] == Approx(0.5).epsilon(1e-6));  // 1 / 2, less what little leaks at the first place
}

TEST_CASE("a looped core above the size where the method changes is solved") {
  const int width = 50, n = width * width;
  std::vector<Ends> links;
  for (auto [a, b] : runnel::test::grid_pairs(width, width)) links.push_back({a, b});
  links.push_back({0, -1});
  Dice dice(2);
  std::vector<double> alpha, rhs, x(at(n), 0.0), ground(at(n), 0.0);
  std::vector<char> pinned(at(n), 0);
  for (std::size_t k = 0; k < links.size(); ++k) alpha.push_back(std::exp(dice.real(-3.0, 3.0)));
  for (int v = 0; v < n; ++v) rhs.push_back(dice.real(-1.0, 1.0));
  pinned[1234] = 1, x[1234] = 7.0;
  NodeSystem system(n, links);
  REQUIRE(system.core_size() == at(n));
  REQUIRE(system.solve(alpha, alpha, ground, rhs, pinned, 1e-14, x));
  CHECK(x[1234] == 7.0);
  std::vector<double> left = rhs;
  for (std::size_t k = 0; k < links.size(); ++k) {
    const auto [a, b] = links[k];
    const double flow = alpha[k] * (x[at(a)] - (b >= 0 ? x[at(b)] : 0.0));
    left[at(a)] -= flow;
    if (b >= 0) left[at(b)] += flow;
  }
  double worst = 0.0;
  for (int v = 0; v < n; ++v)
    if (v != 1234) worst = std::max(worst, std::abs(left[at(v)]));
  CHECK(worst * 1e10 < 1.0);  // heads up to some hundreds, conductances up to 20, rounding 1.1e-16
}

TEST_CASE("another right side is solved by the factors found last, in trees and cores of every method") {
  const auto again = [](Case c, Dice& dice) {
    NodeSystem system(c.places, c.links);
    std::vector<double> x = c.x;
    REQUIRE(system.solve(c.alpha, c.beta, c.ground, c.rhs, c.pinned, 1e-14, x));
    for (double& rhs : c.rhs) rhs = dice.real(-1.0, 1.0);
    for (std::size_t v = 0; v < c.x.size(); ++v)
      if (c.pinned[v]) c.x[v] = dice.real(-5.0, 5.0);
    std::vector<double> found = c.x, anew = c.x;
    system.solve_again(c.alpha, c.beta, c.rhs, c.pinned, found);
    REQUIRE(system.solve(c.alpha, c.beta, c.ground, c.rhs, c.pinned, 1e-14, anew));
    double worst = 0.0;
    for (std::size_t v = 0; v < found.size(); ++v)
      worst = std::max(worst, std::abs(found[v] - anew[v]) / std::max(1.0, std::abs(anew[v])));
    return worst;
  };
  Dice dice(5);
  for (const Kind kind : {Kind::full, Kind::one_sided, Kind::pinned})
    for (int n = 0; n < 40; ++n) {
      const int places = 1 + dice.below(40);
      CHECK(again(random_case(dice, places, n % 2 == 0 ? 0 : dice.below(30), kind), dice) < 1e-14);
    }
  // A street plan large enough for the multifrontal method.
  Case city = random_case(dice, 1600, 0, Kind::full);
  city.links.clear(), city.alpha.clear();
  for (const auto& [a, b] : runnel::test::grid_pairs(40, 40)) city.links.push_back({a, b});
  city.links.push_back({0, -1});
  for (std::size_t k = 0; k < city.links.size(); ++k) city.alpha.push_back(std::exp(dice.real(-1.0, 1.0)));
  city.beta = city.alpha;
  CHECK(again(city, dice) < 1e-14);
}
