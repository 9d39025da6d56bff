#pragma once
// Needs held against what is on record of a spring, and against a yield that falls until rain comes.
#include "runnel/network/system.h"

namespace runnel::verdict {

struct FlowVerdict;

/// Against the least of the log, of several years, or of a spread between years: a condition where a need is
/// missed then. The needs must have been judged.
void judge_records(const network::System& system, FlowVerdict& verdict);

/// Against yields that were measured on a day and fall by half in a known time: until when the needs are met.
void judge_falling(const network::System& system, FlowVerdict& verdict);

}  // namespace runnel::verdict
