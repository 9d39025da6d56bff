// Plain pipes, evaluated all at once, say what `linearise` says of each alone; and which links are plain.
#include "runnel/steady/plain_links.h"

#include <catch2/catch.hpp>
#include <limits>

#include "steady/plain_network.h"

using namespace runnel;
using steady::Kernel;
using steady::Link;
using steady::PlainLinks;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

losses::PipeFriction pipe(double bore_m = 0.03, losses::Law law = losses::Law::darcy_weisbach) {
  losses::FrictionLaw friction;
  friction.law = law;
  return {friction, bore_m, 1.5e-6, 150.0, plain::viscosity_m2s};
}

/// Any heads and flows; one in five pipes at rest, some as slow as water creeps.
void shake(steady::Workspace& work, plain::Dice& dice) {
  for (double& head : work.state.head_m) head = dice.real(0.0, 100.0);
  for (double& flow : work.state.flow_m3s)
    flow = dice.chance(0.2) ? 0.0 : dice.real(-1.0, 1.0) * std::pow(10.0, dice.real(-9.0, -2.0));
}

/// The tally of the plain links by its definition.
struct Sums {
  double worst_m = 0.0, sum_m = 0.0, worst_m3s = 0.0, flow_m3s = 0.0, steepest = 0.0;
};

}  // namespace

TEST_CASE("every plain pipe of random networks is linearised and counted as it is alone") {
  long compared = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    const Kernel kernel = plain::kernel(plain::random_network(seed));  // both laws of friction
    steady::Workspace work(kernel);
    work.read_kernel();
    work.first_guess();
    PlainLinks links;
    links.sort(kernel);
    std::vector<char> other(kernel.links.size(), 0);
    for (const std::uint32_t k : links.others()) other[k] = 1;
    plain::Dice dice(seed);
    for (int round = 0; round < 4; ++round) {
      shake(work, dice);
      work.predicted_m3s.assign(kernel.links.size(), -77.0);
      steady::LinkTally tally;
      links.linearise(work, tally);
      Sums sums;
      for (std::size_t k = 0; k < kernel.links.size(); ++k) {
        CAPTURE(seed, round, k);
        if (other[k]) {
          REQUIRE(work.predicted_m3s[k] == -77.0);
          continue;
        }
        const Link& link = kernel.links[k];
        const double q = work.state.flow_m3s[k];
        const steady::LinkStep alone =
            steady::linearise(kernel, link, q, work.state.head_m[at(link.a)], work.state.head_m[at(link.b)]);
        // Laws at once and one by one agree to 1e-15 of the loss.
        REQUIRE(std::abs(work.predicted_m3s[k] - alone.flow_m3s) <=
                1e-12 * (std::abs(alone.flow_m3s) + std::abs(q)));
        REQUIRE(work.alpha[k] == Approx(alone.alpha).epsilon(1e-12));
        REQUIRE(work.beta[k] == work.alpha[k]);
        REQUIRE(work.state.control[k] == alone.control);
        const double left_m = std::abs(alone.residual_m);
        sums.worst_m = std::max(sums.worst_m, left_m);
        sums.sum_m += left_m;
        sums.worst_m3s = std::max(sums.worst_m3s, std::abs(alone.flow_m3s - q));
        sums.flow_m3s += std::abs(q);
        sums.steepest = std::max(sums.steepest, alone.alpha);
        ++compared;
      }
      CHECK(tally.worst_m == Approx(sums.worst_m).epsilon(1e-11));
      CHECK(tally.sum_m == Approx(sums.sum_m).epsilon(1e-11));
      CHECK(tally.worst_m3s == Approx(sums.worst_m3s).epsilon(1e-11));
      CHECK(tally.flow_m3s == Approx(sums.flow_m3s).epsilon(1e-11));
      CHECK(tally.steepest == Approx(sums.steepest).epsilon(1e-11));
    }
  }
  CHECK(compared > 5000);
}

TEST_CASE("a tally goes on from what other links have put in, and what is no number stays in it") {
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 5.0}, {.fixed = true, .head_m = 5.0}};
  kernel.add_pipe(0, 1, pipe(), 10.0, 1.0);
  kernel.add_pipe(0, 1, pipe(), 20.0, 1.0);
  steady::Workspace work(kernel);
  work.read_kernel();
  work.first_guess();
  PlainLinks links;
  links.sort(kernel);
  steady::LinkTally tally{.worst_m = 3.0, .sum_m = 4.0, .worst_m3s = 5.0, .flow_m3s = 6.0, .steepest = 1e9};
  links.linearise(work, tally);
  CHECK(tally.worst_m == 3.0);
  CHECK(tally.sum_m == 4.0);
  CHECK(tally.worst_m3s == 5.0);
  CHECK(tally.flow_m3s == 6.0);
  CHECK(tally.steepest == 1e9);
  work.state.flow_m3s[0] = std::numeric_limits<double>::quiet_NaN();  // the first of two
  links.linearise(work, tally);
  CHECK(std::isnan(tally.worst_m));
}

