#include "runnel/verdict/vents_tried.h"

#include <algorithm>
#include <optional>

#include "runnel/network/change.h"
#include "runnel/steady/solver.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/cure_lasts.h"

namespace runnel::verdict {
namespace {

// Each round the water reaches air farther on.
constexpr int most_rounds = 4;

/// The need with air valves at some places; none if that settles nothing.
std::optional<AskResult> with_vents(const network::System& system, const std::vector<AirPlace>& places,
                                    std::size_t ask) {
  const auto built = network::resolve(with_air_valves(system.model(), places));
  if (!built) return std::nullopt;
  const steady::State state = steady::solve(*built.value);
  if (!state.proved()) return std::nullopt;
  std::vector<AskResult> asks = judge_asks(*built.value, state);
  judge_with_air(*built.value, held_by_air(*built.value), asks);
  return std::move(needs_cured_for_good(*built.value, state, {ask}, std::move(asks), true)[ask]);
}

}  // namespace

bool add_places(const std::vector<AirPlace>& found, std::vector<AirPlace>& places) {
  const std::size_t before = places.size();
  for (const AirPlace& place : found)
    if (std::none_of(places.begin(), places.end(),
                     [&](const AirPlace& known) { return same_place(known, place); }))
      places.push_back(place);
  return places.size() > before;
}

network::Model with_air_valves(network::Model model, const std::vector<AirPlace>& places) {
  for (const AirPlace& place : places)
    for (network::Pipeline& line : model.pipelines)
      if (line.name == place.pipeline) network::put_air_valve(line, place.station_m);
  return model;
}

void try_vents(const network::System& system, std::vector<AskResult>& asks) {
  for (std::size_t i = 0; i < asks.size(); ++i) {
    AskResult& r = asks[i];
    if (!r.held_by_air()) continue;
    std::vector<AirPlace> places = r.air->held;
    for (int round = 0; round < most_rounds && !places.empty(); ++round) {
      const auto now = with_vents(system, places, i);
      if (!now || !now->got) break;
      // What is short for another reason, as at low water, no further valve brings.
      if (now->met || !now->held_by_air() || !add_places(now->air->held, places)) {
        r.air->held = places;
        r.air->vented = now->got;
        break;
      }
    }
  }
}

}  // namespace runnel::verdict
