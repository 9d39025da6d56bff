// As long as high points and the mouth of a line stand clear of the water, no look at them changes its law.
#include "runnel/steady/crossing.h"

#include <catch2/catch.hpp>

#include "runnel/steady/assemble.h"
#include "runnel/steady/link_law.h"
#include "runnel/steady/newton.h"
#include "runnel/steady/plain_links.h"
#include "steady/nasty_system.h"
#include "steady/small_systems.h"
#include "support/resolved.h"

using namespace runnel;
using steady::Crossing;
using steady::Kernel;
using steady::Link;
using steady::unbounded;

namespace {

/// A full pipe of 100 m between two places, with a high point half-way that stands at `top_m`.
Kernel over_a_hill(double top_m, double more_s2m5 = 0.0) {
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 20.0}, {.fixed = true, .head_m = 10.0}};
  kernel.add_pipe(0, 1, {{}, 0.03, 1.5e-6, 150.0, 1.31e-6}, 100.0, 1.0);
  Link& link = kernel.links[0];
  const steady::Control ends = kernel.controls[0];
  kernel.controls = {ends, ends, ends, ends};
  link.forward = 0, link.backward = 2;
  link.forwards = link.backwards = 2;
  for (const std::uint32_t c : {1U, 3U}) {
    steady::Control& crest = kernel.controls[c];
    crest.lengths = static_cast<std::uint32_t>(kernel.lengths_m.size());
    kernel.lengths_m.push_back(50.0);
    crest.to_node = false;
    crest.sink_head_m = top_m;
    crest.quadratic_s2m5 += more_s2m5;
    crest.station_m = 50.0;
  }
  return kernel;
}

}  // namespace

TEST_CASE("a crossing keeps the highest head that a high point asks for and the most it loses there") {
  const Kernel kernel = over_a_hill(7.0, 3e5);
  const auto crossing = Crossing::of(kernel, kernel.links[0], true);
  REQUIRE(crossing);
  CHECK(crossing->over_m == 7.0);
  CHECK(crossing->more_s2m5 == Approx(3e5));
  CHECK(crossing->drowned(1e9, -1e9));  // it has no mouth that could stop anything
  // 3e5 s2/m5 take 0.3 m of 1 L/s.
  CHECK(crossing->clear(1e-3, 0.0, 7.31));
  CHECK_FALSE(crossing->clear(1e-3, 0.0, 7.29));
  CHECK_FALSE(crossing->clear(0.9e-3, 0.2e-3, 7.31));
}

TEST_CASE("a reducing valve, or a stretch longer than the line, is no crossing") {
  Kernel valve = over_a_hill(7.0);
  valve.controls[1].from_node = false;
  CHECK_FALSE(Crossing::of(valve, valve.links[0], true));
  CHECK(Crossing::of(valve, valve.links[0], false));
  Kernel longer = over_a_hill(7.0);
  longer.lengths_m[longer.controls[3].lengths] = 100.001;
  CHECK_FALSE(Crossing::of(longer, longer.links[0], false));
  longer.lengths_m[longer.controls[3].lengths] = 100.0;
  CHECK(Crossing::of(longer, longer.links[0], false));
}

TEST_CASE("a line leaves the plain ones when a high point may have a say, and not before") {
  const auto left = [](double top_m, bool ends_only) {
    const Kernel kernel = over_a_hill(top_m);
    steady::Workspace work(kernel);
    work.read_kernel();
    work.first_guess();
    work.state.flow_m3s[0] = 1e-3;
    work.ends_only = ends_only;
    steady::PlainLinks links;
    links.sort(kernel);
    CHECK(links.others().empty());
    steady::LinkTally tally;
    links.linearise(work, tally);
    return !links.leaving().empty();
  };
  CHECK_FALSE(left(10.0, false));
  CHECK(left(10.01, false));  // above the water at the lower end
  CHECK_FALSE(left(10.01, true));
}

TEST_CASE("a line at rest leaves, because its high points decide which way water can go") {
  const Kernel kernel = over_a_hill(5.0);
  steady::Workspace work(kernel);
  work.read_kernel();
  work.first_guess();
  steady::PlainLinks links;
  links.sort(kernel);
  steady::LinkTally tally;
  links.linearise(work, tally);
  CHECK(links.leaving() == std::vector<std::uint32_t>{0});
  links.linearise(work, tally);
  CHECK(links.leaving().empty());  // it left before
}

TEST_CASE(
    "where a crossing is clear and the water takes all the head it has, the end-to-end control governs") {
  test::NastyKind kind;
  kind.loops = 2;
  kind.most_crests = 25;
  long clear = 0;
  plain::Dice dice(1);
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    const Kernel kernel = steady::assemble(test::NastySystem(seed, kind).system).kernel;
    for (const Link& link : kernel.links) {
      if (link.b < 0 || link.terms != 1 || link.shut || link.forwards < 2 || link.backwards < 2) continue;
      if (link.forward_column >= 0 || link.backward_column >= 0 || link.behind_valves > 0) continue;
      if (link.most_m3s < unbounded) continue;
      for (const bool forward : {true, false}) {
        const auto crossing = Crossing::of(kernel, link, forward);
        if (!crossing) continue;
        for (int i = 0; i < 20; ++i) {
          const double base = std::isfinite(crossing->over_m) ? crossing->over_m : 0.0;
          const double sink_m = base + dice.real(-1.0, 5.0), flow = std::pow(10.0, dice.real(-7.0, -2.0));
          const steady::Control& ends = kernel.controls[forward ? link.forward : link.backward];
          const double source_m =
              sink_m + steady::stretch_loss(kernel, link, ends, flow).head_m - dice.real(0.0, 0.1);
          if (!crossing->clear(flow, link.smooth_m3s, sink_m) || !crossing->drowned(flow, source_m)) continue;
          const steady::LinkStep alone = steady::linearise(
              kernel, link, forward ? flow : -flow, forward ? source_m : sink_m, forward ? sink_m : source_m);
          CAPTURE(seed, forward, flow, source_m, sink_m);
          CHECK(static_cast<std::uint32_t>(alone.control) == (forward ? link.forward : link.backward));
          ++clear;
        }
      }
    }
  }
  CHECK(clear > 1000);
}

TEST_CASE("a surveyed line far below the water settles as the same line without its survey") {
  const Kernel hill = over_a_hill(5.0);
  Kernel flat = hill;
  flat.links[0].forwards = flat.links[0].backwards = 1;
  const steady::KernelState one = steady::solve(hill), other = steady::solve(flat);
  REQUIRE(one.outcome == steady::Outcome::settled);
  CHECK(one.flow_m3s[0] == Approx(other.flow_m3s[0]).epsilon(1e-12));
  CHECK(one.control[0] == other.control[0]);
  // Over 19.9 m, only 0.1 m of head is left to bring the water up to the high point.
  const steady::KernelState held = steady::solve(over_a_hill(19.9));
  REQUIRE(held.outcome == steady::Outcome::settled);
  CHECK(held.control[0] == 1);
  CHECK(held.flow_m3s[0] < 0.2 * one.flow_m3s[0]);
}
