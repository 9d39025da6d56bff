#pragma once
// What an answer says of a place known by its number. Looking it up by name takes as long as there are
// places.
#include "runnel/network/flow_state.h"

namespace runnel::network {

/// Precondition: the state is one of this system.
inline const PlaceState& place_state(const System& system, const State& state, int place) {
  const PlaceRef which = system.place(place);
  const auto index = static_cast<std::size_t>(which.index);
  switch (which.kind) {
    case PlaceKind::box:
      return state.boxes[index];
    case PlaceKind::tank:
      return state.tanks[index];
    case PlaceKind::outlet:
      return state.outlets[index];
    case PlaceKind::joint:
      break;
  }
  return state.joints[index];
}

/// The same place in another state of the same system, which lists its places in the same order; by name
/// where it does not.
inline const PlaceState* in_other_state(const State& other, const PlaceState& place, std::size_t index) {
  const std::vector<PlaceState>& places = place.kind == PlaceKind::box      ? other.boxes
                                          : place.kind == PlaceKind::tank   ? other.tanks
                                          : place.kind == PlaceKind::outlet ? other.outlets
                                                                            : other.joints;
  if (index < places.size() && places[index].name == place.name) return &places[index];
  return other.place(place.name);
}

/// Whether the mouth of a line holds its flow back. Where all that comes passes through it, it only says how
/// high the water stands. Precondition: as above.
inline bool mouth_limits(const System& system, const State& state, std::size_t line) {
  const LineState& run = state.lines[line];
  if (!run.mouth_needs_m) return false;
  const int source = run.flow_m3s > 0.0 ? system.lines()[line].from : system.lines()[line].to;
  return system.kind(source) == PlaceKind::tank || place_state(system, state, source).spill_m3s > 0.0;
}

}  // namespace runnel::network
