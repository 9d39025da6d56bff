#pragma once
// Whether water can run back through a line.
#include <algorithm>

#include "runnel/network/system.h"

namespace runnel::network {

/// Whether a check valve stands anywhere on it.
inline bool has_check_valve(const Line& line) {
  return std::any_of(line.parts.begin(), line.parts.end(),
                     [](const FittedPart& part) { return part.kind == PartKind::check_valve; });
}

}  // namespace runnel::network
