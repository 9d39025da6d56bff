// Two troughs that take turns, against a balance of the two stores by hand: each is drawn at 0.1 L/s, so of
// 0.5 L/s one fills at 0.4 L/s while the other gets nothing and loses a quarter of what the first gains.
#include "runnel/verdict/float_turns.h"

#include <catch2/catch.hpp>

#include "runnel/base/index.h"
#include "runnel/network/draws.h"
#include "verdict/sample.h"

namespace network = runnel::network;
using runnel::Flow;
using runnel::Length;

namespace {

constexpr double drawn_m3s = 0.1e-3;

network::Tank trough(const char* name, double shuts_at_m, double opens_at_m) {
  network::Tank tank;
  tank.name = name;
  tank.shape = network::Cuboid{Length::metres(1), Length::metres(1)};
  tank.floor = Length::metres(0);
  tank.lip = tank.inlet = Length::metres(2);
  tank.level = Length::metres(opens_at_m);
  tank.float_valve = network::FloatValve{Length::metres(shuts_at_m), Length::metres(opens_at_m), 6.0};
  tank.draws.push_back(network::drawn_always(Flow::from_si(drawn_m3s)));
  return tank;
}

/// A spring above a tee, and from there a line to each of two troughs.
network::Model two_troughs() {
  network::Model m = sample::system();
  m.joints = {sample::joint("tee", 20)};
  m.outlets.clear();
  m.tanks = {trough("A", 1.0, 0.6), trough("B", 0.21, 0.11)};
  network::Pipeline branch = m.pipelines[0];
  m.pipelines[0].to = "tee";
  m.pipelines[0].exit_loss = 0.0;
  m.pipelines[0].survey = {{Length::metres(0), Length::metres(49)},
                           {Length::metres(100), Length::metres(20)}};
  branch.entrance_loss = 0.0;
  branch.survey = {{Length::metres(0), Length::metres(20)}, {Length::metres(50), Length::metres(2)}};
  for (const char* name : {"A", "B"}) {
    branch.name = std::string("to ") + name;
    branch.from = "tee";
    branch.to = name;
    m.pipelines.push_back(branch);
  }
  return m;
}

bool take_turns(const network::Model& m, double in_m3s = 0.5e-3, double carries_m3s = 1e-3,
                double asked_more_m3s = 0.0) {
  const network::System system = support::resolved(m);
  std::vector<double> asked_m3s(runnel::at(system.places()), 0.0);
  asked_m3s[runnel::at(*system.find_place("A"))] = drawn_m3s + asked_more_m3s;
  asked_m3s[runnel::at(*system.find_place("B"))] = drawn_m3s;
  std::vector<runnel::verdict::TurnBranch> branches;
  for (std::size_t l = 1; l < m.pipelines.size(); ++l) branches.push_back({static_cast<int>(l), carries_m3s});
  return runnel::verdict::floats_take_turns(system, *system.find_place("tee"), branches, in_m3s, asked_m3s);
}

}  // namespace

// B needs its own 0.10 m3 and a quarter of the 0.40 m3 that A takes: 0.20 m3 of its 0.21.
TEST_CASE("a trough that gets nothing must last until the other is full") {
  CHECK(take_turns(two_troughs()));
  network::Model m = two_troughs();
  m.tanks[1] = trough("B", 0.19, 0.09);
  CHECK_FALSE(take_turns(m));
  std::swap(m.tanks[0].float_valve, m.tanks[1].float_valve);
  std::swap(m.tanks[0].level, m.tanks[1].level);
  CHECK_FALSE(take_turns(m));
}

TEST_CASE("a trough drawn low takes that much more before the other gets any") {
  network::Model m = two_troughs();
  m.tanks[0].level = Length::metres(0.55);  // 0.45 m3: B needs 0.2125 m3 of its 0.21
  CHECK_FALSE(take_turns(m));
  m.tanks[0].level = Length::metres(0.58);
  CHECK(take_turns(m));
  m.tanks[0].level = Length::metres(0.9);  // it comes down to where its valve opens
  CHECK(take_turns(m));
  m.tanks[1] = trough("B", 0.205, 0.105);
  CHECK(take_turns(m));
}

TEST_CASE("troughs take turns only if more comes than both draw in their busiest hours") {
  network::Model m = two_troughs();
  m.tanks[1] = trough("B", 1.0, 0.9);
  CHECK(take_turns(m, 0.201e-3));
  CHECK_FALSE(take_turns(m, 0.2e-3));
  CHECK_FALSE(take_turns(m, 0.15e-3));
  m.tanks[0].draws[0].from_hour = 6.0;
  m.tanks[0].draws[0].to_hour = 18.0;  // twice as much by day
  CHECK(take_turns(m, 0.302e-3));
  CHECK_FALSE(take_turns(m, 0.299e-3));
}

// While one is shut the other must regain what it lost: (0.5 - 0.1)(carries - 0.1) >= 0.1 x 0.1, so 0.125
// L/s.
TEST_CASE("a line that carries hardly more than is drawn does not make up for a turn") {
  CHECK(take_turns(two_troughs(), 0.5e-3, 0.126e-3));
  CHECK_FALSE(take_turns(two_troughs(), 0.5e-3, 0.124e-3));
}

TEST_CASE("only two troughs with float valves on lines of their own take turns") {
  network::Model m = two_troughs();
  m.tanks[0].float_valve.reset();
  CHECK_FALSE(take_turns(m));
  m = two_troughs();
  network::Pipeline third = m.pipelines.back();
  third.name = "third";
  third.to = "A";
  m.pipelines.push_back(third);
  CHECK_FALSE(take_turns(m));
  CHECK_FALSE(take_turns(two_troughs(), 0.5e-3, 1e-3, 0.1e-3));
}
