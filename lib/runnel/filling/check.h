#pragma once
// An independent look at a filling: sums the water once more from the record of the steps, from the model's
// own words instead of the kernel, and lets the steady solver find the flows afresh at chosen instants.
#include "runnel/filling/fill.h"

namespace runnel::filling {

/// Needs `keep_steps`. Never throws for a valid system.
FillProof check(const network::System& system, const FillOptions& options, const FillHistory& history);

}  // namespace runnel::filling