TEST_CASE("what a double drops of the heads counts where it is carried") {
  Kernel kernel;
  kernel.nodes.resize(2);
  kernel.add_pipe(0, 1, pipe(0.1), 1e-3, 0.0);
  steady::Workspace work(kernel);
  work.read_kernel();
  work.state.head_m = {50.0, 50.0};
  work.carry_low();
  work.low_m = {3e-15, 1e-15};  // 50 m are good to 7e-15
  PlainLinks links;
  links.sort(kernel);
  steady::LinkTally tally;
  links.linearise(work, tally);
  CHECK(tally.worst_m == Approx(2e-15).epsilon(1e-12));
  CHECK(work.predicted_m3s[0] == Approx(2e-15 * work.alpha[0]).epsilon(1e-12));
}

TEST_CASE("only a full pipe between two places that water may take either way is plain") {
  const auto plain = [](auto&& change) {
    Kernel kernel;
    kernel.nodes.resize(2);
    kernel.add_pipe(0, 1, pipe(), 10.0, 1.0);
    change(kernel);
    PlainLinks links;
    links.sort(kernel);
    return links.others().empty();
  };
  CHECK(plain([](Kernel&) {}));
  CHECK_FALSE(plain([](Kernel& k) { k.links[0].shut = true; }));
  CHECK_FALSE(plain([](Kernel& k) { k.links[0].most_m3s = 1e-3; }));
  CHECK_FALSE(plain([](Kernel& k) { k.links[0].backwards = 0; }));
  CHECK_FALSE(plain([](Kernel& k) { k.links[0].b = -1; }));
  CHECK_FALSE(plain([](Kernel& k) { k.links[0].forward_column = 0; }));
  CHECK_FALSE(plain([](Kernel& k) { k.lengths_m[0] = 0.0; }));
  CHECK_FALSE(plain([](Kernel& k) {  // another length on the way back
    k.links[0].backward = static_cast<std::uint32_t>(k.controls.size());
    k.controls.push_back({.lengths = static_cast<std::uint32_t>(k.lengths_m.size())});
    k.lengths_m.push_back(11.0);
  }));
  CHECK_FALSE(plain([](Kernel& k) { k.add_opening(1, 0.0, 0.01, 1.0, 1.31e-6); }));
}

TEST_CASE("local losses are those of the direction that the water takes") {
  // A sudden widening costs more than the narrowing that it is on the way back.
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 8.0}, {.fixed = true, .head_m = 5.0}};
  kernel.add_pipe(0, 1, pipe(), 10.0, 4.0);
  kernel.links[0].backward = static_cast<std::uint32_t>(kernel.controls.size());
  kernel.controls.push_back(kernel.controls[0]);
  kernel.controls.back().quadratic_s2m5 *= 0.25;
  steady::Workspace work(kernel);
  work.read_kernel();
  work.first_guess();
  PlainLinks links;
  links.sort(kernel);
  REQUIRE(links.others().empty());
  for (const double q : {1e-3, -1e-3}) {
    work.state.flow_m3s[0] = q;
    steady::LinkTally tally;
    links.linearise(work, tally);
    const double friction_m = pipe().per_metre(1e-3).head_m * 10.0;
    const double local_m = kernel.controls[q > 0.0 ? 0 : 1].quadratic_s2m5 * 1e-6;
    CHECK(tally.worst_m ==
          Approx(std::abs(3.0 - (q > 0.0 ? 1.0 : -1.0) * (friction_m + local_m))).epsilon(1e-9));
  }
}

TEST_CASE("pipes of another law than the first are left to others") {
  Kernel kernel;
  kernel.nodes.resize(2);
  kernel.add_pipe(0, 1, pipe(0.03), 10.0, 0.0);
  kernel.add_pipe(0, 1, pipe(0.03, losses::Law::hazen_williams), 10.0, 0.0);
  PlainLinks links;
  links.sort(kernel);
  CHECK(links.others() == std::vector<std::uint32_t>{1});
}

