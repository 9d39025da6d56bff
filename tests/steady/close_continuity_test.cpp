// Flows of a forest of the best conductors set by continuity.
#include "runnel/steady/close_continuity.h"

#include <catch2/catch.hpp>
#include <utility>

#include "runnel/steady/holds.h"
#include "runnel/steady/newton_steps.h"
#include "steady/plain_network.h"

using namespace runnel;

TEST_CASE("flows that are slightly off are set by continuity at every place") {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    plain::Network net = plain::random_network(seed);
    net.openings.clear();
    for (auto& pipe : net.pipes) pipe.check_valve = false;
    const steady::Kernel kernel = plain::kernel(net);
    steady::NewtonSteps steps(kernel, {});
    steady::Workspace& work = steps.work();
    work.read_kernel();
    work.first_guess();
    if (!steps.iterate(40)) continue;
    plain::Dice dice(seed);
    for (double& flow : work.state.flow_m3s) flow += dice.real(-1e-9, 1e-9);
    steps.evaluate();
    steady::CloseContinuity close;
    close.run(work);
    const std::vector<double> kept = work.net_m3s;
    steady::balance_places(work);
    for (std::size_t v = 0; v < net.nodes.size(); ++v) {
      CHECK(std::abs(kept[v] - work.net_m3s[v]) <= 1e-16);  // kept up to date, to rounding of some 1e-3 m3/s
      if (!net.nodes[v].fixed) CHECK(std::abs(work.net_m3s[v]) <= 1e-16);
    }
  }
}

TEST_CASE("a kept forest is grown anew when other links conduct best") {
  // Two ways between a fixed head and a place: what the place lacks goes to the wider.
  steady::Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 10.0}, {.inflow_m3s = -2e-4}};
  kernel.add_pipe(0, 1, {{}, 0.05, 1.5e-6, 140.0, 1.3e-6}, 10.0, 0.0);
  kernel.add_pipe(0, 1, {{}, 0.03, 1.5e-6, 140.0, 1.3e-6}, 10.0, 0.0);
  steady::NewtonSteps steps(kernel, {});
  steady::Workspace& work = steps.work();
  work.read_kernel();
  work.first_guess();
  work.state.flow_m3s = {1e-4, 1e-4};
  steps.evaluate();
  steady::CloseContinuity close;
  const auto off_by = [&](double off_m3s) {
    work.state.flow_m3s = {1e-4, 1e-4 - off_m3s};
    work.net_m3s = {0.0, -off_m3s};
    close.run(work);
    return work.state.flow_m3s;
  };
  const double grain = 1e-18;  // rounding of 1e-4
  CHECK(off_by(1e-9)[0] == Approx(1e-4 + 1e-9).margin(grain));
  CHECK(off_by(2e-9)[0] == Approx(1e-4 + 2e-9).margin(grain));  // by the forest that is kept
  std::swap(work.alpha[0], work.alpha[1]);
  std::swap(work.beta[0], work.beta[1]);
  CHECK(off_by(1e-9)[0] == 1e-4);
  work.state.hold[1] = steady::Hold::lip;  // it takes any flow: nothing is to be set
  CHECK(off_by(1e-9)[1] == 1e-4 - 1e-9);
}

TEST_CASE("a link that lets nothing back is not turned for the sake of rounding") {
  steady::Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 10.0}, {.inflow_m3s = 2e-6}};
  const int link = kernel.add_pipe(0, 1, {{}, 0.03, 1.5e-6, 140.0, 1.3e-6}, 10.0, 0.0);
  kernel.links[0].backwards = 0;
  steady::NewtonSteps steps(kernel, {});
  steady::Workspace& work = steps.work();
  work.read_kernel();
  work.first_guess();
  work.state.flow_m3s[static_cast<std::size_t>(link)] = 1e-6;
  steps.evaluate();
  steady::CloseContinuity().run(work);
  CHECK(work.state.flow_m3s[0] == 1e-6);
}
