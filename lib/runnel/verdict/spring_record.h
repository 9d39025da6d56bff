#pragma once
// Needs held against what is on record of a spring, and against a yield that falls until rain comes.
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/year_corner.h"

namespace runnel::verdict {

/// Against the least of the log, of several years, or of a spread between years: a condition where a need is
/// missed then, or in a year that is as dry. The needs must have been judged, and the year.
void judge_records(const dry::Judged& of, const JudgeYear& judge_year, FlowVerdict& verdict);

/// Against yields that were measured on a day and fall by half in a known time: until when the needs are met.
void judge_falling(const dry::Judged& of, const JudgeYear& judge_year, FlowVerdict& verdict);

}  // namespace runnel::verdict