TEST_CASE("new figures of a link are taken over in its place, and a link that changes its kind is told of") {
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 8.0}, {.fixed = true, .head_m = 5.0}};
  for (int i = 0; i < 3; ++i) kernel.add_pipe(0, 1, pipe(), 10.0 + i, 1.0);
  steady::Workspace work(kernel);
  work.read_kernel();
  work.first_guess();
  work.state.flow_m3s = {1e-3, -2e-3, 0.0};
  PlainLinks links;
  links.prepare(kernel);

  kernel.terms[kernel.links[1].term] = pipe(0.05);
  kernel.lengths_m[kernel.controls[kernel.links[1].forward].lengths] = 44.0;
  kernel.controls[kernel.links[1].forward].quadratic_s2m5 = 3e4;
  kernel.links[2].start_m3s *= 2.0;
  REQUIRE(links.update(kernel, 1));
  REQUIRE(links.update(kernel, 2));
  steady::LinkTally tally;
  links.linearise(work, tally);
  for (std::size_t k = 0; k < 3; ++k) {
    const steady::LinkStep alone =
        steady::linearise(kernel, kernel.links[k], work.state.flow_m3s[k], 8.0, 5.0);
    CHECK(work.predicted_m3s[k] == Approx(alone.flow_m3s).epsilon(1e-12));
    CHECK(work.alpha[k] == Approx(alone.alpha).epsilon(1e-12));
  }

  kernel.links[0].shut = true;
  CHECK_FALSE(links.update(kernel, 0));
  links.sort(kernel);
  CHECK(links.others() == std::vector<std::uint32_t>{0});
  CHECK(links.update(kernel, 0));  // still none of the plain ones
  kernel.links[0].shut = false;
  CHECK_FALSE(links.update(kernel, 0));  // it has become one
  kernel.terms[kernel.links[1].term] = pipe(0.05, losses::Law::hazen_williams);
  CHECK_FALSE(links.update(kernel, 1));
}

TEST_CASE("no link at all adds nothing") {
  const Kernel kernel;
  steady::Workspace work(kernel);
  work.read_kernel();
  PlainLinks links;
  links.sort(kernel);
  steady::LinkTally tally;
  links.linearise(work, tally);
  CHECK(links.others().empty());
  CHECK(tally.sum_m == 0.0);
  CHECK(tally.steepest == 0.0);
}

TEST_CASE("friction kept from before is that of the flows, whatever has changed meanwhile") {
  plain::Dice dice(11);
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = 8.0}, {.fixed = true, .head_m = 5.0}};
  for (int i = 0; i < 21; ++i) kernel.add_pipe(0, 1, pipe(dice.real(0.02, 0.1)), dice.real(5.0, 50.0), 1.0);
  steady::Workspace work(kernel);
  work.read_kernel();
  work.first_guess();
  PlainLinks links;
  links.prepare(kernel);
  for (int round = 0; round < 200; ++round) {
    if (dice.chance(0.3)) shake(work, dice);
    work.state.head_m = {dice.real(0.0, 9.0), dice.real(0.0, 9.0)};
    for (int changes = dice.whole(0, 3); changes > 0; --changes) {
      const int k = dice.whole(0, 20);
      kernel.terms[kernel.links[at(k)].term] = pipe(dice.real(0.02, 0.1));
      REQUIRE(links.update(kernel, static_cast<std::uint32_t>(k)));
    }
    steady::LinkTally tally;
    links.linearise(work, tally);
    for (std::size_t k = 0; k < kernel.links.size(); ++k) {
      const steady::LinkStep alone = steady::linearise(kernel, kernel.links[k], work.state.flow_m3s[k],
                                                       work.state.head_m[0], work.state.head_m[1]);
      CHECK(work.predicted_m3s[k] == Approx(alone.flow_m3s).epsilon(1e-11));
      CHECK(work.alpha[k] == Approx(alone.alpha).epsilon(1e-11));
    }
  }
}

TEST_CASE("the flow foreseen along the bend of a law errs by the third order, not the second") {
  for (const bool turned : {false, true}) {
    const double sign = turned ? -1.0 : 1.0;
    std::vector<double> off;
    for (const double share : {0.04, 0.02}) {
      Kernel kernel;
      kernel.nodes = {{.fixed = true}, {.fixed = true}};
      kernel.add_pipe(0, 1, pipe(0.03, losses::Law::hazen_williams), 100.0, 0.0);
      const auto loss_m = [&](double q) { return 100.0 * kernel.terms[0].per_metre(q).head_m; };
      steady::Workspace work(kernel);
      work.read_kernel();
      const double q = 1e-3, target = q * (1.0 + share);
      work.state.flow_m3s = {sign * q};
      work.state.head_m = {sign * loss_m(target), 0.0};
      PlainLinks links;
      links.prepare(kernel);
      steady::LinkTally tally;
      links.linearise(work, tally);
      const double along_tangent = std::abs(work.predicted_m3s[0] - sign * target);
      CHECK(links.bend(work, {work.predicted_m3s[0]}) > 0.5 * along_tangent);
      off.push_back(std::abs(work.predicted_m3s[0] - sign * target));
      CHECK(off.back() < 0.1 * along_tangent);
    }
    CHECK(off[0] / off[1] == Approx(8.0).margin(1.0));  // halved, an error of the third order is an eighth
  }
}
