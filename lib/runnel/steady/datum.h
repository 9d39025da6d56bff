#pragma once
// A kernel with its own datum. A double holds 4000.1 m to 5e-13 m and 0.1 m to 1e-17 m, so heads counted from
// near where the water stands keep the digits that decide flows, however high the site.
#include "runnel/steady/kernel_state.h"

namespace runnel::steady {

/// A whole number of metres, midway between the lowest and the highest given head, so that subtracting it
/// from heads near it does not round. 0 if laws of the kernel hold heads of their own (Kernel::columns).
double local_datum_m(const Kernel& kernel);

/// The same kernel or control with every head counted from `datum_m`; the kernel records it.
Kernel above(Kernel kernel, double datum_m);
Control above(Control control, double datum_m);

/// Counts heads found above a datum from the system's own datum again.
void raise_heads(KernelState& state, double datum_m);

}  // namespace runnel::steady
