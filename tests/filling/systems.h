#pragma once
// Small systems for the tests of filling, made by hand.
#include <string>

#include "runnel/water/water.h"
#include "support/draw.h"
#include "support/resolved.h"

namespace filling_test {

using namespace runnel;
using namespace runnel::network;

inline Length m(double v) { return Length::metres(v); }

inline pipes::Pipe pipe(double bore_m, double roughness_m) {
  pipes::Pipe p;
  p.name = "test pipe";
  p.bore = m(bore_m);
  p.roughness = m(roughness_m);
  return p;
}

inline Box spring(const std::string& name, double yield_m3s, double outlet_m, double lip_m) {
  Box box;
  box.name = name;
  box.yield = Flow::from_si(yield_m3s);
  box.outlet = m(outlet_m);
  box.lip = m(lip_m);
  return box;
}

inline Tank round_tank(const std::string& name, double floor_m, double depth_m, double diameter_m) {
  Tank tank;
  tank.name = name;
  tank.shape = UprightCylinder{m(diameter_m)};
  tank.floor = tank.level = m(floor_m);
  tank.lip = tank.inlet = m(floor_m + depth_m);
  return tank;
}

inline Joint joint_at(const std::string& name, double elevation_m) {
  Joint joint;
  joint.name = name;
  joint.elevation = m(elevation_m);
  return joint;
}

/// An open end as wide as its line, or an opening with a loss of its own.
inline Outlet open_tap(const std::string& name, double elevation_m, double opening_m = 0.0,
                       double loss = 0.0) {
  Outlet tap;
  tap.name = name;
  tap.elevation = m(elevation_m);
  tap.opening = m(opening_m);
  tap.loss = loss;
  return tap;
}

/// A straight line whose ends differ in height; plan distance so that the slope length is `length_m`.
inline Pipeline line(const std::string& name, const std::string& from, const std::string& to, double length_m,
                     double from_m, double to_m, double bore_m, double entrance = 0.5, double exit = 1.0,
                     double roughness_m = 7e-6) {
  Pipeline l;
  l.name = name;
  l.from = from;
  l.to = to;
  l.pipes.push_back({pipe(bore_m, roughness_m), m(0.0), {}, {}});
  const double plan = std::sqrt(length_m * length_m - (to_m - from_m) * (to_m - from_m));
  l.survey = {{m(0.0), m(from_m)}, {m(plan), m(to_m)}};
  l.surveyed = false;
  l.entrance_loss = entrance;
  l.exit_loss = exit;
  return l;
}

/// Taken evenly between two hours of the day; all day if they are the same.
using support::draw;

/// Water of 15 degrees.
inline Model with_water(double viscosity_m2s = 1.139e-6) {
  Model s;
  s.site.water.temperature_c = 15.0;
  s.site.water.vapour_pressure_pa = water::vapour_pressure_pa(15.0);
  s.site.water.kinematic_viscosity_m2s = viscosity_m2s;
  return s;
}

/// A spring of 0.1 L/s and an open end 25 m below it, with nothing stored between.
inline Model spring_to_an_end() {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 1e-4, 29.0, 30.0));
  s.outlets.push_back(open_tap("end", 4.0));
  s.pipelines.push_back(line("out", "spring", "end", 60.0, 29.0, 4.0, 0.04));
  return s;
}

/// A spring of 0.2 L/s and a tank of 2 m below it, by a line that could take more.
inline Model spring_and_tank(double level_m) {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 2e-4, 29.0, 30.0));
  Tank tank = round_tank("tank", 10.0, 2.0, 2.0);
  tank.level = m(level_m);
  s.tanks.push_back(tank);
  s.pipelines.push_back(line("in", "spring", "tank", 100.0, 29.0, 12.0, 0.026));
  return s;
}

}  // namespace filling_test
