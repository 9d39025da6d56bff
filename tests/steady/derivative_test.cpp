// The slope that every link law gives to Newton's method, against differences of the plain laws in long
// double.
#include <catch2/catch.hpp>

#include "runnel/steady/link_law.h"
#include "steady/plain_network.h"

using namespace runnel;

namespace {

plain::Network one_pipe(losses::Law law, double roughness_m, double loss_k, bool check_valve) {
  plain::Network net;
  net.law.law = law;
  net.nodes = {{true, 50.0, 0.0}, {true, 20.0, 0.0}};
  net.pipes = {{0, 1, 120.0, 0.0408, roughness_m, 140.0, loss_k, check_valve}};
  return net;
}

}  // namespace

TEST_CASE("slopes of full pipes, both laws and both ways, with and without local losses") {
  for (const losses::Law law : {losses::Law::darcy_weisbach, losses::Law::hazen_williams})
    for (const double roughness : {0.0, 1.5e-4})
      for (const double k : {0.0, 12.0})
        for (const bool valve : {false, true}) {
          const plain::Network net = one_pipe(law, roughness, k, valve);
          const steady::Kernel kernel = plain::kernel(net);
          // From Re 3 to Re 3e6: laminar, transition, turbulent; never on a joint of two formulas.
          for (double q = 1.3e-7; q < 0.1; q *= 1.19)
            for (const double sign : {1.0, -1.0}) {
              if (valve && sign < 0.0) continue;
              const auto step = steady::linearise(kernel, kernel.links[0], sign * q, sign > 0 ? 1e5 : 0.0,
                                                  sign > 0 ? 0.0 : 1e5);
              const auto slope =
                  plain::slope([&](plain::Wide x) { return plain::loss(net, net.pipes[0], x); }, q);
              CAPTURE(roughness, k, valve, sign * q);
              CHECK(step.alpha * static_cast<double>(slope) == Approx(1.0).epsilon(1e-7));
              CHECK(step.beta == step.alpha);
              CHECK(step.residual_m ==
                    Approx(1e5 - static_cast<double>(plain::loss(net, net.pipes[0], q))).epsilon(1e-12));
            }
        }
}

TEST_CASE("slopes of openings") {
  plain::Network net = one_pipe(losses::Law::darcy_weisbach, 0.0, 0.0, false);
  net.openings = {{1, 3.0, 0.0127, 2.5}};
  const steady::Kernel kernel = plain::kernel(net);
  for (double q = 1e-10; q < 0.01; q *= 1.31) {
    const auto step = steady::linearise(kernel, kernel.links[1], q, 1e5, 0.0);
    const auto slope = plain::slope([&](plain::Wide x) { return plain::loss(net.openings[0], x); }, q);
    CAPTURE(q);
    CHECK(step.alpha * static_cast<double>(slope) == Approx(1.0).epsilon(1e-7));
    CHECK(step.beta == 0.0);
  }
}

TEST_CASE("slopes of a line whose crest or reducing valve governs answer to one end only") {
  // One link by hand: end to end, a crest at 40 m halfway, a reducing valve set to 30 m at three quarters.
  plain::Network net = one_pipe(losses::Law::darcy_weisbach, 1.5e-6, 0.0, false);
  steady::Kernel kernel = plain::kernel(net);
  const auto add = [&](double length, bool from_node, double source, bool to_node, double sink) {
    steady::Control control;
    control.lengths = static_cast<std::uint32_t>(kernel.lengths_m.size());
    kernel.lengths_m.push_back(length);
    control.from_node = from_node;
    control.source_head_m = source;
    control.to_node = to_node;
    control.sink_head_m = sink;
    kernel.controls.push_back(control);
  };
  add(60.0, true, 0.0, false, 40.0);
  add(30.0, false, 30.0, true, 0.0);
  kernel.links[0].forwards = 3;
  kernel.links[0].backwards = 0;
  const double q = 1e-3;
  const auto slope = [&](double length) {
    return static_cast<double>(length * plain::slope(
                                            [&](plain::Wide x) {
                                              return plain_friction(net.law, plain::bore_of(0.0408, 1.5e-6),
                                                                    plain::viscosity_m2s, x);
                                            },
                                            q));
  };
  const auto crest = steady::linearise(kernel, kernel.links[0], q, 40.5, 0.0);
  CHECK(crest.alpha * slope(60.0) == Approx(1.0).epsilon(1e-7));
  CHECK(crest.beta == 0.0);
  const auto valve = steady::linearise(kernel, kernel.links[0], q, 90.0, 29.8);
  CHECK(valve.alpha == 0.0);
  CHECK(valve.beta * slope(30.0) == Approx(1.0).epsilon(1e-7));
  kernel.controls[2].source_head_m = 60.0;  // the valve set higher: now the two ends govern
  const auto ends = steady::linearise(kernel, kernel.links[0], q, 45.0, 44.0);
  CHECK(ends.alpha == ends.beta);
  CHECK(ends.alpha * slope(120.0) == Approx(1.0).epsilon(1e-7));
}
