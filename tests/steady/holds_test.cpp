// What holds a place, by the rule of complementarity written out: it spills only at its lip, and a draw gets
// less than is asked only where the head has sunk to its floor.
#include "runnel/steady/holds.h"

#include <catch2/catch.hpp>
#include <limits>

#include "steady/plain_network.h"

using namespace runnel;
using steady::Hold;
using steady::Kernel;
using steady::KernelNode;
using steady::Workspace;

namespace {

constexpr double lip_m = 10.0, floor_m = 4.0, draw_m3s = 2e-3;

losses::PipeFriction pipe() { return {{}, 0.03, 1.5e-6, 150.0, 1.31e-6}; }

/// One place between two tanks; what comes to it is set by the flows of two pipes, both drawn towards it.
struct Place {
  explicit Place(const KernelNode& node) : work(kernel_of(kernel, node)) {
    work.read_kernel();
    work.first_guess();
    work.total_flow_m3s = 1e-2;
  }
  static const Kernel& kernel_of(Kernel& kernel, const KernelNode& node) {
    kernel.nodes = {node, {.fixed = true, .head_m = 20.0}, {.fixed = true, .head_m = 0.0}};
    kernel.add_pipe(1, 0, pipe(), 10.0, 0.0);
    kernel.add_pipe(2, 0, pipe(), 10.0, 0.0);
    return kernel;
  }
  void stand(double head_m, double in_m3s, double other_in_m3s = 0.0) {
    work.state.head_m[0] = head_m;
    work.state.flow_m3s = {in_m3s, other_in_m3s};
    steady::balance_places(work);
  }
  Hold chosen(double head_m, double in_m3s) {
    stand(head_m, in_m3s);
    steady::choose_holds(work);
    return work.state.hold[0];
  }
  Hold& hold() { return work.state.hold[0]; }

  Kernel kernel;
  Workspace work;
};

const KernelNode box{.inflow_m3s = 1e-3, .lip_m = lip_m};
const KernelNode tap{.draw_m3s = draw_m3s, .draw_floor_m = floor_m};

}  // namespace

TEST_CASE("what comes to a place is its spring and its lines, less a draw that counts as met") {
  Place place({.inflow_m3s = 5e-3, .draw_m3s = draw_m3s, .draw_floor_m = floor_m});
  place.stand(6.0, 1e-3, -4e-3);
  CHECK(place.work.net_m3s[0] == Approx(5e-3 - 2e-3 + 1e-3 - 4e-3).margin(1e-18));
  CHECK(place.work.net_m3s[1] == -1e-3);  // tanks give and take what they must
  CHECK(place.work.net_m3s[2] == 4e-3);
  for (const Hold short_of_it : {Hold::draw_short, Hold::draw_none}) {
    place.hold() = short_of_it;
    place.stand(6.0, 1e-3, -4e-3);
    CHECK(place.work.net_m3s[0] == Approx(2e-3).epsilon(1e-12));  // all that there is for the draw
  }
}

TEST_CASE("the worst of the balances is what no hold accounts for") {
  Place place({.draw_m3s = draw_m3s, .draw_floor_m = floor_m});
  const auto worst = [&](Hold hold, double in_m3s) {
    place.hold() = hold;
    place.stand(6.0, in_m3s);
    return place.work.worst_net_m3s;
  };
  CHECK(worst(Hold::free, 5e-3) == Approx(3e-3));  // off by 3 L/s either way
  CHECK(worst(Hold::free, -1e-3) == Approx(3e-3));
  CHECK(worst(Hold::draw_none, 1e-3) == Approx(1e-3));
  CHECK(worst(Hold::draw_short, 1e-3) == 0.0);            // the draw takes it
  CHECK(worst(Hold::draw_short, 5e-3) == Approx(3e-3));   // more than is asked
  CHECK(worst(Hold::draw_short, -1e-3) == Approx(1e-3));  // less than nothing

  Place spring(box);
  spring.hold() = Hold::lip;
  spring.stand(lip_m, 0.0);
  CHECK(spring.work.worst_net_m3s == 0.0);  // it spills what comes
  spring.stand(lip_m, -3e-3);
  CHECK(spring.work.worst_net_m3s == Approx(2e-3));  // a spill below zero
}

TEST_CASE("a balance that is no number is not lost among those that are") {
  Place place({});
  place.stand(6.0, std::numeric_limits<double>::quiet_NaN());
  CHECK(std::isnan(place.work.worst_net_m3s));
  place.stand(std::numeric_limits<double>::quiet_NaN(), 0.0);
  CHECK(steady::worst_hold_m(place.work) == 0.0);  // nothing holds it
  Place spring(box);
  spring.stand(std::numeric_limits<double>::quiet_NaN(), 0.0);
  CHECK(std::isnan(steady::worst_hold_m(spring.work)));
}

