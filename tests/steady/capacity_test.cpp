// What a line carries between two heads, found by bracketing.
#include "runnel/steady/capacity.h"

#include <catch2/catch.hpp>
#include <random>

#include "runnel/base/constants.h"

using namespace runnel;
using steady::Kernel;

namespace {

constexpr double viscosity = 1.3e-6;

Kernel one_pipe(double bore_m, double length_m, double loss_k) {
  Kernel kernel;
  kernel.nodes.resize(2);
  kernel.add_pipe(0, 1, losses::PipeFriction({}, bore_m, 1.5e-6, 150.0, viscosity), length_m, loss_k);
  return kernel;
}

}  // namespace

TEST_CASE("what is carried loses just the head there is") {
  std::mt19937 random(4711);
  for (int n = 0; n < 200; ++n) {
    const double bore_m = std::uniform_real_distribution<>(0.005, 0.3)(random);
    const double length_m = std::pow(10.0, std::uniform_real_distribution<>(0.0, 4.0)(random));
    const double head_m = std::pow(10.0, std::uniform_real_distribution<>(-4.0, 2.5)(random));
    const Kernel kernel = one_pipe(bore_m, length_m, 3.0);
    CAPTURE(bore_m, length_m, head_m);
    const double flow = steady::carries(kernel, kernel.links[0], head_m, 0.0).flow_m3s;
    const losses::PipeFriction friction({}, bore_m, 1.5e-6, 150.0, viscosity);
    const double area = friction.area_m2();
    const double lost =
        friction.per_metre(flow).head_m * length_m + 3.0 * flow * flow / (2.0 * gravity_ms2 * area * area);
    CHECK(lost == Approx(head_m).epsilon(1e-9));  // the slope at no flow rounds the corner of Q^2
  }
}

TEST_CASE("uphill nothing is carried") {
  Kernel kernel = one_pipe(0.03, 100.0, 1.0);
  const auto none = steady::carries(kernel, kernel.links[0], 0.0, 1.0);
  CHECK(none.flow_m3s == 0.0);
  CHECK(none.control == static_cast<int>(kernel.links[0].forward));  // it is what lets nothing through
  CHECK(steady::carries(kernel, kernel.links[0], 1.0, 1.0).flow_m3s == 0.0);

  kernel.links[0].shut = true;
  const auto shut = steady::carries(kernel, kernel.links[0], 5.0, 1.0);
  CHECK(shut.flow_m3s == 0.0);
  CHECK(shut.control == -1);
}

TEST_CASE("a pipe carries as much back as there") {
  const Kernel kernel = one_pipe(0.03, 100.0, 1.0);
  const double there = steady::carries(kernel, kernel.links[0], 5.0, 1.0, true).flow_m3s;
  const double back = steady::carries(kernel, kernel.links[0], 1.0, 5.0, false).flow_m3s;
  CHECK(there > 0.0);
  CHECK(back == Approx(there).epsilon(1e-12));
}
