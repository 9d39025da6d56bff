#pragma once
// A box above an outlet on one straight line, with an answer written by hand: water 1000 kg/m3 heavy.
#include "runnel/steady/state.h"
#include "support/resolved.h"

namespace sample {

namespace network = runnel::network;
namespace steady = runnel::steady;
using runnel::Flow;
using runnel::Length;
using runnel::Pressure;

struct Sample {
  network::Model system;
  steady::State state;
};

inline network::Model system() {
  network::Model s;
  s.name = "sample";
  s.site.water = {10.0, 1000.0, 1.3e-6, 1228.0, 2.09e9};
  network::Box box;
  box.name = "spring";
  box.yield = Flow::litres_per_second(1.0);
  box.outlet = Length::metres(49.0);
  box.lip = Length::metres(50.0);
  s.boxes.push_back(box);
  network::Outlet end;
  end.name = "trough";
  end.elevation = Length::metres(0.0);
  s.outlets.push_back(end);
  network::Pipeline line;
  line.name = "main";
  line.from = "spring";
  line.to = "trough";
  line.entrance_loss = 0.5;
  line.exit_loss = 1.0;
  line.survey = {{Length::metres(0), Length::metres(49)},
                 {Length::metres(100), Length::metres(20)},
                 {Length::metres(200), Length::metres(0)}};
  network::LaidPipe laid;
  laid.pipe.name = "hand pipe";
  laid.pipe.bore = Length::millimetres(50);
  laid.pipe.roughness = Length::millimetres(0.0015);
  laid.pipe.hazen_c = 140;
  laid.pipe.rating = Pressure::bar(10);
  line.pipes.push_back(laid);
  s.pipelines.push_back(line);
  return s;
}

inline network::Joint joint(const std::string& name, double elevation_m) {
  network::Joint made;
  made.name = name;
  made.elevation = Length::metres(elevation_m);
  return made;
}

inline steady::PlaceState place(const std::string& name, network::PlaceKind kind) {
  steady::PlaceState p;
  p.name = name;
  p.kind = kind;
  return p;
}

// Settled, 0.8 L/s through the line, 0.2 L/s over the lip.
inline steady::State state() {
  steady::State s;
  s.outcome = steady::Outcome::settled;
  s.proof.consistent = true;
  steady::PlaceState box = place("spring", network::PlaceKind::box);
  box.level_m = 50.0;
  box.inflow_m3s = 1.0e-3;
  box.spill_m3s = 0.2e-3;
  s.boxes.push_back(box);
  steady::PlaceState end = place("trough", network::PlaceKind::outlet);
  end.flow_m3s = 0.8e-3;
  end.grade_m = 0.1;
  end.pressure_head_m = 0.1;
  s.outlets.push_back(end);
  steady::LineState line;
  line.name = "main";
  line.flow_m3s = 0.8e-3;
  line.points = {{0, 49, 49.9, 0.9, 1.0}, {100, 20, 25.0, 5.0, 30.0}, {200, 0, 0.1, 0.1, 50.0}};
  for (int i = 0; i < 2; ++i) {
    steady::Reach r;
    r.from_m = 100.0 * i;
    r.to_m = 100.0 * (i + 1);
    r.length_m = 103.0;
    r.velocity_ms = 0.8e-3 / 1.9634954e-3;  // flow over the area of a 50 mm bore
    line.reaches.push_back(r);
  }
  s.lines.push_back(line);
  return s;
}

inline Sample make() { return {system(), state()}; }

inline network::Ask ask_flow(const std::string& at, double litres_per_second) {
  network::Ask ask;
  ask.at = at;
  ask.flow = Flow::litres_per_second(litres_per_second);
  return ask;
}

}  // namespace sample
