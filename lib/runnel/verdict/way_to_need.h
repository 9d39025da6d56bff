#pragma once
// The way from the sources to the needs that are not met: what lies on it may hold the water back. Not for
// users of the library.
#include <set>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

/// What can be lifted on the way to the needs that are not met, nearest first.
struct Way {
  std::vector<int> lines;
  std::set<int> places;
};

Way way_to(const network::System& system, const steady::State& state, const std::vector<int>& wanted);

}  // namespace runnel::verdict
