#pragma once
// Random whole systems, seeded: springs weak and strong, tees, tanks with and without float valves, taps,
// lines up and down over crests with every kind of part, open and sealed, both laws. Nothing in them is
// sensible but everything is allowed, so every rule of the solver meets every other.
#include <algorithm>
#include <string>

#include "steady/plain_network.h"
#include "steady/small_systems.h"

namespace small {

class RandomSystem {
 public:
  explicit RandomSystem(std::uint64_t seed) : dice_(seed), s_(empty()) {}

  Model make() {
    if (dice_.chance(0.4)) s_.friction.law = losses::Law::hazen_williams;
    add_places();
    feed_joints();
    add_outlets();
    feed_tanks();
    return s_;
  }

 private:
  double power(double low, double high) { return std::pow(10.0, dice_.real(low, high)); }
  double joint_height(int i) const { return s_.joints[static_cast<std::size_t>(i)].elevation.metres(); }
  static std::string joint_name(int i) { return "joint " + std::to_string(i); }

  void add_places() {
    boxes_ = dice_.whole(1, 2);
    tanks_ = dice_.whole(0, 2);
    joints_ = dice_.whole(0, 6);
    for (int i = 0; i < boxes_; ++i) {
      const double z = dice_.real(40.0, 80.0);
      box(s_, "box " + std::to_string(i), dice_.chance(0.15) ? 0.0 : power(-5.0, -2.3), z,
          z + dice_.real(0.3, 2.0));
    }
    for (int i = 0; i < tanks_; ++i) add_tank("tank " + std::to_string(i));
    for (int i = 0; i < joints_; ++i)
      joint(s_, joint_name(i), dice_.real(0.0, 60.0), dice_.chance(0.4) ? power(-5.5, -3.0) : 0.0);
  }

  void add_tank(const std::string& name) {
    const double inlet = dice_.real(5.0, 50.0), level = inlet + dice_.real(-3.0, 2.0);
    tank(s_, name, inlet, level);
    network::Tank& t = s_.tanks.back();
    t.floor = Length::metres(level - 5.0);
    if (!dice_.chance(0.4)) return;
    network::FloatValve valve;
    valve.shuts_at = valve.opens_at = Length::metres(level + (dice_.chance(0.3)   ? 0.0
                                                              : dice_.chance(0.5) ? -0.5
                                                                                  : 0.5));
    valve.loss = 6.0;
    t.float_valve = valve;
    if (!dice_.chance(0.6)) return;
    network::Draw draw;
    draw.flow = Flow::from_si(dice_.real(1e-6, 3e-4));
    t.draws.push_back(draw);
  }

  void add_line(const std::string& from, double from_m, const std::string& to, double to_m) {
    const int points = dice_.whole(2, 6);
    std::vector<std::pair<double, double>> survey;
    for (int i = 0; i < points; ++i) {
      const double share = static_cast<double>(i) / (points - 1);
      const bool end = i == 0 || i + 1 == points;
      survey.emplace_back(i == 0 ? 0.0 : survey.back().first + dice_.real(10.0, 200.0),
                          from_m + share * (to_m - from_m) + (end ? 0.0 : dice_.real(-10.0, 6.0)));
    }
    network::Pipeline& l =
        line(s_, "line " + std::to_string(lines_++), from, to, dice_.real(0.013, 0.06), survey);
    const double length = survey.back().first;
    if (dice_.chance(0.3)) l.air = network::Air::sealed;
    if (dice_.chance(0.3))
      l.pipes.push_back({pipe(dice_.real(0.013, 0.06)),
                         Length::metres(dice_.real(0.1, 0.9) * length),
                         dice_.chance(0.3) ? std::optional<double>(dice_.real(0.0, 2.0)) : std::nullopt,
                         {}});
    std::vector<double> stations;
    for (int k = dice_.whole(0, 3); k > 0; --k)
      stations.push_back(dice_.chance(0.2)
                             ? survey[static_cast<std::size_t>(dice_.whole(0, points - 1))].first
                             : dice_.real(0.0, length));
    std::sort(stations.begin(), stations.end());
    for (const double station : stations) l.parts.push_back(random_part(station));
  }

