#pragma once
// Needs held against years as dry as what is on record of the springs.
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/year_corner.h"

namespace runnel::verdict {

/// Against the least of the log, of several years, or of a spread between years: a condition where a need is
/// missed then, or in a year that is as dry. The needs must have been judged, and the year.
void judge_records(const dry::Judged& of, const JudgeYear& judge_year, FlowVerdict& verdict);

}  // namespace runnel::verdict
