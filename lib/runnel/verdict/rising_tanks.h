#pragma once
// Tanks that are filled from below: as the water rises over the inlet it closes the last leg of the line, and
// the air in it stays.
#include <vector>

#include "runnel/network/system.h"
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

struct FlowVerdict;

/// Judges the needs that are met at the levels as drawn again, with each such tank as full as it gets. Where
/// only the air shut in then keeps one from being met, or the line from starting again, the answer depends on
/// it. Needs must have been judged before.
void judge_rising_tanks(const network::System& system, FlowVerdict& verdict);

std::vector<Code> rising_tank_codes();

}  // namespace runnel::verdict
