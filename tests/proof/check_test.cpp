// The independent checker: it must take what is right and find whatever is not.
#include "runnel/proof/check.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "runnel/losses/friction.h"
#include "runnel/proof/check_law.h"
#include "steady/small_systems.h"

using namespace runnel;
using steady::State;

namespace {

std::vector<network::Model> right_ones() {
  network::Model hazen = small::village();
  hazen.friction.law = losses::Law::hazen_williams;
  network::Model sealed = small::blocked();
  sealed.pipelines[0].air = network::Air::sealed;  // a siphon: the crest is no floor any more
  return {small::weak_spring(),
          small::weak_spring(5e-3),
          small::weak_spring(0.0),
          small::village(),
          hazen,
          small::loop(1e-3),
          small::loop(9e-3),
          small::blocked(),
          sealed};
}

/// Solves, spoils the answer, and says whether the checker noticed.
bool caught(const network::Model& system, const std::function<void(State&)>& spoil) {
  State state = steady::solve(system);
  REQUIRE(state.outcome == steady::Outcome::settled);
  REQUIRE(proof::check(system, state).consistent);
  spoil(state);
  return !proof::check(system, state).consistent;
}

template <class T>
T& named(std::vector<T>& all, const std::string& name) {
  for (T& one : all)
    if (one.name == name) return one;
  throw std::logic_error(name);
}

}  // namespace

TEST_CASE("the checker takes right answers") {
  int n = 0;
  for (const auto& system : right_ones()) {
    const State state = steady::solve(system);
    INFO("system " << n++);
    REQUIRE(state.outcome == steady::Outcome::settled);
    const steady::Proof proof = proof::check(system, state);
    CAPTURE(proof.continuity_m3s, proof.energy_m, proof.one_way_m);
    CHECK(proof.consistent);
    REQUIRE(proof.extent);
    const auto count = [](std::size_t all) { return static_cast<int>(all); };
    int places = count(system.boxes.size() + system.tanks.size() + system.joints.size()), reaches = 0,
        not_full = 0;
    for (const auto& outlet : system.outlets)
      places += outlet.on.empty();  // water at others is their joint's
    for (const auto& line : state.lines) {
      reaches += count(line.reaches.size());
      for (const auto& reach : line.reaches)
        not_full += line.flow_m3s != 0.0 && reach.state != network::ReachState::full;
    }
    CHECK(proof.extent->places == places);
    CHECK(proof.extent->lines == count(system.pipelines.size()));
    CHECK(proof.extent->reaches == reaches);
    CHECK(proof.extent->not_full == not_full);
    CHECK(proof.extent->rules > 0);
  }
}

TEST_CASE("its friction agrees with the solver's, which it does not use") {
  // Two programs of one formula: what is left is round-off of the double one.
  losses::FrictionLaw hazen;
  hazen.law = losses::Law::hazen_williams;
  for (const losses::FrictionLaw& law : {losses::FrictionLaw{}, hazen})
    for (const double bore : {0.0127, 0.0408, 0.3})
      for (double q = 1e-9; q < 1.0; q *= 1.37) {
        const losses::PipeFriction fast(law, bore, 1.5e-6, 140.0, 1.3e-6);
        const auto plain = proof::plain_friction(law, {bore, 1.5e-6L, 140.0L}, 1.3e-6L, q);
        CAPTURE(bore, q);
        CHECK(fast.per_metre(q).head_m == Approx(static_cast<double>(plain)).epsilon(1e-13).margin(0.0));
      }
}

TEST_CASE("the checker finds a wrong flow") {
  CHECK(caught(small::weak_spring(), [](State& s) { s.lines[0].flow_m3s *= 1.001; }));
  CHECK(caught(small::weak_spring(5e-3), [](State& s) { s.lines[0].flow_m3s *= 1.001; }));
  // The same share wrong everywhere keeps continuity: the energy must tell.
  CHECK(caught(small::weak_spring(5e-3), [](State& s) {
    s.boxes[0].spill_m3s -= 0.001 * s.lines[0].flow_m3s;
    s.outlets[0].flow_m3s *= 1.001;
    s.lines[0].flow_m3s *= 1.001;
  }));
  CHECK(caught(small::village(), [](State& s) { named(s.outlets, "tap").flow_m3s *= 1.001; }));
  CHECK(caught(small::village(), [](State& s) { s.tanks[0].inflow_m3s *= 1.001; }));
  CHECK(caught(small::village(), [](State& s) { s.boxes[0].inflow_m3s *= 1.001; }));
  CHECK(caught(small::loop(1e-3), [](State& s) {  // once round the loop: continuity still holds
    const double more = 1e-7;
    named(s.lines, "a").flow_m3s += more;
    named(s.lines, "c").flow_m3s += more;
    named(s.lines, "d").flow_m3s += more;
    named(s.lines, "b").flow_m3s -= more;
  }));
  CHECK(caught(small::weak_spring(), [](State& s) { s.lines[0].reaches[1].velocity_ms *= 1.001; }));
}

