#pragma once
// The independent check of a state with air in it: the system and the answer against the raw laws, with the
// checker's own friction and its own cutting of lines (proof/check.h), in long arithmetic. Nothing here
// calls the law that found the state.
#include "runnel/air/at_first.h"

namespace runnel::air {

/// Along every pipeline in which air stands in the way of the water: the head its source must have, from the
/// end back, with every pocket's pressure found again by bisection; and Boyle's law of the volumes told. All
/// other pipelines and every place as the steady checker has them. `compressed`: false, the air gives way to
/// no pressure.
AirProof check_at_first(const network::System& system, const AirState& state, bool compressed = true);

}  // namespace runnel::air
