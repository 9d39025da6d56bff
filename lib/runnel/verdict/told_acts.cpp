#include "runnel/verdict/told_acts.h"

#include <utility>

#include "runnel/network/change.h"
#include "runnel/verdict/air_answer.h"
#include "runnel/verdict/lifted.h"

namespace runnel::verdict {
namespace {

using network::Model;

void add_new(const AirPlace& place, std::vector<AirPlace>& places) {
  for (const AirPlace& known : places)
    if (same_place(known, place)) return;
  places.push_back(place);
}

/// Where air valves are told to go.
std::vector<AirPlace> told_valves(const std::vector<Run>& runs) {
  std::vector<AirPlace> places;
  for (const Run& run : runs) {
    if (run.verdict.air)
      for (const PathAir& way : run.verdict.air->paths)
        for (const AirPlace& place : valves_of(way)) add_new(place, places);
    for (const AskResult& r : run.verdict.asks)
      if (r.held_by_air() && r.air->vented)
        for (const AirPlace& place : r.air->held) add_new(place, places);
  }
  return places;
}

}  // namespace

std::optional<Model> with_told_acts(const Model& model, const std::vector<Run>& runs) {
  const std::vector<AirPlace> valves = told_valves(runs);
  Model mended = model;
  for (const AirPlace& place : valves)
    for (network::Pipeline& line : mended.pipelines)
      if (line.name == place.pipeline) network::put_air_valve(line, place.station_m);
  auto system = network::resolve(std::move(mended));
  if (!system) return std::nullopt;
  bool some = !valves.empty();
  for (const Run& run : runs)
    for (const AskResult& r : run.verdict.asks) {
      if (r.met || !r.judged || r.held_by_air() || !r.reason || !r.reason->cures) continue;
      auto lifted = with_lifted(*system.value, *r.reason);
      if (!lifted) continue;
      system.value = std::move(lifted);
      some = true;
    }
  return some ? std::optional(system.value->model()) : std::nullopt;
}

}  // namespace runnel::verdict
