#pragma once
// Random systems with tanks that feed tanks, floats with hysteresis, lips, draws by the hour.
#include <random>

#include "filling/systems.h"

namespace filling_test {

class RandomFilling {
 public:
  explicit RandomFilling(unsigned seed) : random_(seed) {}

  Model make() {
    Model s = with_water();
    const int springs = 1 + pick(2), tanks = 1 + pick(3);
    for (int b = 0; b < springs; ++b) add_spring(s, b);
    Joint tee;
    tee.name = "tee";
    tee.elevation = m(uniform(92, 95));
    s.joints.push_back(tee);
    for (int b = 0; b < springs; ++b)
      s.pipelines.push_back(course("from " + s.boxes[at(b)].name, s.boxes[at(b)].name, "tee",
                                   uniform(50, 300), s.boxes[at(b)].outlet.metres(), tee.elevation.metres(),
                                   0.5, 0.0));
    for (int t = 0; t < tanks; ++t) add_tank(s, t);
    if (pick(3) == 0) add_tap(s);
    return s;
  }

 protected:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  double uniform(double a, double b) { return std::uniform_real_distribution<double>(a, b)(random_); }
  int pick(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random_); }

 private:
  void add_spring(Model& s, int b) {
    Box box =
        spring("spring " + std::to_string(b), uniform(5e-5, 3e-4), uniform(99, 100), uniform(100.4, 101));
    if (pick(2) == 0) {
      box.plan_length = m(uniform(0.8, 2));
      box.plan_width = m(uniform(0.5, 1.5));
      box.floor = box.outlet - m(uniform(0.1, 0.3));
    }
    s.boxes.push_back(box);
  }

  Pipeline course(const std::string& name, const std::string& from, const std::string& to, double length,
                  double a, double b, double entrance, double exit) {
    const double bores[] = {0.0204, 0.0266, 0.0352, 0.0408};
    Pipeline l = line(name, from, to, length, a, b, bores[pick(4)], entrance, exit);
    if (pick(3) == 0) {  // a low or a crest on the way, never above where it comes from
      const double share = uniform(0.3, 0.7), top = a - 0.2 * (a - b);
      l.survey.insert(l.survey.begin() + 1, {l.survey.back().station * share, m(uniform(b - 10, top))});
    }
    return l;
  }

 protected:
  TankShape shape(double depth) {
    switch (pick(5)) {
      case 0:
        return LyingCylinder{m(depth), m(uniform(1, 3))};
      case 1:
        return Cuboid{m(uniform(1, 3)), m(uniform(0.8, 2))};
      case 2:
        return Frustum{m(uniform(0.8, 1.5)), m(uniform(1.5, 2.2)), m(depth)};
      case 3: {
        const double a = uniform(0.5, 2), b = uniform(0.5, 2);
        return DepthVolumeTable{{m(0), m(0.4 * depth), m(depth)},
                                {{}, Volume::from_si(0.4 * a), Volume::from_si(0.4 * a + 0.6 * b)}};
      }
      default:
        return UprightCylinder{m(uniform(0.8, 2.5))};
    }
  }

 private:
  void add_tank(Model& s, int t) {
    const double depth = uniform(1, 2.5), floor = uniform(45, 85) - 12.0 * t;
    Tank tank;
    tank.name = "tank " + std::to_string(t);
    tank.shape = shape(depth);
    tank.floor = m(floor);
    tank.lip = m(floor + depth);
    tank.inlet = m(floor + depth * uniform(0.05, 1.0));
    tank.level = m(floor + depth * uniform(0.05, 0.9));
    if (pick(2) == 0) {
      const double shuts = uniform(0.85, 0.97);
      tank.float_valve =
          FloatValve{m(floor + depth * shuts), m(floor + depth * (shuts - uniform(0.1, 0.3))), uniform(1, 8)};
      if (tank.level >= tank.float_valve->shuts_at) tank.level = tank.float_valve->opens_at;
    }
    if (pick(3) > 0) {
      Draw draw;
      draw.flow = Flow::from_si(uniform(1e-5, 1.5e-4));
      if (pick(2) == 0) draw.from_hour = 6, draw.to_hour = 20;
      tank.draws.push_back(draw);
    }
    const bool chained = t > 0 && pick(2) == 0;
    const std::string from = chained ? s.tanks.back().name : "tee";
    const double a = chained ? s.tanks.back().floor.metres() + 0.1 : s.joints[0].elevation.metres();
    s.pipelines.push_back(course("to " + tank.name, from, tank.name, uniform(100, 600), a,
                                 tank.inlet.metres(), chained ? 0.5 : 0.0, 1.0));
    s.tanks.push_back(tank);
  }

  void add_tap(Model& s) {
    Outlet tap;
    tap.name = "tap";
    tap.on = "tee";
    tap.elevation = m(s.joints[0].elevation.metres() - 1.0);
    tap.opening = m(uniform(0.004, 0.01));
    tap.loss = 2.5;
    s.outlets.push_back(tap);
  }

  std::mt19937 random_;
};

}  // namespace filling_test
