#pragma once
// What a need that is not met gets, as every sentence says it.
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// "asked", or "drawn there" where the need is no more than what people draw.
const char* asked_or_drawn(const network::Ask& ask);

/// "trough gets 0.1 L/s of the 0.2 L/s asked", "tank is not full within the 2 h asked": without a full stop.
/// Precondition: the need is judged and not met.
Sentence shortfall(const AskResult& need);

/// Whether it is a time to fill that depends on the hour at which the filling begins.
bool begun_at_worst(const AskResult& need);

}  // namespace runnel::verdict
