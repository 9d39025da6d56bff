// The reason for a need that is not met: the bound whose lifting gains most, found by solving again.
#include "runnel/verdict/reasons.h"

#include <catch2/catch.hpp>

#include "runnel/pipes/catalogue.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/next_size.h"
#include "support/resolved.h"
#include "verdict/sample.h"

namespace network = runnel::network;
namespace verdict = runnel::verdict;
using runnel::Flow;
using runnel::Length;
using runnel::verdict::Bound;

namespace {

network::Model line(double yield_ls, const char* pipe, double asked_ls) {
  network::Model m = sample::system();
  m.boxes[0].yield = Flow::litres_per_second(yield_ls);
  m.pipelines[0].pipes[0].pipe = *runnel::pipes::standard_catalogue().find(pipe);
  m.asks = {sample::ask_flow("trough", asked_ls)};
  return m;
}

std::vector<verdict::AskResult> reasons(const network::Model& m) {
  const network::System system = support::resolved(m);
  auto asks = verdict::judge_asks(system, runnel::steady::solve(system));
  verdict::find_reasons(system, asks);
  return asks;
}

}  // namespace

TEST_CASE("a need that is met has no reason") {
  CHECK_FALSE(reasons(line(1.0, "PE100 SDR11 50 mm", 0.9))[0].reason);
}

TEST_CASE("where the spring is all there is, the spring is the reason") {
  const auto asks = reasons(line(0.3, "PE100 SDR11 50 mm", 0.5));
  REQUIRE(asks[0].reason);
  CHECK(asks[0].reason->bound == Bound::spring);
  CHECK(asks[0].reason->place == "spring");
  CHECK(asks[0].reason->with.si == Approx(0.6e-3).epsilon(1e-9));  // twice 0.3 L/s
  CHECK(asks[0].reason->cures);
}

TEST_CASE("where the pipe is too narrow, the next size of its series that is enough is named") {
  const auto asks = reasons(line(3.0, "PE100 SDR11 25 mm", 1.0));
  REQUIRE(asks[0].reason);
  CHECK(asks[0].reason->bound == Bound::pipe);
  CHECK(asks[0].reason->line == "main");
  CHECK(asks[0].reason->cures);
  CHECK(asks[0].reason->with.si >= 1e-3);
  // It is the narrowest that is enough: one size less is not.
  network::Model m = line(3.0, asks[0].reason->pipe.c_str(), 1.0);
  CHECK(verdict::judge_asks(support::resolved(m), runnel::steady::solve(m))[0].met);
  CHECK_THAT(asks[0].reason->pipe, Catch::StartsWith("PE100 SDR11 "));
}

TEST_CASE("a valve that is shut is the reason before all others") {
  network::Model m = line(3.0, "PE100 SDR11 50 mm", 1.0);
  network::Part valve;
  valve.kind = network::PartKind::valve;
  valve.type = "gate_valve";
  valve.name = "V1";
  valve.at = Length::metres(2.0);
  valve.open = 0.0;
  m.pipelines[0].parts = {valve};
  const auto asks = reasons(m);
  REQUIRE(asks[0].reason);
  CHECK(asks[0].reason->bound == Bound::shut_valve);
  CHECK(asks[0].reason->part == "V1");
  CHECK(asks[0].reason->cures);
}

TEST_CASE("a high point that holds the line is the reason, with the depth that is enough") {
  network::Model m = line(3.0, "PE100 SDR11 50 mm", 1.0);
  // 50 m of fall, all of it behind a hump that stands half a metre under the lip.
  m.pipelines[0].survey = {
      {Length::metres(0), Length::metres(49)},   {Length::metres(300), Length::metres(40)},
      {Length::metres(595), Length::metres(41)}, {Length::metres(600), Length::metres(48.5)},
      {Length::metres(605), Length::metres(41)}, {Length::metres(700), Length::metres(0)}};
  const auto asks = reasons(m);
  REQUIRE(asks[0].reason);
  CHECK(asks[0].reason->bound == Bound::high_point);
  CHECK(asks[0].reason->from_m == 600.0);
  CHECK(asks[0].reason->dug_m > 0.0);
  CHECK(asks[0].reason->dug_m <= 3.0);
}

TEST_CASE("the reason is the largest gain of all trials") {
  // Spring and pipe both bind a little: the trials decide, and the one named gains no less than the other.
  for (double yield_ls : {0.2, 0.4, 0.6, 0.8, 1.2}) {
    const network::Model m = line(yield_ls, "PE100 SDR11 32 mm", 2.0);
    const auto asks = reasons(m);
    if (!asks[0].reason) continue;
    network::Model doubled = m, wider = m;
    doubled.boxes[0].yield = m.boxes[0].yield * 2.0;
    wider.pipelines[0].pipes[0].pipe = *verdict::next_size(m.pipelines[0].pipes[0].pipe);
    const double by_spring = runnel::steady::solve(doubled).outlets[0].flow_m3s;
    const double by_pipe = runnel::steady::solve(wider).outlets[0].flow_m3s;
    INFO(yield_ls << " L/s: " << by_spring << " " << by_pipe);
    CHECK((asks[0].reason->bound == Bound::spring) == (by_spring > by_pipe));
  }
}

TEST_CASE("the next size is of the same series, and the last has none") {
  const auto& catalogue = runnel::pipes::standard_catalogue();
  CHECK(verdict::next_size(*catalogue.find("PE100 SDR11 25 mm"))->name == "PE100 SDR11 32 mm");
  CHECK(verdict::next_size(*catalogue.find("PE4710 DR11 1-1/4 in"))->name == "PE4710 DR11 1-1/2 in");
  runnel::pipes::Pipe own;
  own.name = "hose";
  own.bore = Length::millimetres(20);
  CHECK(verdict::next_size(own)->bore.millimetres() == Approx(25.0).epsilon(1e-12));
  for (const auto& pipe : catalogue.pipes()) {
    const auto next = verdict::next_size(pipe);
    if (!next) continue;
    INFO(pipe.name);
    CHECK(next->bore > pipe.bore);
    CHECK(next->standard == pipe.standard);
  }
}
