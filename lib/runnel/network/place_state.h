#pragma once
// What an answer says of a place, whatever kind it is: the questions that every reader of an answer asks in
// the same way, so that a new kind of place answers them here and nowhere else.
#include "runnel/network/flow_state.h"

namespace runnel::network {

/// Of a place known by its number; looking it up by name takes as long as there are places.
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

/// What a place gets: an outlet what comes out, a joint its draw, a tank or a box what runs in [m3/s].
inline double gets_m3s(const PlaceState& place) {
  switch (place.kind) {
    case PlaceKind::outlet:
      return place.flow_m3s;
    case PlaceKind::joint:
      return place.draw_given_m3s;
    case PlaceKind::tank:
    case PlaceKind::box:
      break;
  }
  return place.inflow_m3s;
}

/// The same; at a joint without a draw, all that passes [m3/s].
inline double comes_to_m3s(const PlaceState& place) {
  const bool passes = place.kind == PlaceKind::joint && !(place.draw_asked_m3s > 0.0);
  return passes ? place.inflow_m3s : gets_m3s(place);
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
