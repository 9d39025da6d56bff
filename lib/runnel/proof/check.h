#pragma once
// The independent checker recomputes what every answer must satisfy, from the system and the answer alone.
// Its laws are written a second time and shared with no other code of this library: its own friction, its own
// cutting of lines, in long double.
#include <vector>

#include "runnel/network/flow_state.h"
#include "runnel/network/system.h"

namespace runnel::proof {

/// Checks continuity at every place, energy along every line (including what part-full reaches lose in air),
/// and every one-way or bounded rule: lips, outlets, check valves, reducing valves, draws, floors of lines.
network::Proof check(const network::System& system, const network::State& state);

/// The same, but of the pipelines marked in `passed_over` (one entry a pipeline) only the flow counts: what
/// happens along them is checked by the caller.
network::Proof check_apart_from(const std::vector<bool>& passed_over, const network::System& system,
                                const network::State& state);

}  // namespace runnel::proof
