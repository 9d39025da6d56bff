#pragma once
// An independent check of a filling: sums the water again from the record of the steps, with figures from the
// model instead of the kernel, and has the steady solver find the flows afresh at chosen instants.
#include "runnel/filling/fill.h"

namespace runnel::filling {

/// Needs `FillOptions::keep_steps`. Never throws for a valid system.
FillProof check(const network::System& system, const FillOptions& options, const FillHistory& history);

}  // namespace runnel::filling
