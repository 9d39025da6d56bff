#pragma once
// The flows of a filling once more: at chosen instants the steady solver finds them afresh, on the whole
// system at once and from no earlier answer, where the kernel of the filling solves parts from the last one.
#include "runnel/filling/fill.h"

namespace runnel::filling {

/// Fills in the figures of the proof that are about flows.
void check_flows(const network::System& system, double start_hour, const FillHistory& history,
                 FillProof& proof);

}  // namespace runnel::filling