TEST_CASE("the checker finds a head that is off by a millimetre") {
  const auto systems = right_ones();
  for (const auto& system : systems) {
    const State whole = steady::solve(system);
    for (std::size_t l = 0; l < whole.lines.size(); ++l)
      for (std::size_t i = 0; i < whole.lines[l].points.size(); ++i) {
        if (!whole.lines[l].points[i].grade_m) continue;
        State state = whole;
        *state.lines[l].points[i].grade_m += 1e-3;
        *state.lines[l].points[i].pressure_head_m += 1e-3;
        CAPTURE(l, i);
        CHECK_FALSE(proof::check(system, state).consistent);
      }
    for (std::size_t j = 0; j < whole.joints.size(); ++j) {
      if (!whole.joints[j].grade_m) continue;
      State state = whole;
      *state.joints[j].grade_m -= 1e-3;
      *state.joints[j].pressure_head_m -= 1e-3;
      CHECK_FALSE(proof::check(system, state).consistent);
    }
  }
  CHECK(caught(small::village(), [](State& s) { *s.boxes[0].level_m -= 1e-3; }));
  CHECK(caught(small::village(), [](State& s) { *s.tanks[0].level_m += 1e-3; }));
  CHECK(caught(small::village(), [](State& s) { *s.lines[0].points[1].pressure_head_m += 1e-3; }));
  CHECK(caught(small::village(), [](State& s) { s.lines[0].reaches[0].loss_m += 1e-3; }));
}

TEST_CASE("the checker finds a tap that lets out more than people want, or holds back without need") {
  for (const char* name : {"tap", "trough"}) {
    network::Model held = small::village(), wide = held;
    for (auto& outlet : held.outlets)
      if (outlet.name == name) outlet.opened_to = Flow::from_si(1e-5);
    INFO(name);
    REQUIRE(caught(held, [](State&) {}) == false);
    CHECK(caught(held, [&](State& s) { named(s.outlets, name).flow_m3s *= 1.001; }));
    // The state of one that stands wide open, told of one that does not, and the other way round.
    const State open = steady::solve(wide), little = steady::solve(held);
    CHECK_FALSE(proof::check(support::resolved(held), open).consistent);
    CHECK_FALSE(proof::check(support::resolved(wide), little).consistent);
    CHECK(caught(held, [&](State& s) { *named(s.outlets, name).grade_m += 0.1; }));
  }
}

TEST_CASE("the checker finds a pressure at a tap that its line does not leave there") {
  // At a tap that people do not open wide nothing but the line tells how much is left.
  network::Model model = small::weak_spring(5e-3);
  model.outlets.front().opened_to = Flow::litres_per_second(0.02);
  for (const double off_m : {0.01, -0.01, 50.0})
    CHECK(caught(model, [&](State& s) {
      *s.outlets.front().grade_m += off_m;
      *s.outlets.front().pressure_head_m += off_m;
    }));
}

