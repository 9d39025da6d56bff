#pragma once
// Places whose water stands open to the air.
#include "runnel/network/place.h"

namespace runnel::network {

/// Whether water stands there with a surface of its own, so that a pipe which leaves it has a mouth, and one that
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

}  // namespace runnel::network
