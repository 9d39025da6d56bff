// What the solver makes of a kernel before its first step: which heads it looks for, between what bounds, and
// where it begins.
#include "runnel/steady/workspace.h"

#include <catch2/catch.hpp>

using namespace runnel;
using steady::Hold;
using steady::Kernel;
using steady::unbounded;
using steady::Workspace;

namespace {

losses::PipeFriction pipe() { return {{}, 0.03, 1.5e-6, 150.0, 1.31e-6}; }

/// A spring box of 20 m to a joint with a draw, on to a tank, and a plain place beyond it with an opening.
Kernel street() {
  Kernel kernel;
  kernel.nodes = {{.inflow_m3s = 2e-3, .lip_m = 20.0},
                  {.draw_m3s = 3e-4, .draw_floor_m = 9.0},
                  {.fixed = true, .head_m = 12.0},
                  {}};
  kernel.add_pipe(0, 1, pipe(), 100.0, 1.0);
  kernel.add_pipe(1, 2, pipe(), 50.0, 1.0);
  kernel.add_pipe(2, 3, pipe(), 50.0, 1.0);
  kernel.add_opening(3, 4.0, 0.01, 2.5, 1.31e-6);
  return kernel;
}

struct Bounds {
  double highest_m, lowest_m, start_m;
};
Bounds bounds(const Kernel& kernel) {
  Workspace work(kernel);
  work.read_kernel();
  return {work.highest_m, work.lowest_m, work.start_m};
}

}  // namespace

TEST_CASE("places whose head is not given are numbered in turn, and links know their ends by those numbers") {
  const Kernel kernel = street();
  const Workspace work(kernel);
  CHECK(work.free == std::vector<int>{0, 1, 3});
  CHECK(work.index == std::vector<int>{0, 1, -1, 2});
  REQUIRE(work.ends.size() == 4);
  const std::pair<int, int> expected[] = {{0, 1}, {1, -1}, {-1, 2}, {2, -1}};
  for (std::size_t k = 0; k < 4; ++k) CHECK(std::pair(work.ends[k].a, work.ends[k].b) == expected[k]);
}

TEST_CASE("what is asked of places and what can hold them is read, and read again when it changes") {
  Kernel kernel = street();
  Workspace work(kernel);
  work.read_kernel();
  CHECK(work.asked_m3s == std::vector<double>{2e-3, -3e-4, 0.0, 0.0});
  CHECK(work.held == std::vector<int>{0, 1});
  CHECK(work.most_inflow_m3s == 2e-3);
  CHECK(work.ends_suffice);
  for (std::size_t k = 0; k < 4; ++k) CHECK_FALSE(work.capped[k]);
  CHECK(work.two_way[0]);
  CHECK_FALSE(work.two_way[3]);

  kernel.nodes[1].draw_m3s = 0.0;
  kernel.nodes[0].inflow_m3s = -5e-3;  // a draw that is always met counts by its size
  kernel.nodes[2].lip_m = 13.0;        // of a given head: it holds nothing
  kernel.links[1].most_m3s = 1e-4;
  kernel.links[0].backwards = 0;
  kernel.links[2].forwards = 2;
  work.read_kernel();
  CHECK(work.asked_m3s == std::vector<double>{-5e-3, 0.0, 0.0, 0.0});
  CHECK(work.held == std::vector<int>{0});
  CHECK(work.most_inflow_m3s == 5e-3);
  CHECK(work.capped[1]);
  CHECK_FALSE(work.two_way[0]);
  CHECK_FALSE(work.ends_suffice);
}

TEST_CASE("one more control than the ends, or a way back of another law, and the ends do not suffice") {
  const auto suffice = [](auto&& change) {
    Kernel kernel = street();
    change(kernel);
    Workspace work(kernel);
    work.read_kernel();
    return work.ends_suffice;
  };
  CHECK(suffice([](Kernel&) {}));
  CHECK(suffice([](Kernel& k) { k.links[0].backwards = 0; }));
  CHECK_FALSE(suffice([](Kernel& k) { k.links[0].forwards = 2; }));
  CHECK_FALSE(suffice([](Kernel& k) { k.links[0].backwards = 2; }));
  CHECK_FALSE(suffice([](Kernel& k) { k.controls[k.links[0].forward].to_node = false; }));
}

