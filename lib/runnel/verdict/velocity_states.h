#pragma once
// Bounds on velocity in the states that the system will be in besides the one drawn.
#include <optional>
#include <vector>

#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/velocity_asks.h"

namespace runnel::verdict {

/// The bounds on the state that the system settles in; none where it asks for no velocity.
std::vector<VelocityResult> velocities_of(const network::System& system);

/// The first bound that is missed in another state of the system and not among those missed `now`.
std::optional<VelocityResult> velocity_missed(const network::System& other,
                                              const std::vector<VelocityResult>& now);

/// "water runs at 0.05 m/s in line, and at least 0.3 m/s is asked".
Sentence say_velocity(const VelocityResult& r);

/// Holds the bounds that are met as drawn against what lasts once tanks are drawn down, every period of the
/// year (errors), and the corners of what nobody knows exactly (a condition). Stores must have been judged.
void judge_velocity_states(const network::System& system, const steady::State& state, FlowVerdict& verdict);

}  // namespace runnel::verdict
