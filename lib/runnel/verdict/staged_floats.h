#pragma once
// Tanks with several float valves that shut one after the other.
#include "runnel/network/system.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// A flow that is asked of a tank is judged with all its float valves open. Where less than is asked comes as
/// soon as one of them has shut, though the tank is not full yet, adds the condition that all are open. The
/// needs must have been judged.
void judge_staged_floats(const network::System& system, FlowVerdict& verdict);

}  // namespace runnel::verdict