TEST_CASE("heads are kept where something could drive them") {
  // Ten metres beyond what is given; ten thousand kilometres where an inflow has no lip or a draw no floor.
  Kernel kernel = street();
  const Bounds usual = bounds(kernel);
  CHECK(usual.start_m == 20.0);  // the lip
  CHECK(usual.highest_m == 30.0);
  CHECK(usual.lowest_m == -6.0);  // the opening at 4 m

  kernel.nodes[1].draw_floor_m = 2.0;
  CHECK(bounds(kernel).lowest_m == -8.0);
  kernel.nodes[1].draw_floor_m = -unbounded;
  CHECK(bounds(kernel).lowest_m < -1e6);
  CHECK(bounds(kernel).highest_m == 30.0);

  kernel = street();
  kernel.nodes[3].inflow_m3s = -1e-4;
  CHECK(bounds(kernel).lowest_m < -1e6);
  kernel.nodes[3].inflow_m3s = 1e-4;
  CHECK(bounds(kernel).highest_m > 1e6);
  CHECK(bounds(kernel).start_m == 20.0);
  kernel.nodes[3].lip_m = 25.0;
  CHECK(bounds(kernel).highest_m == 35.0);

  kernel = street();
  steady::Control& valve = kernel.controls[kernel.links[1].forward];
  valve.from_node = false, valve.source_head_m = 44.0;
  CHECK(bounds(kernel).highest_m == 54.0);
  valve.to_node = false, valve.sink_head_m = -unbounded;  // an idle control bounds nothing
  CHECK(bounds(kernel).lowest_m == -6.0);
}

TEST_CASE("a kernel that gives no head is bounded all the same") {
  Kernel kernel;
  kernel.nodes.resize(2);
  kernel.add_pipe(0, 1, pipe(), 10.0, 0.0);
  const Bounds alone = bounds(kernel);
  CHECK(alone.start_m == 0.0);
  CHECK(alone.lowest_m == -10.0);
  CHECK(alone.highest_m == 10.0);
  kernel.add_opening(1, 7.0, 0.01, 1.0, 1.31e-6);
  CHECK(bounds(kernel).start_m == 7.0);
}

TEST_CASE("a search begins at rest with every head as high as it can be, whatever was there before") {
  const Kernel kernel = street();
  Workspace work(kernel);
  work.read_kernel();
  work.state.flow_m3s = {1.0, 2.0, 3.0, 4.0};
  work.state.hold = {Hold::lip, Hold::draw_none, Hold::free, Hold::free};
  work.first_guess();
  CHECK(work.state.head_m == std::vector<double>{20.0, 20.0, 12.0, 20.0});
  CHECK(work.state.flow_m3s == std::vector<double>(4, 0.0));
  CHECK(work.state.hold == std::vector<Hold>(4, Hold::free));
}

TEST_CASE("a search from a state found earlier keeps all of it but heads that are given now") {
  const Kernel kernel = street();
  Workspace work(kernel);
  work.read_kernel();
  steady::KernelState near;
  near.head_m = {19.0, 15.0, 11.0, 10.0};
  near.flow_m3s = {1e-3, 2e-3, 3e-3, 4e-3};
  near.hold = {Hold::free, Hold::draw_short, Hold::free, Hold::free};
  work.start_from(near);
  CHECK(work.state.head_m == std::vector<double>{19.0, 15.0, 12.0, 10.0});
  CHECK(work.state.flow_m3s == near.flow_m3s);
  CHECK(work.state.hold == near.hold);
}

TEST_CASE("what a double drops of a head is carried when asked for, and gone when the head is set") {
  const Kernel kernel = street();
  Workspace work(kernel);
  work.read_kernel();
  work.first_guess();
  CHECK_FALSE(work.fine());
  CHECK(work.low(1) == 0.0);
  work.carry_low();
  REQUIRE(work.fine());
  work.low_m[1] = 1e-17, work.low_m[3] = 2e-17;
  CHECK(work.head(1).m == 20.0);
  CHECK(work.head(1).above(work.head(2)) == 8.0);
  CHECK(work.head(1).above(work.head(3)) == Approx(-1e-17).epsilon(1e-12));  // 20 m are good to 4e-15
  work.carry_low();                                                          // again: nothing is lost
  CHECK(work.low(1) == 1e-17);
  work.set_head(1, 15.0);
  CHECK(work.low(1) == 0.0);
  CHECK(work.low(3) == 2e-17);
}
