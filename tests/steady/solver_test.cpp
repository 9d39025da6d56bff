// A system changed in place answers what one built afresh with the same changes does.
#include "runnel/steady/solver.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "steady/allocations.h"
#include "steady/nasty_system.h"

using namespace runnel;
using steady::Outcome;
using steady::Solver;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// One change of any kind to a solver and to a model of one's own.
class Changes {
 public:
  Changes(Solver& solver, network::Model& model, std::uint64_t seed)
      : solver_(solver), model_(model), dice_(seed) {}

  void one() {
    switch (dice_.whole(0, 6)) {
      case 0:
        return lay();
      case 1:
        return raise();
      case 2:
        return yield();
      case 3:
        return level();
      case 4:
        return draw();
      case 5:
        return shut();
      default:
        return set_valve();
    }
  }

  void lay() {
    const int line = pick(model_.pipelines);
    auto& pipes = model_.pipelines[at(line)].pipes;
    const int pipe = pick(pipes);
    pipes::Pipe by = pipes[at(pipe)].pipe;
    by.bore = by.bore * dice_.real(0.7, 1.5);
    const pipes::Pipe before = std::exchange(pipes[at(pipe)].pipe, by);
    const bool possible = network::resolve(model_).value.has_value();
    CHECK(solver_.lay(line, pipe, by) == possible);
    if (!possible) pipes[at(pipe)].pipe = before;
  }

  void raise() {
    const int line = pick(model_.pipelines);
    auto& survey = model_.pipelines[at(line)].survey;
    if (survey.size() < 3) return;
    const int point = dice_.whole(1, static_cast<int>(survey.size()) - 2);
    const Length by = Length::metres(dice_.real(-2.0, 2.0));
    survey[at(point)].elevation = survey[at(point)].elevation + by;
    solver_.raise(line, point, by);
  }

  void yield() {
    const int box = pick(model_.boxes);
    model_.boxes[at(box)].yield = Flow::from_si(std::pow(10.0, dice_.real(-5.0, -2.0)));
    solver_.yield(box, model_.boxes[at(box)].yield);
  }

  void level() {
    if (model_.tanks.empty()) return;
    const int tank = pick(model_.tanks);
    auto& changed = model_.tanks[at(tank)];
    changed.level = changed.floor + (changed.lip - changed.floor) * dice_.real(0.1, 0.9);
    solver_.level(tank, changed.level);
  }

  void draw() {
    if (model_.joints.empty()) return;
    const int joint = pick(model_.joints);
    model_.joints[at(joint)].draw = Flow::from_si(dice_.real(0.0, 1e-3));
    solver_.draw(joint, model_.joints[at(joint)].draw);
  }

  void shut() {
    if (model_.outlets.empty()) return;
    const int outlet = pick(model_.outlets);
    model_.outlets[at(outlet)].shut = dice_.chance(0.5);
    solver_.shut(outlet, model_.outlets[at(outlet)].shut);
  }

  void set_valve() {
    const int line = pick(model_.pipelines);
    auto& parts = model_.pipelines[at(line)].parts;
    for (std::size_t p = 0; p < parts.size(); ++p) {
      if (parts[p].kind != network::PartKind::valve) continue;
      const double before = std::exchange(parts[p].open, dice_.chance(0.3) ? 0.0 : 1.0);
      const bool possible = network::resolve(model_).value.has_value();
      CHECK(solver_.set_valve(line, static_cast<int>(p), parts[p].open) == possible);
      if (!possible) parts[p].open = before;
    }
  }

 private:
  template <class T>
  int pick(const std::vector<T>& all) {
    return dice_.whole(0, static_cast<int>(all.size()) - 1);
  }

  Solver& solver_;
  network::Model& model_;
  plain::Dice dice_;
};

/// With a valve on every line, so that there is something to open and shut.
network::Model with_valves(network::Model model) {
  for (network::Pipeline& line : model.pipelines) {
    network::Part valve;
    valve.kind = network::PartKind::valve;
    valve.type = "gate_valve";
    valve.loss = 0.4;
    valve.at = line.survey.front().station;
    line.parts.insert(line.parts.begin(), valve);
  }
  return model;
}

