// Links built straight into a kernel, against closed forms of their flow.
#include "runnel/steady/kernel.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/steady/newton.h"

using namespace runnel;
using steady::Kernel;
using steady::Link;

namespace {

constexpr double viscosity_m2s = 1.31e-6;  // water at about 10 C

losses::PipeFriction pipe(double bore_m) { return {{}, bore_m, 1.5e-6, 150.0, viscosity_m2s}; }

/// Two water levels, nothing between them yet.
Kernel levels(double high_m, double low_m) {
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = high_m}, {.fixed = true, .head_m = low_m}};
  return kernel;
}

double flow_m3s(const Kernel& kernel) {
  const steady::KernelState state = steady::solve(kernel);
  REQUIRE(state.outcome == steady::Outcome::settled);
  return state.flow_m3s[0];
}

}  // namespace

TEST_CASE("a pipe without roughness to speak of and little water follows Hagen and Poiseuille both ways") {
  // 4 mm over 25 m under 0.1 m: Q = pi g h d^4 / (128 nu L), Re about 320.
  const double expected = pi * gravity_ms2 * 0.1 * std::pow(0.004, 4) / (128.0 * viscosity_m2s * 25.0);
  Kernel kernel = levels(10.1, 10.0);
  CHECK(kernel.add_pipe(0, 1, pipe(0.004), 25.0, 0.0) == 0);
  CHECK(flow_m3s(kernel) == Approx(expected).epsilon(1e-9));
  std::swap(kernel.nodes[0].head_m, kernel.nodes[1].head_m);
  CHECK(flow_m3s(kernel) == Approx(-expected).epsilon(1e-9));
  kernel.nodes[0].head_m = kernel.nodes[1].head_m;
  CHECK(flow_m3s(kernel) == 0.0);
}

TEST_CASE("a pipe's local losses count on its own bore, one way as the other") {
  // A pipe as good as without length: all head goes into K v^2 / 2g.
  const double area = pi * 0.1 * 0.1 / 4.0, expected = area * std::sqrt(2.0 * gravity_ms2 * 2.0 / 20.0);
  for (const double sign : {1.0, -1.0}) {
    Kernel kernel = levels(5.0 + sign, 5.0 - sign);
    kernel.add_pipe(0, 1, pipe(0.1), 1e-6, 20.0);
    CHECK(flow_m3s(kernel) == Approx(sign * expected).epsilon(1e-6));  // a micrometre of friction
  }
}

TEST_CASE("an opening lets out what falls from the level to its elevation, and nothing in") {
  const double area = pi * 0.01 * 0.01 / 4.0;
  Kernel kernel = levels(12.0, 0.0);
  CHECK(kernel.add_opening(0, 8.0, 0.01, 2.5, viscosity_m2s) == 0);
  // 1e-9: the linear part below Re 0.1 takes off (0.1 / Re)^2, with Re of some 40,000.
  CHECK(flow_m3s(kernel) == Approx(area * std::sqrt(2.0 * gravity_ms2 * 4.0 / 2.5)).epsilon(1e-9));
  kernel.nodes[0].head_m = 8.0;
  CHECK(flow_m3s(kernel) == 0.0);
  kernel.nodes[0].head_m = 7.0;
  CHECK(flow_m3s(kernel) == 0.0);
}

TEST_CASE("links are numbered in turn and keep apart what is theirs") {
  Kernel kernel;
  kernel.nodes.resize(3);
  CHECK(kernel.add_pipe(0, 1, pipe(0.02), 11.0, 0.0) == 0);
  CHECK(kernel.add_opening(1, 3.0, 0.01, 1.0, viscosity_m2s) == 1);
  CHECK(kernel.add_pipe(1, 2, pipe(0.03), 33.0, 0.0) == 2);
  const Link &first = kernel.links[0], &opening = kernel.links[1], &last = kernel.links[2];
  CHECK(kernel.terms[first.term].bore_m() == 0.02);
  CHECK(kernel.terms[last.term].bore_m() == 0.03);
  CHECK(kernel.lengths_m[kernel.controls[first.forward].lengths] == 11.0);
  CHECK(kernel.lengths_m[kernel.controls[last.forward].lengths] == 33.0);
  CHECK(opening.terms == 0);
  CHECK(opening.b == -1);
  CHECK(kernel.controls[opening.forward].sink_head_m == 3.0);
  CHECK_FALSE(kernel.controls[opening.forward].to_node);
  CHECK(last.a == 1);
  CHECK(last.b == 2);
}

TEST_CASE("only a full pipe that carries both ways has one law through zero flow") {
  Kernel kernel;
  kernel.nodes.resize(2);
  kernel.add_pipe(0, 1, pipe(0.02), 10.0, 1.0);
  const Link plain = kernel.links[0];
  CHECK(plain.two_way_law(kernel));
  const auto changed = [&](auto&& change) {
    Link link = plain;
    change(link);
    return link.two_way_law(kernel);
  };
  CHECK_FALSE(changed([](Link& l) { l.backwards = 0; }));       // a check valve
  CHECK_FALSE(changed([](Link& l) { l.forwards = 2; }));        // a crest on the way there
  CHECK_FALSE(changed([](Link& l) { l.backwards = 2; }));       // and on the way back
  CHECK_FALSE(changed([](Link& l) { l.forward_column = 0; }));  // air that lies in it
  CHECK_FALSE(changed([](Link& l) { l.backward_column = 0; }));
  kernel.controls[plain.forward].to_node = false;
  CHECK_FALSE(plain.two_way_law(kernel));
  kernel.controls[plain.forward] = {};
  CHECK(plain.two_way_law(kernel));
  kernel.controls[plain.forward].from_node = false;
  CHECK_FALSE(plain.two_way_law(kernel));
}

TEST_CASE("whatever has less flow and more head than a mouth's easy point has room at the mouth") {
  for (const double bore_m : {0.02, 0.05, 0.1, 0.3}) {
    const steady::LinkMouth mouth(losses::Mouth(losses::MouthEdge::thin_projecting, bore_m, 0.05), bore_m);
    CHECK(mouth.easy_m3s > 0.0);
    CHECK(mouth.law.regime(mouth.easy_m3s) == losses::MouthRegime::drowned);
    for (int i = 0; i <= 100; ++i) {
      const double q = mouth.easy_m3s * i / 100.0;
      CHECK(mouth.law.over_axis(q).head_m <= mouth.easy_m);
    }
    CHECK(mouth.law.over_axis(1.01 * mouth.easy_m3s).head_m > mouth.easy_m);
  }
}
