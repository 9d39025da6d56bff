// A part between fixed levels: cut out of a kernel, kept, changed in place, and its slopes.
#include "runnel/filling/settled_part.h"

#include <catch2/catch.hpp>

#include "runnel/steady/newton.h"

using namespace runnel;
using filling::Part;
using filling::SettledPart;

namespace {

/// Two tanks with a tee between them and an opening on the tee; a third tank hangs on the second by a pipe.
steady::Kernel tee() {
  steady::Kernel kernel;
  kernel.nodes.resize(4);
  for (const int v : {0, 2, 3}) kernel.nodes[static_cast<std::size_t>(v)].fixed = true;
  kernel.nodes[0].head_m = 20.0;
  kernel.nodes[2].head_m = 12.0;
  kernel.nodes[3].head_m = 5.0;
  const auto pipe = [](double bore_m) { return losses::PipeFriction({}, bore_m, 7e-6, 140.0, 1.139e-6); };
  kernel.add_pipe(0, 1, pipe(0.04), 300.0, 1.5);
  kernel.add_pipe(1, 2, pipe(0.03), 200.0, 1.5);
  kernel.add_pipe(2, 3, pipe(0.03), 100.0, 1.5);
  kernel.add_opening(1, 8.0, 0.01, 2.5, 1.139e-6);
  return kernel;
}

}  // namespace

TEST_CASE("fixed heads cut a kernel into parts that share no free place") {
  const std::vector<Part> parts = filling::cut_apart(tee());
  REQUIRE(parts.size() == 2);
  CHECK(parts[0].links == std::vector<int>{0, 1, 3});
  CHECK(parts[0].nodes == std::vector<int>{1, 0, 2});  // the free place first, then those it borders on
  CHECK(parts[1].links == std::vector<int>{2});
  CHECK(parts[1].nodes == std::vector<int>{2, 3});
  CHECK(parts[1].kernel.links[0].a == 0);
  CHECK(parts[1].kernel.links[0].b == 1);
}

TEST_CASE("the slopes of a part are those of its flows") {
  long work = 0;
  SettledPart part(std::move(filling::cut_apart(tee())[0]));
  REQUIRE(part.settle(work));
  for (const auto& [place, level_m] : {std::pair(1, 20.0), std::pair(2, 12.0)}) {
    std::vector<double> slope;
    REQUIRE(part.slopes(place, slope));
    constexpr double lift_m = 1e-4;
    std::vector<double> above;
    part.set_level(place, level_m + lift_m);
    REQUIRE(part.settle(work));
    above = part.state().flow_m3s;
    part.set_level(place, level_m - lift_m);
    REQUIRE(part.settle(work));
    for (std::size_t k = 0; k < above.size(); ++k)  // the difference errs by its square and by rounding
      CHECK(slope[k] == Approx((above[k] - part.state().flow_m3s[k]) / (2.0 * lift_m)).epsilon(1e-6));
    part.set_level(place, level_m);
    REQUIRE(part.settle(work));
  }
}

TEST_CASE("a part is not solved again unless something in it has changed") {
  long work = 0;
  SettledPart part(std::move(filling::cut_apart(tee())[0]));
  REQUIRE(part.settle(work));
  const long once = work;
  part.set_level(1, 20.0);
  part.set_valve(0, false, steady::unbounded);
  REQUIRE(part.settle(work));
  CHECK(work == once);
  const double flow_m3s = part.state().flow_m3s[0];
  part.set_valve(0, false, 0.5 * flow_m3s);
  REQUIRE(part.settle(work));
  CHECK(work > once);
  CHECK(part.state().flow_m3s[0] == Approx(0.5 * flow_m3s).epsilon(1e-12));  // it is set there
  part.set_valve(0, true, steady::unbounded);
  REQUIRE(part.settle(work));
  CHECK(part.state().flow_m3s[0] == 0.0);
}

TEST_CASE("a part answers after changes what a fresh kernel does") {
  long work = 0;
  SettledPart part(std::move(filling::cut_apart(tee())[0]));
  for (double level_m = 20.0; level_m > 8.5; level_m -= 0.7) {
    part.set_level(1, level_m);
    REQUIRE(part.settle(work));
    const steady::KernelState fresh = steady::solve(part.kernel());
    REQUIRE(fresh.outcome == steady::Outcome::settled);
    for (std::size_t k = 0; k < fresh.flow_m3s.size(); ++k)  // of some 1e-3 m3/s; both are polished
      CHECK(part.state().flow_m3s[k] == Approx(fresh.flow_m3s[k]).margin(1e-12));
  }
}

TEST_CASE("behind shut valves no level is felt, and once they open it is the one set meanwhile") {
  long work = 0;
  SettledPart part(std::move(filling::cut_apart(tee())[0]));
  part.set_valve(1, true, steady::unbounded);
  REQUIRE(part.settle(work));
  const long shut = work;
  part.set_level(2, 11.0);
  REQUIRE(part.settle(work));
  CHECK(work == shut);
  part.set_valve(1, false, steady::unbounded);
  REQUIRE(part.settle(work));
  SettledPart fresh(std::move(filling::cut_apart(tee())[0]));
  fresh.set_level(2, 11.0);
  REQUIRE(fresh.settle(work));
  for (std::size_t k = 0; k < 3; ++k)
    CHECK(part.state().flow_m3s[k] == Approx(fresh.state().flow_m3s[k]).epsilon(1e-10));
}
