#pragma once
// Elevations counted from the middle of the system. Over a mouth a film far thinner than the rounding of an
// elevation of a thousand metres still carries water; near zero the doubles are finer.
#include "runnel/network/system.h"

namespace runnel::filling {

/// Halfway between the lowest and the highest surveyed point, in whole metres.
double middle_m(const network::System& system);

}  // namespace runnel::filling
