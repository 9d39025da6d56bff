#pragma once
// What is drawn by the hour: every draw that the model writes is a need, whatever else is asked.
#include "runnel/network/system.h"

namespace runnel::verdict {

struct FlowVerdict;

/// Follows the draws of `drawn` through a day that stands for the others (filling/typical_day.h) and adds a
/// finding for each that gets less in its hours than it takes. Needs, stores and siphons must have been
/// judged before: what they have said of a place is not repeated.
void judge_drawn_hours(const network::System& drawn, FlowVerdict& verdict);

}  // namespace runnel::verdict
