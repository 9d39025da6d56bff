#pragma once
// Small invented systems for the tests of room `steady`, built by hand.
#include <string>
#include <utility>
#include <vector>

#include "support/resolved.h"
#include "runnel/water/water.h"

namespace small {

using namespace runnel;
using network::Model;

inline pipes::Pipe pipe(double bore_m) {
  pipes::Pipe p;
  p.name = "invented";
  p.bore = Length::metres(bore_m);
  p.roughness = Length::millimetres(0.0015);
  p.hazen_c = 150.0;
  return p;
}

inline Model empty() {
  Model s;
  s.name = "invented";
  s.site.altitude = Length::metres(1200.0);
  s.site.air_pressure_pa = water::air_pressure_pa(s.site.altitude);
  s.site.water = water::at(Temperature::celsius(9.0));
  return s;
}

inline void box(Model& s, const std::string& name, double yield_m3s, double outlet_m, double lip_m) {
  network::Box b;
  b.name = name;
  b.yield = Flow::from_si(yield_m3s);
  b.outlet = Length::metres(outlet_m);
  b.lip = Length::metres(lip_m);
  s.boxes.push_back(b);
}

inline void tank(Model& s, const std::string& name, double inlet_m, double level_m) {
  network::Tank t;
  t.name = name;
  t.shape = network::UprightCylinder{Length::metres(2.0)};
  t.floor = Length::metres(level_m - 1.0);
  t.lip = Length::metres(level_m + 2.0);
  t.inlet = Length::metres(inlet_m);
  t.level = Length::metres(level_m);
  s.tanks.push_back(t);
}

inline void joint(Model& s, const std::string& name, double elevation_m, double draw_m3s = 0.0) {
  network::Joint j;
  j.name = name;
  j.elevation = Length::metres(elevation_m);
  j.draw = Flow::from_si(draw_m3s);
  s.joints.push_back(j);
}

inline void outlet(Model& s, const std::string& name, double elevation_m, double opening_m = 0.0,
                   double loss = 1.0, const std::string& on = {}) {
  network::Outlet o;
  o.name = name;
  o.elevation = Length::metres(elevation_m);
  o.opening = Length::metres(opening_m);
  o.loss = loss;
  o.on = on;
  s.outlets.push_back(o);
}

/// A line with the usual losses of its ends: 0.5 out of open water, 1 into open water or air.
inline network::Pipeline& line(Model& s, const std::string& name, const std::string& from,
                               const std::string& to, double bore_m,
                               const std::vector<std::pair<double, double>>& survey) {
  network::Pipeline l;
  l.name = name;
  l.from = from;
  l.to = to;
  l.pipes.push_back({pipe(bore_m), Length::metres(survey.front().first), {}, {}});
  for (const auto& [station, elevation] : survey)
    l.survey.push_back({Length::metres(station), Length::metres(elevation)});
  l.entrance_loss = s.box(from) || s.tank(from) ? 0.5 : 0.0;
  const auto* end = s.outlet(to);
  l.exit_loss = s.joint(to) || (end && end->opening.metres() > 0.0) ? 0.0 : 1.0;
  s.pipelines.push_back(l);
  return s.pipelines.back();
}

inline network::Part part(network::PartKind kind, const std::string& name, double at_m, double loss = 0.0) {
  network::Part p;
  p.kind = kind;
  p.name = name;
  p.type = "fitting";
  p.at = Length::metres(at_m);
  p.loss = loss;
  return p;
}

/// A weak spring on a line over a crest: part-full and mixed reaches.
inline Model weak_spring(double yield_m3s = 1.2e-4) {
  Model s = empty();
  box(s, "spring", yield_m3s, 100.0, 100.6);
  outlet(s, "trough", 62.0, 0.0127, 2.5);
  line(s, "main", "spring", "trough", 0.0332, {{0, 100}, {80, 88}, {160, 93}, {300, 70}, {420, 62}});
  return s;
}

/// A strong spring that spills; a tee with a draw, a tap on it, a tank behind a check valve, a trough
/// behind a reducing valve and a change of pipe.
inline Model village() {
  Model s = empty();
  box(s, "spring", 2e-3, 50.0, 51.0);
  tank(s, "tank", 32.0, 31.0);
  outlet(s, "tap", 30.5, 0.0095, 3.0, "tee");
  outlet(s, "trough", 5.0, 0.0127, 2.5);
  joint(s, "tee", 30.0, 1e-4);
  line(s, "main", "spring", "tee", 0.0408, {{0, 50}, {200, 41}, {350, 30}});
  auto& up = line(s, "to tank", "tee", "tank", 0.0266, {{0, 30}, {90, 28}, {150, 32}});
  up.parts.push_back(part(network::PartKind::check_valve, "C1", 10.0, 2.0));
  auto& down = line(s, "to trough", "tee", "trough", 0.0332, {{0, 30}, {300, 8}, {320, 5}});
  down.pipes.push_back({pipe(0.0209), Length::metres(200.0), {}, {}});
  auto valve = part(network::PartKind::reducing_valve, "R1", 120.0, 5.0);
  valve.set_pressure = Pressure::pascals(60e3);
  down.parts.push_back(valve);
  return s;
}

/// Two ways from a box to a tee, closed to a loop, and a draw that is too much.
inline Model loop(double draw_m3s) {
  Model s = empty();
  box(s, "spring", 3e-3, 20.0, 21.0);
  joint(s, "west", 12.0);
  joint(s, "east", 9.0);
  joint(s, "far", 8.0, draw_m3s);
  line(s, "a", "spring", "west", 0.0408, {{0, 20}, {100, 12}});
  line(s, "b", "spring", "east", 0.0332, {{0, 20}, {150, 9}});
  line(s, "c", "west", "far", 0.0332, {{0, 12}, {120, 8}});
  line(s, "d", "far", "east", 0.0266, {{0, 8}, {80, 9}});
  return s;
}

/// A line blocked by a crest above its spring, and a shut valve on another.
inline Model blocked() {
  Model s = empty();
  box(s, "spring", 5e-4, 100.0, 100.5);
  outlet(s, "trough", 60.0, 0.0127, 2.5);
  outlet(s, "tap", 70.0, 0.0127, 2.5);
  line(s, "over", "spring", "trough", 0.0332, {{0, 100}, {50, 95}, {90, 102}, {200, 60}});
  auto& shut = line(s, "shut", "spring", "tap", 0.0332, {{0, 100}, {120, 70}});
  auto valve = part(network::PartKind::valve, "V1", 60.0, 0.2);
  valve.open = 0.0;
  shut.parts.push_back(valve);
  return s;
}

}  // namespace small
