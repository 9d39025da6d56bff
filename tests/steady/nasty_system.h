#pragma once
// Seeded random systems, nasty on purpose: boxes, tanks, taps, open ends, draws that cannot be met, crests on
// open and sealed lines, check valves, reducing valves, changes of pipe; trees, and lines that close loops.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "support/resolved.h"
#include "steady/plain_network.h"

namespace runnel::test {

struct NastyKind {
  int most_places = 16;
  int loops = 0;        ///< lines laid between two places that are there already
  int most_crests = 6;  ///< survey points between the ends of a line
  bool valves = true;   ///< check valves and reducing valves
  bool draws = true;    ///< many of which cannot be met
};

class NastySystem {
 public:
  NastySystem(std::uint64_t seed, const NastyKind& kind) : dice_(seed * 100003), kind_(kind) {
    system.name = "invented";
    system.site.water = {.temperature_c = 10.0,
                         .density_kgm3 = 999.7,
                         .kinematic_viscosity_m2s = 1.3e-6,
                         .vapour_pressure_pa = 1228.0};
    if (dice_.chance(0.5)) system.friction.law = losses::Law::hazen_williams;
    add_box("box", 100.0, std::pow(10.0, dice_.real(-5.0, -2.0)), dice_.real(0.05, 1.5));
    for (int j = dice_.whole(1, kind.most_places - 1); j > 0; --j) grow(std::to_string(j));
    for (int k = 0; k < kind.loops; ++k) {
      const Spot a = any(), b = any();
      if (a.name != b.name) lay(a, b);
    }
  }

  network::Model system;

 private:
  enum class Kind { water, joint, air };
  struct Spot {
    std::string name;
    double elevation_m;
    Kind kind;
  };

  const Spot& any() {
    return spots_[static_cast<std::size_t>(dice_.whole(0, static_cast<int>(spots_.size()) - 1))];
  }

  void add_box(const std::string& name, double elevation_m, double yield_m3s, double lip_above_m) {
    network::Box box;
    box.name = name;
    box.yield = Flow::from_si(yield_m3s);
    box.outlet = Length::metres(elevation_m);
    box.lip = Length::metres(elevation_m + lip_above_m);
    system.boxes.push_back(box);
    spots_.push_back({name, elevation_m, Kind::water});
  }

  void add_tank(const std::string& name, double elevation_m) {
    network::Tank tank;
    tank.name = name;
    tank.shape = network::UprightCylinder{Length::metres(2.0)};
    tank.inlet = Length::metres(elevation_m);
    tank.level = Length::metres(elevation_m + dice_.real(-2.0, 1.0));
    tank.floor = Length::metres(elevation_m - 3.0);
    tank.lip = Length::metres(elevation_m + 1.5);
    system.tanks.push_back(tank);
    spots_.push_back({name, elevation_m, Kind::water});
  }

  void add_outlet(const std::string& name, double elevation_m, double opening_m, double loss,
                  const std::string& on) {
    network::Outlet outlet;
    outlet.name = name;
    outlet.elevation = Length::metres(elevation_m);
    outlet.opening = Length::metres(opening_m);
    outlet.loss = loss;
    outlet.on = on;
    system.outlets.push_back(outlet);
  }

  /// One more place on a line from an old one, perhaps with a tap, perhaps with an open end behind it.
  void grow(const std::string& number) {
    const Spot parent = any();
    const double z = parent.elevation_m - dice_.real(-3.0, 15.0);
    if (dice_.chance(0.1)) {
      add_box("b" + number, z, dice_.chance(0.5) ? 0.0 : 1e-4, dice_.real(0.1, 1.0));
    } else if (dice_.chance(0.1)) {
      add_tank("t" + number, z);
    } else {
      network::Joint joint;
      joint.name = "j" + number;
      joint.elevation = Length::metres(z);
      if (kind_.draws && dice_.chance(0.4))
        joint.draw = Flow::from_si(std::pow(10.0, dice_.real(-6.0, -3.0)));
      system.joints.push_back(joint);
      spots_.push_back({joint.name, z, Kind::joint});
    }
    const Spot here = spots_.back();
    lay(parent, here);
    if (here.kind == Kind::joint && dice_.chance(0.5))
      add_outlet("o" + number, z + dice_.real(-1.0, 2.0), dice_.real(0.004, 0.03), dice_.real(1.0, 6.0),
                 here.name);
    if (!dice_.chance(0.3)) return;
    const double end = z - dice_.real(-1.0, 10.0);
    add_outlet("e" + number, end, dice_.chance(0.3) ? dice_.real(0.004, 0.03) : 0.0, dice_.real(1.0, 6.0),
               {});
    lay(here, {"e" + number, end, Kind::air});
    // No wider than the pipe it ends: a wider one is refused.
    Length& opening = system.outlets.back().opening;
    opening = std::min(opening, system.pipelines.back().pipes.back().pipe.bore);
    if (opening.metres() > 0.0) system.pipelines.back().exit_loss = 0.0;
  }

  pipes::Pipe pipe() {
    pipes::Pipe p;
    p.bore = Length::metres(dice_.real(0.012, 0.08));
    p.roughness = Length::metres(dice_.chance(0.5) ? 1.5e-6 : 1.5e-4);
    p.hazen_c = dice_.real(90.0, 150.0);
    return p;
  }

  void lay(const Spot& from, const Spot& to) {
    network::Pipeline line;
    line.name = "l" + std::to_string(system.pipelines.size());
    line.from = from.name;
    line.to = to.name;
    const double length = dice_.real(5.0, 400.0);
    const int reaches = dice_.whole(1, 1 + kind_.most_crests);
    for (int i = 0; i <= reaches; ++i) {
      const double share = static_cast<double>(i) / reaches;
      const double off = i == 0 || i == reaches ? 0.0 : dice_.real(-1.0, 1.0) * dice_.real(0.0, 6.0);
      line.survey.push_back(
          {Length::metres(length * share),
           Length::metres(from.elevation_m + share * (to.elevation_m - from.elevation_m) + off)});
    }
    if (dice_.chance(0.2)) line.air = network::Air::sealed;
    line.pipes.push_back({pipe(), Length{}, {}, {}});
    if (dice_.chance(0.2))
      line.pipes.push_back({pipe(), Length::metres(length * dice_.real(0.1, 0.9)), {}, {}});
    line.entrance_loss = from.kind == Kind::water ? 0.5 : 0.0;
    line.exit_loss = to.kind == Kind::joint ? 0.0 : 1.0;
    if (kind_.valves) add_valves(line, length);
    system.pipelines.push_back(line);
  }

  void add_valves(network::Pipeline& line, double length_m) {
    network::Part part;
    if (dice_.chance(0.15)) {
      part.kind = network::PartKind::check_valve;
      part.at = Length::metres(dice_.real(0.0, length_m));
      part.loss = 2.0;
      line.parts.push_back(part);
    }
    if (dice_.chance(0.1)) {
      part.kind = network::PartKind::reducing_valve;
      part.at = Length::metres(dice_.real(0.0, length_m));
      part.loss = 5.0;
      part.set_pressure = Pressure::pascals(dice_.real(0.0, 2e5));
      line.parts.push_back(part);
    }
    std::sort(line.parts.begin(), line.parts.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
  }

  plain::Dice dice_;
  NastyKind kind_;
  std::vector<Spot> spots_;
};

}  // namespace runnel::test