/// Where a joint stands at atmospheric pressure, less than the 1e-9 m of the solver divides its water
/// (laws/models.h): flows are told apart by 1e-6 of all that moves.
void check_same(const steady::State& one, const steady::State& two) {
  REQUIRE(one.outcome == two.outcome);
  if (one.outcome != Outcome::settled) return;
  CHECK(one.proof.consistent == two.proof.consistent);
  double all = 1e-6;
  for (const auto& line : two.lines) all += std::abs(line.flow_m3s);
  REQUIRE(one.lines.size() == two.lines.size());
  for (std::size_t l = 0; l < two.lines.size(); ++l) {
    INFO(two.lines[l].name);
    CHECK(std::abs(one.lines[l].flow_m3s - two.lines[l].flow_m3s) <= 1e-6 * all);
  }
  for (std::size_t o = 0; o < two.outlets.size(); ++o)
    CHECK(std::abs(one.outlets[o].flow_m3s - two.outlets[o].flow_m3s) <= 1e-6 * all);
}

const test::NastyKind calm{10, 1, 6, true, false};

}  // namespace

TEST_CASE("a system solved twice answers as it does at once") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const network::System system = support::resolved(test::NastySystem(seed, calm).system);
    Solver solver(system);
    check_same(solver.answer(), steady::solve(system));
    check_same(solver.answer(), steady::solve(system));
  }
}

TEST_CASE("a system changed in place answers what one built afresh does") {
  int near = 0, changes = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    network::Model model = with_valves(test::NastySystem(seed, calm).system);
    Solver solver(support::resolved(model));
    solver.solve();
    Changes change(solver, model, seed);
    for (int round = 0; round < 8; ++round) {
      CAPTURE(seed, round);
      change.one();
      near += solver.solve().found_near;
      ++changes;
      check_same(solver.answer(), steady::solve(support::resolved(model)));
    }
  }
  CHECK(near > changes / 2);  // most changes are followed from the last answer
}

TEST_CASE("the figures alone are those of the answer") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    Solver solver(support::resolved(test::NastySystem(seed, calm).system));
    const steady::Flows& flows = solver.solve();
    const steady::State state = solver.answer();
    REQUIRE(flows.outcome == state.outcome);
    // The answer shows flows below 1e-12 m3/s as none.
    for (std::size_t l = 0; l < state.lines.size(); ++l)
      CHECK(std::abs(flows.line_m3s[l] - state.lines[l].flow_m3s) <= 1e-12);
    for (std::size_t o = 0; o < state.outlets.size(); ++o)
      CHECK(std::abs(flows.outlet_m3s[o] - state.outlets[o].flow_m3s) <= 1e-12);
    for (std::size_t j = 0; j < state.joints.size(); ++j)
      if (state.joints[j].grade_m && state.joints[j].inflow_m3s > 0.0)
        CHECK(flows.head_m[at(solver.system().joint_place(static_cast<int>(j)))] == *state.joints[j].grade_m);
  }
}

TEST_CASE("flows after a small change are found without memory") {
  int near = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    const network::System system = support::resolved(test::NastySystem(seed, calm).system);
    Solver solver(system);
    solver.solve();
    const network::Line& line = system.lines().front();
    pipes::Pipe wider = line.pipes.front().pipe;
    wider.bore = wider.bore * 1.05;
    if (!solver.lay(0, 0, wider)) continue;
    if (line.survey.size() > 2) solver.raise(0, 1, Length::metres(0.1));
    if (!system.tanks().empty()) {
      const auto& tank = system.tanks().front();
      solver.level(0, tank.floor + (tank.lip - tank.floor) * 0.3);
    }
    const long before = test::allocations;
    const steady::Flows& flows = solver.solve();
    if (!flows.found_near) continue;  // one that settles slowly may keep a long history
    CHECK(test::allocations == before);
    ++near;
  }
  CHECK(near >= 20);
}

TEST_CASE("what cannot be computed is refused and changes nothing") {
  network::Model model = test::NastySystem(3, calm).system;
  Solver solver(support::resolved(model));
  const steady::State before = solver.answer();
  pipes::Pipe none = model.pipelines[0].pipes[0].pipe;
  none.bore = Length{};
  CHECK_FALSE(solver.lay(0, 0, none));
  CHECK_THROWS_AS(solver.raise(0, 0, Length::metres(1.0)), std::out_of_range);
  CHECK_THROWS_AS(solver.lay(99, 0, none), std::out_of_range);
  check_same(solver.answer(), before);
}
