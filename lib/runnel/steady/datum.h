#pragma once
// A kernel above a datum of its own. A double holds 4000.1 m to 5e-13 m and 0.1 m to 1e-17 m: heads counted
// from near where the water stands keep the digits that decide flows, however high the site.
#include "runnel/steady/kernel_state.h"

namespace runnel::steady {

/// Whole metres, midway between the lowest and the highest head that is given: what is near it is then
/// subtracted without rounding. 0 where a law counts heads by itself (Kernel::columns).
double local_datum_m(const Kernel& kernel);

/// Lower by `datum_m` in every head; `Kernel::datum_m` says so.
Kernel above(Kernel kernel, double datum_m);
Control above(Control control, double datum_m);

/// Heads found above a datum, counted from the system's own again.
void raise_heads(KernelState& state, double datum_m);

}  // namespace runnel::steady
