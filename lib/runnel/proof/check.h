#pragma once
// The independent checker: from the system and the answer alone, by raw laws written a second time and
// shared with no other code of this library (its own friction, its own cutting of lines, long double),
// it recomputes what every answer must satisfy.
#include <vector>

#include "runnel/network/flow_state.h"
#include "runnel/network/system.h"

namespace runnel::proof {

/// Continuity at every place, energy along every line (part-full reaches lose what they lose, no less),
/// and every one-way or bounded rule: lips, outlets, check valves, reducing valves, draws, floors of lines.
network::Proof check(const network::System& system, const network::State& state);

/// The same, but of the pipelines marked in `passed_over` (one a pipeline) only the flow counts: what happens
/// along them is somebody else's to check.
network::Proof check_apart_from(const std::vector<bool>& passed_over, const network::System& system,
                                const network::State& state);

}  // namespace runnel::proof
