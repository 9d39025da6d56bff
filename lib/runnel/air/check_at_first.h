#pragma once
// The independent check of a state with air in it: the answer is held against the raw laws, with the
// checker's own friction and its own cutting of lines (proof/check.h), in long double. Nothing here calls the
// law that found the state.
#include "runnel/air/at_first.h"

namespace runnel::air {

/// Along every pipeline in which air stands in the way of the water, checks the head that its source must
/// have, found from the end back with every pocket's pressure found anew by bisection, and Boyle's law for
/// the volumes given. All other pipelines and every place are checked as by the steady checker. `compressed`:
/// false if the air keeps its volume under any pressure.
AirProof check_at_first(const network::System& system, const AirState& state, bool compressed = true);

}  // namespace runnel::air