TEST_CASE("the checker finds breaches of one-way and bounded rules") {
  // A spill below zero that balances.
  CHECK(caught(small::weak_spring(), [](State& s) {
    s.boxes[0].spill_m3s = -1e-6;
    s.lines[0].flow_m3s += 1e-6;
    s.outlets[0].flow_m3s += 1e-6;
  }));
  // A spill from a box below its lip.
  CHECK(caught(small::loop(1e-3), [](State& s) { *s.boxes[0].level_m -= 0.1; }));
  // A tap that is said to be dry and flows, and one that is a source.
  CHECK(caught(small::village(), [](State& s) { named(s.outlets, "tap").dry = true; }));
  CHECK(caught(small::village(), [](State& s) { named(s.outlets, "tap").flow_m3s *= -1.0; }));
  // A dry trough made to flow, with water from the spring.
  CHECK(caught(small::blocked(), [](State& s) {
    named(s.lines, "over").flow_m3s = 1e-4;
    named(s.outlets, "trough").flow_m3s = 1e-4;
    s.boxes[0].spill_m3s -= 1e-4;
  }));
  // Water through a shut valve.
  CHECK(caught(small::blocked(), [](State& s) {
    named(s.lines, "shut").flow_m3s = 1e-4;
    named(s.outlets, "tap").flow_m3s = 1e-4;
    s.boxes[0].spill_m3s -= 1e-4;
  }));
  // Less given than asked although there is pressure; more given than asked.
  CHECK(caught(small::loop(1e-3), [](State& s) { s.joints[2].draw_given_m3s = 0.0; }));
  CHECK(caught(small::loop(1e-3), [](State& s) { s.joints[2].draw_given_m3s *= 1.001; }));
  // Head lost in air on a reach that runs full, above its floor.
  CHECK(caught(small::weak_spring(5e-3), [](State& s) {
    auto& last = s.lines[0].reaches.back();
    last.lost_in_air_m = 0.5;
    for (std::size_t i = 0; i + 1 < s.lines[0].points.size(); ++i) {
      *s.lines[0].points[i].grade_m += 0.5;
      *s.lines[0].points[i].pressure_head_m += 0.5;
    }
  }));
  // Less than nothing lost in air, a full reach called part-full's opposite, a refill elsewhere.
  CHECK(caught(small::weak_spring(), [](State& s) { s.lines[0].reaches[0].lost_in_air_m *= -1.0; }));
  CHECK(
      caught(small::weak_spring(), [](State& s) { s.lines[0].reaches[0].state = steady::ReachState::full; }));
  CHECK(caught(small::weak_spring(), [](State& s) {
    for (auto& reach : s.lines[0].reaches)
      if (reach.refill_station_m) *reach.refill_station_m += 0.1;
  }));
}

TEST_CASE("the checker finds water that stands still without a reason") {
  // Nothing flows anywhere, the springs spill it all: continuity and energy are perfect.
  for (auto make : {+[] { return small::weak_spring(); }, +[] { return small::loop(1e-3); }}) {
    const network::Model system = make();
    CHECK(caught(system, [&](State& s) {
      for (auto& box : s.boxes) {
        box.spill_m3s = system.boxes[0].yield.si();
        box.inflow_m3s = box.spill_m3s;
        box.level_m = system.boxes[0].lip.metres();
        box.top_part_full = box.dry = false;
      }
      for (auto& outlet : s.outlets) outlet.flow_m3s = 0.0, outlet.dry = true, outlet.grade_m.reset();
      for (auto& joint : s.joints) joint.draw_given_m3s = 0.0, joint.dry = true;
      for (auto& line : s.lines) {
        line.flow_m3s = 0.0;
        for (auto& point : line.points) point.grade_m.reset(), point.pressure_head_m.reset();
      }
    }));
  }
}

TEST_CASE("the checker finds a reducing valve that lets too much pass, or holds back without need") {
  const network::Model system = small::village();
  const State whole = steady::solve(system);
  const auto& line = *whole.line("to trough");
  REQUIRE(line.reducing_valve_active);
  // Set the valve elsewhere after solving: the answer does not fit any more, either way.
  for (const double factor : {0.9, 1.1}) {
    network::Model other = system;
    auto& valve = other.pipelines.back().parts.back();
    valve.set_pressure = valve.set_pressure * factor;
    CHECK_FALSE(proof::check(other, whole).consistent);
  }
}

TEST_CASE("the checker finds a check valve that lets water back") {
  // Without the valve the tank feeds the tee; the same answer with the valve is wrong.
  network::Model system = small::village();
  system.boxes[0].yield = Flow::from_si(0.0);
  system.pipelines[1].parts.clear();
  system.tanks[0].level = Length::metres(33.0);
  State state = steady::solve(system);
  REQUIRE(state.line("to tank")->flow_m3s < -1e-5);
  REQUIRE(proof::check(system, state).consistent);
  network::Model valved = system;
  valved.pipelines[1].parts.push_back(small::part(network::PartKind::check_valve, "C1", 150.0, 0.0));
  CHECK_FALSE(proof::check(valved, state).consistent);
}

TEST_CASE("the checker does not take numbers that are none") {
  CHECK(caught(small::village(), [](State& s) { s.lines[0].flow_m3s = std::nan(""); }));
  CHECK(caught(small::village(), [](State& s) { s.joints[0].grade_m = std::nan(""); }));
  CHECK(caught(small::village(), [](State& s) { s.boxes[0].spill_m3s = std::nan(""); }));
  CHECK(caught(small::village(), [](State& s) { s.lines.pop_back(); }));
  CHECK(caught(small::village(), [](State& s) { s.lines[0].points.pop_back(); }));
}
