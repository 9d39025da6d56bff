#pragma once
// What an answer says of one of its places, whatever kind it is.
#include "runnel/network/flow_state.h"

namespace runnel::network {

/// Of a place known by its number; looking it up by name takes as long as there are places.
/// Precondition: the state is one of this system.
inline const PlaceState& place_state(const System& system, const State& state, int place) {
  const PlaceRef which = system.place(place);
  return of_kind(state, which.kind)[static_cast<std::size_t>(which.index)];
}

/// The same place in another state of the same system, by its index; by name if the order differs.
inline const PlaceState* in_other_state(const State& other, const PlaceState& place, std::size_t index) {
  const std::vector<PlaceState>& places = of_kind(other, place.kind);
  if (index < places.size() && places[index].name == place.name) return &places[index];
  return other.place(place.name);
}

/// What a place gets; at a joint without a draw, all that passes [m3/s].
inline double comes_to_m3s(const PlaceState& place) {
  const bool passes = place.kind == PlaceKind::joint && !(place.draw_asked_m3s > 0.0);
  return passes ? place.inflow_m3s : gets_m3s(place);
}

/// Whether the mouth of a line limits its flow. If all that comes passes through it, it only sets how high
/// the water stands. Precondition: the state is one of this system.
inline bool mouth_limits(const System& system, const State& state, std::size_t line) {
  const LineState& run = state.lines[line];
  if (!run.mouth_needs_m) return false;
  const int source = run.flow_m3s > 0.0 ? system.lines()[line].from : system.lines()[line].to;
  return system.kind(source) == PlaceKind::tank || place_state(system, state, source).spill_m3s > 0.0;
}

}  // namespace runnel::network
