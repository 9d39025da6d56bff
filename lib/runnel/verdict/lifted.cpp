#include "runnel/verdict/lifted.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "runnel/network/change.h"
#include "runnel/network/drawn_needs.h"
#include "runnel/network/floats.h"
#include "runnel/network/no_flow.h"
#include "runnel/pipes/catalogue.h"
#include "runnel/verdict/cures_tried.h"
#include "runnel/verdict/dug_points.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/start_levels.h"

namespace runnel::verdict {

using network::System;

double next_opening_m(double opening_m) {
  constexpr double wider_step = 1.25;
  return 1e-3 * std::ceil(1e3 * wider_step * opening_m - 1e-9);
}

std::optional<System> with_open_valve(const System& system, const std::string& valve) {
  network::Model model = system.model();
  network::Setting opened;
  opened.name = "one valve open";
  opened.open = {{valve, {}}};
  model.settings = {opened};
  model.claims.clear();  // they may name settings that are no longer there
  auto run = network::under_setting(model, opened.name);
  if (!run) return std::nullopt;
  return network::resolve(std::move(*run.value)).value;
}

double bore_behind_m(const System& system, int outlet) {
  const int hangs = system.hangs_on(outlet), place = hangs >= 0 ? hangs : system.outlet_place(outlet);
  double widest_m = 0.0;
  for (const int l : system.lines_at(place)) {
    const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
    widest_m =
        std::max(widest_m, (line.to == place ? line.pipes.back() : line.pipes.front()).pipe.bore.metres());
  }
  return widest_m;
}

std::optional<System> with_opening(const System& system, const std::string& outlet, double bore_m) {
  network::Model model = system.model();
  for (network::Outlet& tap : model.outlets)
    if (tap.name == outlet) tap.opening = Length::metres(bore_m);
  return network::resolve(std::move(model)).value;
}

std::optional<System> without_part(const System& system, const std::string& line, const std::string& part) {
  network::Model model = system.model();
  for (network::Pipeline& pipeline : model.pipelines)
    if (pipeline.name == line)
      std::erase_if(pipeline.parts, [&](const network::Part& p) { return p.name == part; });
  return network::resolve(std::move(model)).value;
}

std::optional<double> set_pressure_pa(const System& system, const std::string& line,
                                      const std::string& part) {
  if (const network::Pipeline* pipeline = system.model().pipeline(line))
    for (const network::Part& p : pipeline->parts)
      if (p.name == part && p.kind == network::PartKind::reducing_valve) return p.set_pressure.si();
  return std::nullopt;
}

std::optional<System> with_set_pressure(const System& system, const std::string& line,
                                        const std::string& part, double set_pa) {
  network::Model model = system.model();
  for (network::Pipeline& pipeline : model.pipelines)
    for (network::Part& p : pipeline.parts)
      if (pipeline.name == line && p.name == part) p.set_pressure = Pressure::pascals(set_pa);
  return network::resolve(std::move(model)).value;
}

std::optional<System> with_throttled_end(const System& system, const std::string& line, double loss) {
  network::Model model = system.model();
  for (network::Pipeline& pipeline : model.pipelines)
    if (pipeline.name == line) pipeline.exit_loss += loss;
  return network::resolve(std::move(model)).value;
}

std::optional<System> with_deeper_mouth(const System& system, int line, double by_m) {
  network::Model model = system.model();
  const std::string& name = system.lines()[static_cast<std::size_t>(line)].name;
  for (network::Pipeline& pipeline : model.pipelines)
    if (pipeline.name == name)
      pipeline.survey.front().elevation = pipeline.survey.front().elevation - Length::metres(by_m);
  return network::resolve(std::move(model)).value;
}

std::optional<System> with_taps_throttled(const System& system, const std::vector<std::string>& taps) {
  network::Model model = system.model();
  std::vector<std::string> asked;
  for (network::Outlet& tap : model.outlets) {
    if (std::find(taps.begin(), taps.end(), tap.name) == taps.end()) continue;
    if (network::flow_asked_at(model, tap.name) > Flow{})
      asked.push_back(tap.name);
    else
      tap.shut = true;
  }
  throttle(model, asked);
  return network::resolve(std::move(model)).value;
}

namespace {

std::optional<System> with_reason_pipe(const System& system, const Reason& reason) {
  const pipes::Pipe* pipe = pipes::standard_catalogue().find(reason.pipe);
  const auto line = system.find_line(reason.line);
  if (!pipe || !line) return std::nullopt;
  return network::with_pipe(system, *line, {reason.from_m, reason.to_m}, *pipe).value;
}

std::optional<System> with_reason_trench(const System& system, const Reason& reason) {
  const auto line = system.find_line(reason.line);
  const auto point =
      line ? survey_point(system.lines()[static_cast<std::size_t>(*line)], reason.from_m) : std::nullopt;
  if (!point) return std::nullopt;
  return network::with_dug_point(system, *line, *point, Length::metres(reason.dug_m)).value;
}

}  // namespace

std::optional<System> with_lifted(const System& system, const Reason& reason) {
  switch (reason.bound) {
    case Bound::opening:
      return with_opening(system, reason.place, reason.dug_m);
    case Bound::other_taps:
      return with_taps_throttled(system, reason.taps);
    case Bound::shut_valve:
      return with_open_valve(system, reason.part);
    case Bound::held_valve:
      return reason.set_pa ? with_set_pressure(system, reason.line, reason.part, *reason.set_pa)
                           : without_part(system, reason.line, reason.part);
    case Bound::free_end:
      return with_throttled_end(system, reason.line, reason.loss);
    case Bound::pipe:
      return with_reason_pipe(system, reason);
    case Bound::high_point:
      return with_reason_trench(system, reason);
    default:
      return std::nullopt;
  }
}

std::optional<System> with_tanks_filled(const System& system) {
  auto later = once_filled(system.model());
  return later ? std::move(network::resolve(std::move(later->model)).value) : std::nullopt;
}

std::vector<std::string> tanks_without_end(const System& system, const steady::State& state) {
  std::vector<std::string> tanks;
  for (std::size_t t = 0; t < system.tanks().size(); ++t) {
    const network::Tank& tank = system.tanks()[t];
    const double in_m3s = state.tanks[t].inflow_m3s;
    const bool asked = network::asked_at(system.model(), tank.name);
    const bool passes_on = brought_m3s(system, state, tank.name) - in_m3s > network::no_flow_m3s;
    if (in_m3s > network::no_flow_m3s && !passes_on && !asked && !tank.held &&
        network::floats_of(system.model(), tank).empty())
      tanks.push_back(tank.name);
  }
  return tanks;
}

}  // namespace runnel::verdict
