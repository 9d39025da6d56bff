// A year of a 20-place system with hourly draws, beside a general-purpose integrator (SUNDIALS CVODE with
// root finding around the same steady solver). Asked: under one second on one core.
#include <algorithm>
#include <cstdio>
#include <ctime>

#include "filling/cvode_reference.h"
#include "filling/systems.h"
#include "support/rooms.h"

namespace {

using namespace filling_test;
using namespace runnel::filling;

constexpr double year_s = 365.0 * 86400.0;

/// 2 springs, 7 joints, 5 tanks, 6 taps: 20 places. Every tank's draw has its own level in each hour of the
/// day.
Model system_of_20() {
  Model s = with_water();
  s.boxes = {spring("spring 1", 4e-4, 99.0, 100.0), spring("spring 2", 3e-4, 97.0, 98.0)};
  for (int j = 0; j < 7; ++j) {
    Joint joint;
    joint.name = "joint " + std::to_string(j);
    joint.elevation = m(90.0 - 4.0 * j);
    s.joints.push_back(joint);
    if (j > 0)
      s.pipelines.push_back(line("main " + std::to_string(j), "joint " + std::to_string(j - 1), joint.name,
                                 180.0, 94.0 - 4.0 * j, 90.0 - 4.0 * j, 0.0408, 0.0, 0.0));
  }
  s.pipelines.push_back(line("from 1", "spring 1", "joint 0", 120.0, 99.0, 90.0, 0.0408, 0.5, 0.0));
  s.pipelines.push_back(line("from 2", "spring 2", "joint 1", 150.0, 97.0, 86.0, 0.0408, 0.5, 0.0));
  for (int t = 0; t < 5; ++t) {
    Tank tank = round_tank("tank " + std::to_string(t), 50.0 - 3.0 * t, 2.0, 2.0 + 0.2 * t);
    tank.inlet = m(tank.floor.metres() + 0.4);
    tank.level = m(tank.floor.metres() + 1.0);
    tank.float_valve = FloatValve{m(tank.floor.metres() + 1.8), m(tank.floor.metres() + 1.3), 6.0};
    for (int hour = 0; hour < 24; ++hour) {
      Draw draw;
      draw.flow = Flow::from_si(1e-6 * (1.0 + (hour * 7 + t * 5) % 11));
      draw.from_hour = hour;
      draw.to_hour = hour + 1;
      tank.draws.push_back(draw);
    }
    s.tanks.push_back(tank);
    s.pipelines.push_back(line("to " + tank.name, "joint " + std::to_string(t + 1), tank.name, 220.0,
                               86.0 - 4.0 * t, tank.inlet.metres(), 0.0266, 0.0, 1.0));
  }
  for (int o = 0; o < 6; ++o) {
    Outlet tap;
    tap.name = "tap " + std::to_string(o);
    tap.on = "joint " + std::to_string(o + 1);
    tap.elevation = m(87.0 - 4.0 * o);
    tap.opening = m(0.003);
    tap.loss = 2.5;
    s.outlets.push_back(tap);
  }
  return s;
}

/// Processor time, so that whatever else runs does not count.
template <class Work>
double seconds(Work&& work) {
  const std::clock_t begin = std::clock();
  work();
  return static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
}

}  // namespace

int main() {
  const Model s = system_of_20();
  FillHistory history;
  double best = 1e300;
  for (int run = 0; run < 3; ++run)
    best = std::min(best, seconds([&] { history = fill(s, {.duration_s = year_s, .keep_steps = false}); }));
  std::printf("places %zu, a year by the hour\n",
              s.boxes.size() + s.joints.size() + s.tanks.size() + s.outlets.size());
  std::printf("runnel: %.3f s, %ld steps, %ld tries, %ld instants, %zu events\n", best, history.steps,
              history.tries, history.solves, history.events.size());
  Reference cold(s, 1e-9, false);
  const double from_nothing = seconds([&] { cold.run(year_s); });
  std::printf("CVODE, each of its solves from nothing: %.3f s, %ld instants; over runnel: %.1f\n",
              from_nothing, cold.solves, from_nothing / best);
  Reference reference(s, 1e-9, true);
  const double other = seconds([&] { reference.run(year_s); });
  std::printf("CVODE, each of its solves from the last, as ours: %.3f s, %ld instants; over runnel: %.1f\n",
              other, reference.solves, other / best);
  for (std::size_t i = 0; i < history.storages.size(); ++i)
    std::printf("tank %zu at the end: %.9f m3, CVODE %.9f m3\n", i, history.storages[i].end_m3,
                reference.end_m3[i]);
}
