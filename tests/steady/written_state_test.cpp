// How a solved kernel is told of places and lines, from kernels' answers made up for the purpose.
#include "runnel/steady/written_state.h"

#include <catch2/catch.hpp>

#include "runnel/network/no_flow.h"
#include "runnel/steady/newton.h"
#include "steady/head_budget.h"
#include "steady/small_systems.h"

using namespace runnel;
using network::LineCondition;
using network::PartKind;
using steady::Hold;
using steady::KernelState;
using steady::Outcome;
using steady::State;
using test::per_square;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// A system, its kernel and an answer to be tampered with.
struct Told {
  network::System system;
  steady::Assembly assembly;
  KernelState solved;
  explicit Told(const network::Model& model)
      : system(support::resolved(model)),
        assembly(steady::assemble(system)),
        solved(steady::solve(assembly.kernel)) {
    REQUIRE(solved.outcome == Outcome::settled);
  }
  State state() const { return steady::write_state(system, assembly, solved); }
};

network::Model box_to_tank() {
  network::Model m = small::empty();
  small::box(m, "spring", 2e-3, 100.0, 100.6);
  small::tank(m, "tank", 70.0, 69.0);
  small::line(m, "main", "spring", "tank", 0.03, {{0, 100}, {200, 70}});
  return m;
}

}  // namespace

TEST_CASE("a box spills what its lip takes up, and nothing while it is held by its balance") {
  Told told(box_to_tank());
  const std::size_t box = at(told.assembly.nodes_of(runnel::network::PlaceKind::box)[0]);
  told.solved.hold[box] = Hold::lip;
  told.solved.surplus_m3s[box] = 4e-4;
  CHECK(told.state().boxes[0].spill_m3s == 4e-4);
  told.solved.surplus_m3s[box] = 0.5 * network::flow_grain_m3s;
  CHECK(told.state().boxes[0].spill_m3s == 0.0);
  told.solved.hold[box] = Hold::free;
  told.solved.surplus_m3s[box] = 4e-4;
  CHECK(told.state().boxes[0].spill_m3s == 0.0);
}

TEST_CASE(
    "what comes to a box is its spring and what its lines bring, to a tank what they bring less what they "
    "take") {
  network::Model m = small::empty();
  small::box(m, "upper", 1e-3, 100.0, 100.6);
  small::box(m, "break", 0.0, 80.0, 80.6);
  small::tank(m, "tank", 60.0, 59.0);
  small::outlet(m, "end", 40.0, 0.01, 2.5);
  small::line(m, "a", "upper", "break", 0.03, {{0, 100}, {200, 80.3}});
  small::line(m, "b", "break", "tank", 0.03, {{0, 80}, {200, 60}});
  small::line(m, "c", "tank", "end", 0.03, {{0, 58.5}, {200, 40}});
  Told told(m);
  told.solved.flow_m3s = {7e-4, 5e-4, 3e-4};
  const State state = told.state();
  CHECK(state.boxes[0].inflow_m3s == 1e-3);
  CHECK(state.boxes[1].inflow_m3s == 7e-4);
  CHECK(state.tanks[0].inflow_m3s == Approx(2e-4).epsilon(1e-12));
  CHECK(*state.tanks[0].level_m == 59.0);
  CHECK(state.outlets[0].flow_m3s == 3e-4);
  // Before the opening stands what drives the water through it.
  CHECK(*state.outlets[0].pressure_head_m == Approx(per_square(2.5, 0.01) * 9e-8).epsilon(1e-9));
}

TEST_CASE("flows below the grain of answers are none, either way") {
  Told told(box_to_tank());
  for (const double q : {0.5 * network::flow_grain_m3s, -0.5 * network::flow_grain_m3s}) {
    told.solved.flow_m3s[0] = q;
    const State state = told.state();
    CHECK(state.lines[0].flow_m3s == 0.0);
    CHECK(state.tanks[0].inflow_m3s == 0.0);
  }
  told.solved.flow_m3s[0] = 2.0 * network::flow_grain_m3s;
  CHECK(told.state().lines[0].flow_m3s == 2.0 * network::flow_grain_m3s);
}

TEST_CASE("a draw is told as met, as what it gets, or as nothing, by what holds its place") {
  Told told(small::village());
  const std::size_t tee = at(told.assembly.nodes_of(runnel::network::PlaceKind::joint)[0]);
  told.solved.surplus_m3s[tee] = 3e-5;
  const auto given = [&](Hold hold) {
    told.solved.hold[tee] = hold;
    const State state = told.state();
    CHECK(state.joints[0].draw_asked_m3s == 1e-4);
    return state.joints[0].draw_given_m3s;
  };
  CHECK(given(Hold::free) == 1e-4);
  CHECK(given(Hold::draw_short) == 3e-5);
  CHECK(given(Hold::draw_none) == 0.0);
}

