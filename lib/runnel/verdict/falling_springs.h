#pragma once
// Needs held against yields that fall until rain comes.
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/year_corner.h"

namespace runnel::verdict {

/// Against yields that were measured on a day and fall by half in a known time: until when the needs are met.
void judge_falling(const dry::Judged& of, const JudgeYear& judge_year, FlowVerdict& verdict);

}  // namespace runnel::verdict
