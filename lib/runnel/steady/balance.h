#pragma once
// Heads carry an absolute rounding of some 1e-14 m, so a link of high conductance knows its flow only to
// that much times it. Once the energies close, the flows of a spanning forest of the best conductors are set
// by continuity instead: they absorb what the others lack, and their energies change by no more than the
// rounding of heads.
#include <vector>

#include "runnel/steady/newton.h"

namespace runnel::steady {

/// Sets the flows of the forest so that places which nothing else holds balance. `net_m3s`: what comes to
/// each node beyond what leaves; kept up to date. `two_way`: links that may turn; no other is turned for the
/// sake of rounding. `alpha`, `beta`: conductances towards the two ends [m2/s].
void balance_flows(const Kernel& kernel, const std::vector<char>& two_way, const std::vector<double>& alpha,
                   const std::vector<double>& beta, KernelState& state, std::vector<double>& net_m3s);

}  // namespace runnel::steady
