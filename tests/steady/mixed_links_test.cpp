// Links evaluated many at once say what `linearise` says of each alone, also where a bound rules controls
// out.
#include "runnel/steady/mixed_links.h"

#include <catch2/catch.hpp>

#include "runnel/steady/assemble.h"
#include "runnel/steady/plain_links.h"
#include "steady/nasty_system.h"
#include "steady/small_systems.h"
#include "support/resolved.h"

using namespace runnel;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Heads and flows drift from one evaluation to the next, as they do while a state settles.
void drift(steady::Workspace& work, plain::Dice& dice, double by) {
  for (double& head : work.state.head_m) head += by * dice.real(-5.0, 5.0);
  for (std::size_t k = 0; k < work.state.flow_m3s.size(); ++k) {
    const steady::Link& link = work.kernel.links[k];
    double& flow = work.state.flow_m3s[k];
    flow += by * dice.real(-1e-3, 1e-3);
    if (dice.chance(0.1)) flow = 0.0;
    if (flow < 0.0 && link.backwards == 0) flow = -flow;
  }
}

}  // namespace

TEST_CASE("many links at once say what each says alone") {
  test::NastyKind kind;
  kind.loops = 2;
  kind.most_crests = 25;
  long controls = 0, looked_at = 0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const steady::Kernel kernel = steady::assemble(test::NastySystem(seed, kind).system).kernel;
    steady::Workspace work(kernel);
    work.read_kernel();
    work.first_guess();
    steady::PlainLinks plain;
    steady::MixedLinks mixed;
    plain.sort(kernel);
    mixed.take(kernel, plain.others());
    plain::Dice dice(seed);
    for (int round = 0; round < 12; ++round) {
      drift(work, dice, std::pow(0.4, round));
      steady::LinkTally tally;
      plain.linearise(work, tally);
      mixed.add(kernel, plain.leaving());
      mixed.linearise(work, tally);
      for (std::size_t k = 0; k < kernel.links.size(); ++k) {
        CAPTURE(seed, round, k);
        const steady::Link& link = kernel.links[k];
        const double ha = work.state.head_m[at(link.a)],
                     hb = link.b >= 0 ? work.state.head_m[at(link.b)] : 0.0;
        const steady::LinkStep alone = steady::linearise(kernel, link, work.state.flow_m3s[k], ha, hb);
        // Friction at once and one by one agree to 1e-15 of the loss, which may be thousands of metres here.
        const double size = std::abs(alone.flow_m3s) + std::abs(work.state.flow_m3s[k]);
        REQUIRE(work.state.control[k] == alone.control);
        REQUIRE(std::abs(work.predicted_m3s[k] - alone.flow_m3s) <= 1e-11 * size);
        REQUIRE(work.alpha[k] == Approx(alone.alpha).epsilon(1e-11));
        REQUIRE(work.beta[k] == Approx(alone.beta).epsilon(1e-11));
        controls += link.forwards + link.backwards;
      }
    }
    looked_at += mixed.looked_at();
  }
  CHECK(looked_at < controls / 2);  // the bound must rule out what it is there for
}

TEST_CASE("a long chain of lines with crests and small draws settles by plain steps") {
  // All heads are alike at first: a line that answers nothing at rest would leave every place to itself.
  network::Model m = small::empty();
  small::box(m, "spring", 5e-3, 1000.0, 1000.5);
  std::string from = "spring";
  double from_m = 1000.0;
  for (int i = 0; i < 1500; ++i) {
    const std::string name = "j" + std::to_string(i);
    const double z_m = 1000.0 - (i + 1) / 3.0;
    small::joint(m, name, z_m, 1e-8);
    small::line(m, "p" + std::to_string(i), from, name, 0.09, {{0, from_m}, {2, z_m}});
    from = name, from_m = z_m;
  }
  const steady::State state = steady::solve(m);
  REQUIRE(state.outcome == steady::Outcome::settled);
  CHECK(state.history.size() <= 12);
}
