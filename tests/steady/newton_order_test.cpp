// Newton's method squares the error from step to step where the laws are smooth.
#include <algorithm>
#include <catch2/catch.hpp>
#include <vector>

#include "runnel/steady/newton.h"
#include "steady/plain_network.h"

using namespace runnel;

namespace {

/// Loops with draws and no valves or openings: no kinks. Only the two constants of the law differ.
plain::Network smooth_network(std::uint64_t seed) {
  plain::Network net = plain::random_network(seed, 8, 30);
  net.openings.clear();
  for (auto& p : net.pipes) p.check_valve = false;
  for (auto& node : net.nodes) node.inflow_m3s = node.fixed ? 0.0 : -5e-5;
  return net;
}

/// No pipe near a joint of two formulas, where the second derivative jumps: Re 2000 and 4000 under one law,
/// 100 under the other.
bool far_from_joints(const plain::Network& net, const steady::KernelState& found) {
  for (std::size_t e = 0; e < net.pipes.size(); ++e) {
    const double re =
        std::abs(found.flow_m3s[e]) * 4.0 / (3.14159265 * net.pipes[e].bore_m * plain::viscosity_m2s);
    const bool darcy = net.law.law == losses::Law::darcy_weisbach;
    if (darcy ? re > 1500.0 && re < 5000.0 : re < 300.0) return false;
  }
  return true;
}

/// Order by the last three errors in energy before the answer counted as settled (1e-9 m; steps after that
/// only show round-off), the first of them small enough for the series to have begun; 0 if there are none.
double last_order(const std::vector<steady::Iteration>& history) {
  std::vector<double> errors;
  for (const auto& step : history) {
    if (step.energy_m < 1e-12) break;
    if (step.energy_m < 0.05) errors.push_back(step.energy_m);
    if (step.energy_m <= 1e-9) break;
  }
  if (errors.size() < 3) return 0.0;
  const std::size_t n = errors.size();
  return std::log(errors[n - 1] / errors[n - 2]) / std::log(errors[n - 2] / errors[n - 3]);
}

}  // namespace

// The error is a worst of many pipes, and the constant of e' = C e^2 depends on which one is worst: with the
// three or four errors that doubles have room for, a single case may show 1.4 where its order is 2. So the
// median must lie between 1.8 and 2.2, and nearly all cases with it.
TEST_CASE("the last steps are of second order") {
  std::vector<double> orders;
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    const plain::Network net = smooth_network(seed);
    const auto found = steady::solve(plain::kernel(net));
    REQUIRE(found.outcome == steady::Outcome::settled);
    const double order = far_from_joints(net, found) ? last_order(found.history) : 0.0;
    if (order != 0.0) orders.push_back(order);
  }
  REQUIRE(orders.size() >= 40);
  std::sort(orders.begin(), orders.end());
  const double median = orders[orders.size() / 2];
  CHECK(median >= 1.95);
  CHECK(median <= 2.05);
  CHECK(orders[orders.size() / 5] >= 1.8);  // four in five
  CHECK(orders.front() >= 1.3);             // a first-order method shows 1
  CHECK(orders.back() <= 2.2);
}
