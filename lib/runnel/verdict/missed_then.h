#pragma once
// What is missed in a drier time of what is met as drawn.
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/year_corner.h"

namespace runnel::verdict {

/// Which of the needs that are met now are missed then, with what the springs give while a tank fills in that
/// time: "tap gets 0.02 L/s of the 0.05 L/s asked". Empty if none is.
/// @param of the model as it is counted on, for what is told of it already
Sentence missed_then(const dry::Judged& then, const network::System& while_filling, const dry::Judged& of,
                     const dry::Asks& now);

/// What a system has to last in: its year, or else a month in which float valves open at any hour. Empty if
/// nothing is missed.
Sentence missed_for_long(const dry::Judged& then, const JudgeYear& judge_year, const dry::Asks& now);

}  // namespace runnel::verdict
