#pragma once
// Needs held against the moments at which tanks stand lowest: what a full tank presses, a low one does not.
#include "runnel/filling/typical_day.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

struct FlowVerdict;

/// Lowers every need of flow or pressure that is met as judged and missed at a moment of `day` at which some
/// tank stands lowest, with the draws of that hour. Where nothing is drawn by the hour a tank sinks to the
/// level at which its float valve opens again. The needs must have been judged on `system` and `state`; water
/// that a store has for some time only is another matter (store_rules.h).
void judge_low_water(const network::System& system, const steady::State& state,
                     const filling::TypicalDay& day, FlowVerdict& verdict);

}  // namespace runnel::verdict
