// A system built in code, asked, changed and asked again. Invented figures.
#include <runnel/runnel.h>

#include <iostream>

int main() {
  using namespace runnel;

  network::Box spring;
  spring.name = "spring";
  spring.yield = Flow::litres_per_second(0.5);
  spring.outlet = Length::metres(120.0);
  spring.lip = Length::metres(120.6);

  network::Outlet trough;
  trough.name = "trough";
  trough.elevation = Length::metres(96.0);

  network::Pipeline line;
  line.name = "line";
  line.from = "spring";
  line.to = "trough";
  line.survey = {{Length::metres(0.0), Length::metres(120.0)},
                 {Length::metres(240.0), Length::metres(104.0)},
                 {Length::metres(520.0), Length::metres(96.0)}};
  line.pipes = {{*pipes::standard_catalogue().find("PE100 SDR11 25 mm"), Length::metres(0.0)}};
  line.entrance_loss = 0.5;
  line.exit_loss = 1.0;

  network::Model model;
  model.name = "a trough below a spring";
  model.boxes = {spring};
  model.outlets = {trough};
  model.pipelines = {line};

  // Either a system that can be computed on, or everything that is wrong with the model.
  const auto system = network::resolve(model);
  for (const Finding& finding : system.findings) std::cout << finding.code << ": " << finding.message << '\n';
  if (!system) return 1;

  const auto litres_a_second = [](const network::System& asked) {
    const steady::State state = steady::solve(asked);
    return state.proof.consistent ? 1000.0 * state.lines[0].flow_m3s : 0.0;  // recomputed by separate code
  };
  const network::Stretch whole{0.0, 520.0};
  const auto wider =
      network::with_pipe(*system.value, 0, whole, *pipes::standard_catalogue().find("PE100 SDR11 32 mm"));
  if (!wider) return 1;
  const double narrow = litres_a_second(*system.value), wide = litres_a_second(*wider.value);
  std::cout << "in 25 mm pipe " << narrow << " L/s, in 32 mm pipe " << wide << " L/s\n";
  return narrow > 0.0 && wide > narrow ? 0 : 1;
}