TEST_CASE("what a line could carry is what its source at its highest drives to its end") {
  const Told told(box_to_tank());
  const State state = told.state();
  const double q = *state.lines[0].capacity_m3s;
  const auto& plan = told.assembly.plans[0];
  const double friction_m = plan.friction[0].per_metre(q).head_m * std::hypot(200.0, 30.0);
  // From the lip at 100.6 m down to the inlet at 70 m, half a velocity head at the entrance and one at the
  // exit.
  CHECK(friction_m + per_square(1.5, 0.03) * q * q == Approx(30.6).epsilon(1e-9));
  CHECK(*state.lines[0].governed_by_station_m == 200.0);  // its own end, which pours in over the water
  network::Model drowned = box_to_tank();
  drowned.tanks[0].level = Length::metres(70.4);
  const Told below(drowned);
  const State deep = below.state();
  const double less = *deep.lines[0].capacity_m3s;
  CHECK(plan.friction[0].per_metre(less).head_m * std::hypot(200.0, 30.0) +
            per_square(1.5, 0.03) * less * less ==
        Approx(30.2).epsilon(1e-9));
  CHECK_FALSE(deep.lines[0].governed_by_station_m);
  network::Model m = box_to_tank();
  m.pipelines[0].survey.insert(m.pipelines[0].survey.begin() + 1,
                               {Length::metres(150.0), Length::metres(99.0)});
  const State crest = Told(m).state();
  REQUIRE(crest.lines[0].governed_by_station_m);
  CHECK(*crest.lines[0].governed_by_station_m == 150.0);
  CHECK(*crest.lines[0].capacity_m3s < 0.5 * q);
}

TEST_CASE("a line's capacity is never told as less than its flow") {
  Told told(box_to_tank());
  told.solved.flow_m3s[0] *= 1.0 + 1e-9;
  CHECK(*told.state().lines[0].capacity_m3s >= told.solved.flow_m3s[0]);
}

TEST_CASE("a tank's floats are told as shut once every line with one is held") {
  network::Model m = box_to_tank();
  small::box(m, "other", 1e-3, 90.0, 90.6);
  small::line(m, "side", "other", "tank", 0.03, {{0, 90}, {100, 70}});
  const auto valve = [](double shuts_m) {
    return network::FloatValve{Length::metres(shuts_m), Length::metres(shuts_m - 0.1), 0.0};
  };
  CHECK_FALSE(Told(m).state().tanks[0].float_shut);  // none there
  m.pipelines[0].float_valve = valve(69.0);
  CHECK(Told(m).state().tanks[0].float_shut);  // the one there is, at its level; the other line has none
  m.pipelines[1].float_valve = valve(69.5);
  CHECK_FALSE(Told(m).state().tanks[0].float_shut);
  m.pipelines[1].float_valve = valve(68.5);
  CHECK(Told(m).state().tanks[0].float_shut);
}

TEST_CASE("a line whose valve is shut says so, and a check valve that holds water back") {
  CHECK(Told(small::blocked()).state().line("shut")->condition == LineCondition::shut);
  CHECK(Told(small::blocked()).state().line("over")->condition == LineCondition::blocked);
  network::Model m = small::empty();
  small::tank(m, "low", 20.0, 20.0);
  small::tank(m, "high", 30.0, 31.0);
  auto& line = small::line(m, "main", "low", "high", 0.03, {{0, 19.5}, {100, 30}});
  line.parts = {small::part(PartKind::check_valve, "C", 50.0, 2.0)};
  Told told(m);
  State state = told.state();
  CHECK(state.lines[0].flow_m3s == 0.0);
  CHECK(state.lines[0].check_valve_shut);
  // With the levels the other way round nothing is held back by it.
  m.tanks[0].level = Length::metres(21.0);
  m.tanks[1].level = Length::metres(20.5), m.tanks[1].floor = Length::metres(19.0),
  m.tanks[1].inlet = Length::metres(20.0);
  m.pipelines[0].survey.back().elevation = Length::metres(20.0);
  state = Told(m).state();
  CHECK(state.lines[0].flow_m3s > 0.0);
  CHECK_FALSE(state.lines[0].check_valve_shut);
}

TEST_CASE("places that no water comes to are dry and have no head") {
  network::Model m = small::empty();
  small::box(m, "spring", 0.0, 50.0, 51.0);
  small::joint(m, "tee", 30.0, 1e-4);
  small::outlet(m, "end", 20.0, 0.01, 2.5);
  small::line(m, "main", "spring", "tee", 0.03, {{0, 50}, {200, 30}});
  small::line(m, "out", "tee", "end", 0.03, {{0, 30}, {100, 20}});
  const State state = Told(m).state();
  CHECK(state.boxes[0].dry);
  CHECK(state.joints[0].dry);
  CHECK_FALSE(state.joints[0].grade_m);
  CHECK(state.joints[0].draw_given_m3s == 0.0);
  CHECK(state.outlets[0].dry);
  CHECK(state.outlets[0].flow_m3s == 0.0);
}

TEST_CASE("the outcome and the steps are handed on") {
  Told told(box_to_tank());
  for (const Outcome outcome : {Outcome::settled, Outcome::iteration_limit, Outcome::not_finite}) {
    told.solved.outcome = outcome;
    CHECK(told.state().outcome == outcome);
  }
  CHECK(told.state().history.size() == told.solved.history.size());
}

TEST_CASE("with its proof a state that is right holds, and one with a flow made up does not") {
  Told told(small::village());
  CHECK(steady::write_proved(told.system, told.assembly, told.solved).proof.consistent);
  CHECK_FALSE(told.state().proof.consistent);  // left to the caller
  told.solved.flow_m3s[0] *= 1.001;
  CHECK_FALSE(steady::write_proved(told.system, told.assembly, told.solved).proof.consistent);
}
