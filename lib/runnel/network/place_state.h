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

}  // namespace runnel::network