  network::Part random_part(double station) {
    using network::PartKind;
    const double r = dice_.real(0.0, 1.0);
    const PartKind kind = r < 0.3    ? PartKind::fitting
                          : r < 0.5  ? PartKind::valve
                          : r < 0.7  ? PartKind::air_valve
                          : r < 0.85 ? PartKind::check_valve
                                     : PartKind::reducing_valve;
    network::Part p = part(kind, "part " + std::to_string(parts_++), station,
                           kind == PartKind::air_valve || dice_.chance(0.2) ? 0.0 : dice_.real(0.0, 10.0));
    if (kind == PartKind::valve && dice_.chance(0.2)) p.open = 0.0;
    if (kind == PartKind::reducing_valve) p.set_pressure = Pressure::pascals(dice_.real(5e3, 3e5));
    return p;
  }

  /// Some place that a line can start at, and its height there.
  std::pair<std::string, double> any_start() {
    if (joints_ > 0 && dice_.chance(0.8)) {
      const int j = dice_.whole(0, joints_ - 1);
      return {joint_name(j), joint_height(j)};
    }
    const network::Box& b = s_.boxes[static_cast<std::size_t>(dice_.whole(0, boxes_ - 1))];
    return {b.name, b.outlet.metres()};
  }

  void feed_joints() {
    for (int j = 0; j < joints_; ++j) {
      if (j == 0 || dice_.chance(0.3)) {
        const network::Box& b = s_.boxes[static_cast<std::size_t>(dice_.whole(0, boxes_ - 1))];
        add_line(b.name, b.outlet.metres(), joint_name(j), joint_height(j));
        continue;
      }
      join(dice_.whole(0, j - 1), j);
    }
    for (int more = joints_ > 1 ? dice_.whole(0, 2) : 0; more > 0; --more)
      join(dice_.whole(0, joints_ - 1), dice_.whole(0, joints_ - 1));
  }

  void join(int a, int b) {
    if (a == b) return;
    if (dice_.chance(0.2)) std::swap(a, b);
    add_line(joint_name(a), joint_height(a), joint_name(b), joint_height(b));
  }

  void add_outlets() {
    for (int i = dice_.whole(1, 4); i > 0; --i) {
      const std::string name = "outlet " + std::to_string(i);
      if (joints_ > 0 && dice_.chance(0.3)) {
        const int j = dice_.whole(0, joints_ - 1);
        outlet(s_, name, joint_height(j) + dice_.real(-1.0, 2.0), dice_.real(0.004, 0.02),
               dice_.real(1.0, 5.0), joint_name(j));
      } else {
        const double z = dice_.real(0.0, 50.0);
        outlet(s_, name, z, dice_.chance(0.3) ? 0.0 : dice_.real(0.004, 0.02), dice_.real(1.0, 5.0));
        const auto [from, from_m] = any_start();
        add_line(from, from_m, name, z);
      }
      // No wider than the pipe it ends: a wider one is refused.
      if (s_.outlets.back().on.empty() && !s_.pipelines.empty() && s_.pipelines.back().to == name) {
        Length& opening = s_.outlets.back().opening;
        opening = std::min(opening, s_.pipelines.back().pipes.back().pipe.bore);
      }
      s_.outlets.back().shut = dice_.chance(0.1);
    }
  }

  void feed_tanks() {
    for (int t = 0; t < tanks_; ++t) {
      const network::Tank& tank = s_.tanks[static_cast<std::size_t>(t)];
      const auto [from, from_m] = any_start();
      add_line(from, from_m, tank.name, tank.inlet.metres());
      if (joints_ == 0 || !dice_.chance(0.3)) continue;
      const int j = dice_.whole(0, joints_ - 1);
      add_line(tank.name, tank.level.metres() - 1.0, joint_name(j), joint_height(j));
    }
    if (boxes_ > 1 && dice_.chance(0.3))
      add_line(s_.boxes[0].name, s_.boxes[0].outlet.metres(), s_.boxes[1].name,
               s_.boxes[1].outlet.metres() + 0.1);
  }

  plain::Dice dice_;
  Model s_;
  int boxes_ = 0, tanks_ = 0, joints_ = 0, lines_ = 0;
  int parts_ = 0;  ///< so that each has a name of its own
};

inline Model random_system(std::uint64_t seed) { return RandomSystem(seed).make(); }

}  // namespace small
