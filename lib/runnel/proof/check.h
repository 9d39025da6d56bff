#pragma once
// The independent checker: from the system and the answer alone, by raw laws written a second time and
// shared with no other code of this library (its own friction, its own cutting of lines, long double),
// it recomputes what every answer must satisfy.
#include "runnel/network/flow_state.h"
#include "runnel/network/system.h"

namespace runnel::proof {

/// Continuity at every place, energy along every line (part-full reaches lose what they lose, no less),
/// and every one-way or bounded rule: lips, outlets, check valves, reducing valves, draws, floors of lines.
network::Proof check(const network::System& system, const network::State& state);

}  // namespace runnel::proof
