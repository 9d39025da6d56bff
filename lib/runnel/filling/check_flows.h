#pragma once
// Checks the flows of a filling: at chosen instants the steady solver finds them afresh, for the whole system
// at once and from nothing, whereas the filling itself solves parts of the system from their last state.
#include "runnel/filling/fill.h"

namespace runnel::filling {

/// Fills in the figures of the proof that concern flows.
void check_flows(const network::System& system, double start_hour, const FillHistory& history,
                 FillProof& proof);

}  // namespace runnel::filling