TEST_CASE("a head beyond what holds it is as wrong as it stands beyond") {
  Place spring(box), draw(tap);
  const auto off = [](Place& place, Hold hold, double head_m) {
    place.hold() = hold;
    place.work.state.head_m[0] = head_m;
    return steady::worst_hold_m(place.work);
  };
  CHECK(off(spring, Hold::free, 10.5) == 0.5);
  CHECK(off(spring, Hold::free, 9.5) == 0.0);
  CHECK(off(spring, Hold::lip, 9.5) == 0.5);
  CHECK(off(spring, Hold::lip, lip_m) == 0.0);
  CHECK(off(draw, Hold::free, 3.5) == 0.5);
  CHECK(off(draw, Hold::free, 4.5) == 0.0);
  CHECK(off(draw, Hold::draw_short, 3.5) == 0.5);
  CHECK(off(draw, Hold::draw_short, 4.5) == 0.5);
  CHECK(off(draw, Hold::draw_none, 4.5) == 0.5);
  CHECK(off(draw, Hold::draw_none, 3.5) == 0.0);
}

TEST_CASE("a state that obeys its holds keeps them, and every other is led to another hold") {
  Place spring(box), draw(tap);
  // A box of 1 L/s: below its lip by its balance, at its lip by what is left over.
  CHECK(spring.chosen(8.0, -1e-3) == Hold::free);
  CHECK(spring.chosen(lip_m, -0.4e-3) == Hold::lip);
  CHECK(spring.chosen(lip_m, -1e-3) == Hold::free);  // all of it leaves by its lines
  CHECK(spring.chosen(lip_m, -1.4e-3) == Hold::free);
  CHECK(spring.chosen(10.5, -1e-3) == Hold::lip);
  // A draw of 2 L/s above 4 m: met, short or none.
  CHECK(draw.chosen(6.0, 2e-3) == Hold::free);
  CHECK(draw.chosen(floor_m, 1e-3) == Hold::draw_short);
  CHECK(draw.chosen(3.0, 0.0) == Hold::draw_none);
  CHECK(draw.chosen(floor_m, 2.5e-3) == Hold::free);
  CHECK(draw.chosen(floor_m, -1e-4) == Hold::draw_none);
}

TEST_CASE("what was chosen does not depend on what held the place before") {
  plain::Dice dice(3);
  for (int round = 0; round < 500; ++round) {
    // Both a lip and a draw, for good measure.
    KernelNode both = box;
    both.draw_m3s = draw_m3s, both.draw_floor_m = floor_m;
    const double head_m = dice.real(2.0, 12.0), in_m3s = dice.real(-5e-3, 5e-3);
    Hold first = Hold::free;
    for (const Hold before : {Hold::free, Hold::lip, Hold::draw_short, Hold::draw_none}) {
      Place place(both);
      place.hold() = before;
      const Hold after = place.chosen(head_m, in_m3s);
      if (before == Hold::free) first = after;
      CHECK(after == first);
    }
  }
}

TEST_CASE("nothing is wrong exactly where every place is complementary") {
  plain::Dice dice(7);
  for (int round = 0; round < 2000; ++round) {
    const bool at_box = dice.chance(0.5);
    Place place(at_box ? box : tap);
    // Heads and inflows of a few values each, so that they meet what they may by chance.
    const double head_m = dice.whole(2, 12), in_m3s = 1e-3 * dice.whole(-3, 3);
    place.stand(head_m, in_m3s);
    const double left_m3s = (at_box ? box.inflow_m3s : 0.0) + in_m3s;
    const bool complementary =
        at_box ? (left_m3s == 0.0 && head_m <= lip_m) || (left_m3s >= 0.0 && head_m == lip_m)
               : (left_m3s == draw_m3s && head_m >= floor_m) ||
                     (left_m3s >= 0.0 && left_m3s <= draw_m3s && head_m == floor_m) ||
                     (left_m3s == 0.0 && head_m <= floor_m);
    CAPTURE(at_box, head_m, in_m3s);
    // 1e-12 m: flows of 1e-3 m3/s, rounded to 1e-19, times the 4,000 m of drop for a m3/s here.
    CHECK((steady::wrong_m(place.work) < 1e-12) == complementary);
  }
}

TEST_CASE("energy left over in links is wrong too") {
  Place place({});
  place.stand(6.0, 0.0);
  CHECK(steady::wrong_m(place.work) == 0.0);
  place.work.tally.sum_m = 0.25;
  CHECK(steady::wrong_m(place.work) == 0.25);
}

TEST_CASE("storage takes in the rise of a head over the step, and only of a head that is looked for") {
  Place place({});
  place.stand(6.0, 3e-3);
  CHECK(steady::stored_m3s(place.work, 0) == 0.0);
  place.work.storage_m2s = 2e-3;
  place.work.stored_from_m = {5.0, 5.0, 5.0};
  CHECK(steady::stored_m3s(place.work, 0) == Approx(2e-3).epsilon(1e-15));
  CHECK(steady::stored_m3s(place.work, 1) == 0.0);
  place.stand(6.0, 3e-3);
  CHECK(place.work.net_m3s[0] == Approx(1e-3).epsilon(1e-12));
}
