// What a need hangs on that nobody knows exactly.
#include "runnel/verdict/margins.h"

#include <catch2/catch.hpp>

#include "runnel/network/corner.h"
#include "runnel/pipes/catalogue.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/flow_verdict.h"
#include "support/resolved.h"
#include "verdict/sample.h"

namespace network = runnel::network;
namespace verdict = runnel::verdict;
using runnel::Flow;

namespace {

struct Weighed {
  std::vector<verdict::AskResult> asks;
  std::vector<runnel::Finding> findings;
};

Weighed weighed(const network::Model& m) {
  const network::System system = support::resolved(m);
  Weighed w;
  w.asks = verdict::judge_asks(system, runnel::steady::solve(system));
  verdict::weigh_corners(system, {}, w.asks, w.findings);
  return w;
}

/// Much more spring than the pipe takes: the pipe decides.
network::Model pipe_decides(double asked_ls) {
  network::Model m = sample::system();
  m.boxes[0].yield = Flow::litres_per_second(20.0);
  m.pipelines[0].pipes[0].pipe = *runnel::pipes::standard_catalogue().find("PE100 SDR11 32 mm");
  m.asks = {sample::ask_flow("trough", asked_ls)};
  return m;
}

double flow_at(const network::Model& m, network::Corner corner, const network::Unknowns& unknown = {}) {
  const auto there = network::at_corner(support::resolved(m), corner, unknown);
  return runnel::steady::solve(*there.value).outlets[0].flow_m3s;
}

}  // namespace

TEST_CASE("the range of a need is what comes at either corner") {
  const network::Model m = pipe_decides(0.5);
  const Weighed w = weighed(m);
  REQUIRE(w.asks[0].range);
  CHECK(w.asks[0].range->bad.si == Approx(flow_at(m, network::Corner::bad)).epsilon(1e-9));
  CHECK(w.asks[0].range->good.si == Approx(flow_at(m, network::Corner::good)).epsilon(1e-9));
  CHECK(w.asks[0].range->bad.si < w.asks[0].got->si);
  CHECK(w.asks[0].got->si <= w.asks[0].range->good.si);
  CHECK(w.findings.empty());
}

TEST_CASE("a need between the bad corner and what is written is met only if, and the cause is named") {
  const network::Model easy = pipe_decides(0.5);
  const double as_written = runnel::steady::solve(easy).outlets[0].flow_m3s;
  network::Unknowns aged;
  aged.bore = aged.temperature = aged.survey = aged.yield = aged.transition = false;
  const double old_pipe = flow_at(easy, network::Corner::bad, aged);
  REQUIRE(old_pipe < as_written);
  // Between what old pipe leaves and what all the others together leave: age alone turns it.
  network::Unknowns others;
  others.roughness = false;
  const double but_for_age = flow_at(easy, network::Corner::bad, others);
  REQUIRE(old_pipe < but_for_age);
  const Weighed w = weighed(pipe_decides(1e3 * 0.5 * (old_pipe + but_for_age)));
  REQUIRE(w.findings.size() == 1);
  CHECK(w.findings[0].code == "need-met-only-if");
  CHECK(w.findings[0].severity == runnel::Severity::warning);
  CHECK(w.asks[0].only_if == "if the pipe stays as smooth as new");
  // Closer to what is written the others turn it together as well: age is not the whole condition.
  const Weighed close = weighed(pipe_decides(1e3 * 0.5 * (but_for_age + as_written)));
  REQUIRE(close.findings.size() == 1);
  CHECK(close.asks[0].only_if != "if the pipe stays as smooth as new");
  // Below what the worst single cause leaves and above the bad corner: only all together turn it.
  const double bad = flow_at(easy, network::Corner::bad);
  const Weighed all = weighed(pipe_decides(1e3 * (0.5 * bad + 0.5 * old_pipe)));
  CHECK_THAT(all.asks[0].only_if, Catch::Contains("turns out badly"));
  // Below the bad corner nothing turns it.
  CHECK(weighed(pipe_decides(1e3 * bad * 0.999)).findings.empty());
}

TEST_CASE("where the spring is all there is, no pipe makes a range") {
  network::Model m = sample::system();
  m.pipelines[0].pipes[0].pipe = *runnel::pipes::standard_catalogue().find("PE100 SDR11 63 mm");
  m.boxes[0].yield = Flow::litres_per_second(0.5);
  m.asks = {sample::ask_flow("trough", 0.5)};
  const Weighed w = weighed(m);
  REQUIRE(w.asks[0].range);
  CHECK(w.asks[0].range->bad.si == Approx(0.5e-3).epsilon(1e-9));
  CHECK(w.findings.empty());
}
