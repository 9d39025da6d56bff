#include "runnel/verdict/runs_otherwise.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/network/no_flow.h"

namespace runnel::verdict {
namespace {

using network::Model;

/// Shuts the taps that are drawn at certain hours only; false if there is none.
bool shut_taps(Model& model) {
  bool some = false;
  for (network::Outlet& outlet : model.outlets) {
    if (!network::has_hours(outlet)) continue;
    outlet.shut = some = true;
  }
  return some;
}

/// Fills the tanks that gain water as drawn, up to where they spill or their float shuts; false if none does.
bool fill_tanks(Model& model, const steady::State& state) {
  bool some = false;
  for (std::size_t t = 0; t < model.tanks.size(); ++t) {
    network::Tank& tank = model.tanks[t];
    if (tank.held || !(state.tanks[t].inflow_m3s > network::no_flow_m3s)) continue;
    const Length full = network::just_below_full(model, tank);
    if (full <= tank.level) continue;
    tank.level = full;
    some = true;
  }
  return some;
}

/// A tank at the lower end that is drawn full lets nothing in: it stands where its float valve opens.
void draw_down_end(Model& model, const network::System& system, std::size_t line) {
  const std::string& end = system.place_name(system.lines()[line].to);
  for (network::Tank& tank : model.tanks) {
    const auto floats = network::floats_of(model, tank);
    if (tank.name != end || tank.held || floats.empty()) continue;
    tank.level = std::min({tank.level, floats.front().opens_at, network::just_below_full(model, tank)});
  }
}

}  // namespace

bool runs_in(const Model& model, std::size_t line) {
  const auto system = network::resolve(model);
  if (!system) return false;
  const steady::State state = steady::solve(*system.value);
  return state.proved() && std::abs(state.lines[line].flow_m3s) > network::no_flow_m3s;
}

RunsWhen runs_otherwise(const network::System& system, const steady::State& state, std::size_t line) {
  Model shut = system.model(), full = shut;
  const bool some_shut = shut_taps(shut), some_full = fill_tanks(full, state);
  draw_down_end(full, system, line);
  if (some_shut && runs_in(shut, line)) return RunsWhen::taps_shut;
  if (some_full && runs_in(full, line)) return RunsWhen::tanks_full;
  if (!some_shut || !shut_taps(full)) return RunsWhen::never;
  return some_full && runs_in(full, line) ? RunsWhen::taps_shut_tanks_full : RunsWhen::never;
}

}  // namespace runnel::verdict
