#pragma once
// Random systems that are hard to follow through time: springs from a drop a day upward, rings of tanks
// that feed each other, floats whose play is a hair or nothing, draws that come and go at several hours.
#include <algorithm>
#include <array>
#include <cmath>

#include "filling/random_filling.h"

namespace filling_test {

class RandomHardFilling : public RandomFilling {
 public:
  explicit RandomHardFilling(unsigned seed) : RandomFilling(seed) {}

  Model make() {
    Model s;
    s.site.water = water::at(Temperature::celsius(10.0));
    const int springs = 1 + pick(3), tanks = 1 + pick(5);
    for (int b = 0; b < springs; ++b) add_spring(s, b);
    const double base = uniform(40, 80);
    for (int t = 0; t < tanks; ++t) add_tank(s, t, base);
    join_tanks(s, tanks);
    if (pick(3) == 0) add_end(s);
    return s;
  }

 private:
  /// From 1e-6 L/s to 1 L/s, every order of magnitude as often.
  double any_flow() { return std::pow(10.0, uniform(-9.0, -3.0)); }

  void add_spring(Model& s, int b) {
    Box box = spring("spring " + std::to_string(b), any_flow(), uniform(90, 100), 0.0);
    box.lip = box.outlet + m(uniform(0.2, 1.2));
    if (pick(2) == 0) {
      box.plan_length = m(uniform(0.3, 2));
      box.plan_width = m(uniform(0.3, 1.5));
      box.floor = box.outlet - m(uniform(0.0, 0.3));
    }
    s.boxes.push_back(box);
  }

  void add_tank(Model& s, int t, double base) {
    // Half of them stand nearly level with each other, so that water goes to and fro.
    const double depth = uniform(0.5, 2.5), floor = base - (pick(2) == 0 ? uniform(0.0, 0.3) : 7.0 * t);
    Tank tank;
    tank.name = "tank " + std::to_string(t);
    tank.shape = shape(depth);
    tank.floor = m(floor);
    tank.lip = m(floor + depth);
    tank.inlet = m(floor + depth * uniform(0.02, 1.0));
    tank.level = m(floor + depth * (pick(5) == 0 ? 0.0 : uniform(0.0, 1.0)));
    if (pick(3) > 0) {
      const double plays[] = {0.0, 1e-6, 1e-4, 0.01, 0.2};
      const double shuts = uniform(0.4, 1.0);
      tank.float_valve =
          FloatValve{m(floor + depth * shuts), m(floor + depth * (shuts - plays[pick(5)])), uniform(0, 8)};
    }
    for (int n = pick(4); n > 0; --n) add_draw(tank);
    s.tanks.push_back(tank);
  }

  void add_draw(Tank& tank) {
    Draw draw;
    draw.flow = Flow::from_si(any_flow());
    if (pick(3) > 0) {
      draw.from_hour = pick(24);
      draw.to_hour = pick(2) == 0 ? uniform(0, 24) : (static_cast<int>(draw.from_hour) + 1 + pick(6)) % 24;
    }
    tank.draws.push_back(draw);
  }

  Pipeline joining(const Tank& from, const Tank& to) {
    const double start =
        from.floor.metres() + (from.lip - from.floor).metres() * (pick(2) == 0 ? 0.0 : uniform(0, 0.5));
    const double bores[] = {0.0152, 0.0266, 0.0525, 0.102};
    return line(from.name + " to " + to.name, from.name, to.name,
                std::abs(start - to.inlet.metres()) + uniform(1, 300), start, to.inlet.metres(),
                bores[pick(4)]);
  }

  /// Springs to tanks, then a ring, a chain or a web among the tanks.
  void join_tanks(Model& s, int tanks) {
    for (const Box& box : s.boxes) {
      const Tank& to = s.tanks[at(pick(tanks))];
      const double drop = box.outlet.metres() - to.inlet.metres();
      const double bores[] = {0.0152, 0.0204, 0.0352};
      s.pipelines.push_back(line("from " + box.name, box.name, to.name, std::abs(drop) + uniform(20, 800),
                                 box.outlet.metres(), to.inlet.metres(), bores[pick(3)]));
    }
    const int way = pick(3);
    for (int t = 0; t < tanks && tanks > 1; ++t) {
      const int next = way == 2 ? pick(tanks) : (t + 1) % tanks;
      if (next == t || (way == 1 && next == 0)) continue;
      s.pipelines.push_back(joining(s.tanks[at(t)], s.tanks[at(next)]));
      s.pipelines.back().name += " " + std::to_string(t);
    }
  }

  void add_end(Model& s) {
    const Tank& tank = s.tanks[at(pick(static_cast<int>(s.tanks.size())))];
    Outlet end;
    end.name = "end";
    end.elevation = tank.floor - m(uniform(0.0, 20.0));
    end.opening = m(uniform(0.002, 0.02));
    end.loss = 2.5;
    s.outlets.push_back(end);
    s.pipelines.push_back(line("out", tank.name, "end",
                               (tank.floor - end.elevation).metres() + uniform(1, 200), tank.floor.metres(),
                               end.elevation.metres(), 0.0266));
  }
};

}  // namespace filling_test
