#include "runnel/verdict/at_rest.h"

#include <algorithm>

#include "runnel/network/change.h"
#include "runnel/network/floats.h"
#include "runnel/network/no_flow.h"
#include "runnel/steady/solver.h"

namespace runnel::verdict {
namespace {

using network::Model;
using network::System;

Model unused(Model model) {
  for (network::Outlet& tap : model.outlets) tap.shut = true;
  for (network::Joint& joint : model.joints) {
    joint.draws.clear();
    joint.draw = {};
  }
  for (network::Tank& tank : model.tanks) {
    tank.draws.clear();
    if (!tank.held && !network::floats_of(model, tank).empty()) tank.level = tank.floor;  // floats open
  }
  return model;
}

std::optional<AtRest> solved(const Model& model) {
  auto system = network::resolve(model);
  if (!system) return std::nullopt;
  System rest = std::move(*system.value);
  for (const network::Tank& tank : model.tanks)
    if (!tank.held) rest = network::with_empty_tank(rest, tank.name);
  steady::State state = steady::solve(rest);
  if (!state.proved()) return std::nullopt;
  return AtRest{std::move(rest), std::move(state)};
}

/// Shuts the float valves of tanks that have risen to them and from which nothing runs on; whether any did.
bool shut_floats(const AtRest& rest, Model& model) {
  bool some = false;
  for (network::Tank& tank : model.tanks) {
    const steady::PlaceState* here = rest.state.place(tank.name);
    if (tank.held || !here || !here->level_m || !(here->spill_m3s > network::no_flow_m3s)) continue;
    for (const network::FloatValve& valve : network::floats_of(model, tank)) {
      if (tank.level >= valve.shuts_at || *here->level_m < valve.shuts_at.metres()) continue;
      if (here->inflow_m3s - here->spill_m3s > network::no_flow_m3s)
        continue;  // it lets through what runs on
      tank.level = valve.shuts_at;
      some = true;
      break;
    }
  }
  return some;
}

}  // namespace

double AtRest::by_lines_m3s(const std::string& place) const {
  const steady::PlaceState* here = state.place(place);
  if (!here) return 0.0;
  const network::Box* box = system.box(place);
  return here->inflow_m3s - (box ? box->yield.si() : 0.0);
}

double AtRest::spills_m3s(const std::string& place) const {
  const steady::PlaceState* here = state.place(place);
  return here ? here->spill_m3s : 0.0;
}

std::optional<AtRest> at_rest(const System& system, const std::vector<Flow>& yields) {
  Model model = unused(network::with_yields(system, yields).model());
  std::optional<AtRest> rest = solved(model);
  // Each round shuts a float valve or more.
  while (rest && shut_floats(*rest, model)) rest = solved(model);
  return rest;
}

}  // namespace runnel::verdict
