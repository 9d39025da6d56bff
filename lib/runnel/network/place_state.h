#pragma once
// All that depends only on the kind of a place, and what an answer says of a place of any kind. A new kind of
// place answers these questions here and nowhere else.
#include <array>

#include "runnel/network/flow_state.h"

namespace runnel::network {

/// "box": the same in models, in text and in JSON.
constexpr const char* kind_word(PlaceKind kind) {
  switch (kind) {
    case PlaceKind::box:
      return "box";
    case PlaceKind::tank:
      return "tank";
    case PlaceKind::outlet:
      return "outlet";
    case PlaceKind::joint:
      break;
  }
  return "joint";
}

/// Whether water stands there with a free surface, so that a pipe that leaves it has a mouth, and one that
/// enters it loses its velocity head.
constexpr bool open_water(PlaceKind kind) {
  switch (kind) {
    case PlaceKind::box:
    case PlaceKind::tank:
      return true;
    case PlaceKind::outlet:
    case PlaceKind::joint:
      break;
  }
  return false;
}

/// The places of one kind.
inline const std::vector<PlaceState>& of_kind(const State& state, PlaceKind kind) {
  switch (kind) {
    case PlaceKind::box:
      return state.boxes;
    case PlaceKind::tank:
      return state.tanks;
    case PlaceKind::outlet:
      return state.outlets;
    case PlaceKind::joint:
      break;
  }
  return state.joints;
}

/// The state of a place by its number, which is faster than State::place, a search by name. Precondition: the
/// state is one of this system.
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

/// The places of a state, kind by kind in the order of a System.
inline std::array<const std::vector<PlaceState>*, 4> kinds_of(const State& state) {
  return {&state.boxes, &state.tanks, &state.outlets, &state.joints};
}

/// What a place gets [m3/s]: for an outlet what comes out, for a joint its draw, for a tank or a box what
/// runs in.
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

/// The same, but for a joint without a draw all that passes [m3/s].
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
