// Flows of a forest of the best conductors set by continuity.
#include "runnel/steady/close_continuity.h"

#include <catch2/catch.hpp>

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
