// What a change of the laws that govern is called, in a run as a user has it.
#include "runnel/filling/regime_events.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "filling/systems.h"
#include "support/rooms.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// A tank that runs out through a line whose mouth stands above its floor, with no spring.
Model running_out() {
  Model s = with_water();
  Tank tank = round_tank("tank", 10.0, 2.0, 1.0);
  tank.level = m(11.0);
  s.tanks.push_back(tank);
  Outlet trough;
  trough.name = "trough";
  trough.elevation = m(2.0);
  s.outlets.push_back(trough);
  s.pipelines.push_back(line("out", "tank", "trough", 50.0, 10.2, 2.0, 0.026));
  return s;
}

bool said_of(const FillHistory& history, const std::string& place) {
  return std::any_of(history.events.begin(), history.events.end(),
                     [&](const Event& e) { return e.place == place; });
}

}  // namespace

TEST_CASE("a line that stops is told once, at the time at which its mouth falls bare") {
  const FillHistory history = fill(running_out(), {.duration_s = 86400.0});
  REQUIRE(history.outcome == FillOutcome::done);
  CHECK(history.storages[0].end_m3 > 0.0);  // what stands below the mouth stays
  double last_s = 0.0;
  for (const Event& e : history.events) {
    CHECK(e.time_s >= last_s);
    last_s = e.time_s;
  }
  CHECK((said_of(history, "out") || said_of(history, "tank")));
}

TEST_CASE("between two equal instants nothing happens") {
  const auto system = support::resolved(running_out());
  Basins basins(system, 0.0);
  std::vector<double> spilled;
  const Eigen::VectorXd volume = basins.start(system, false, spilled);
  std::vector<Event> events;
  REQUIRE(basins.settle(0.0, volume, false, events));
  events.clear();
  CHECK(basins.same_regime(basins.probe(), basins.probe()));
  regime_events(system, basins.field().assembly(), 0.0, basins.probe(), basins.probe(), events);
  CHECK(events.empty());
}
