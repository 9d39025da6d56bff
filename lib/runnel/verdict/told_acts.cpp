#include "runnel/verdict/told_acts.h"

#include <utility>

#include "runnel/verdict/air_answer.h"
#include "runnel/verdict/lifted.h"
#include "runnel/verdict/vents_tried.h"

namespace runnel::verdict {
namespace {

using network::Model;

/// Where air valves are told to go.
std::vector<AirPlace> told_valves(const std::vector<Run>& runs) {
  std::vector<AirPlace> places;
  for (const Run& run : runs) {
    if (run.verdict.air)
      for (const PathAir& way : run.verdict.air->paths) add_places(valves_of(way), places);
    for (const AskResult& r : run.verdict.asks)
      if (r.held_by_air() && r.air->vented) add_places(r.air->held, places);
  }
  return places;
}

}  // namespace

std::optional<Model> with_told_acts(const Model& model, const std::vector<Run>& runs) {
  const std::vector<AirPlace> valves = told_valves(runs);
  auto system = network::resolve(with_air_valves(model, valves));
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
