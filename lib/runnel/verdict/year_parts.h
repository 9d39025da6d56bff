#pragma once
// Whether what tanks hold lasts through the year, part by part of the water.
#include <vector>

#include "runnel/filling/year.h"
#include "runnel/network/system.h"

namespace runnel::verdict {

struct FlowVerdict;

/// Adds what is missing in the year of each part: with all shut that is full, running over and, as a
/// condition, with the taps left running. Taps left running are a matter of the dry time; in one that brings
/// no less the steady answer is judged. Precondition: the system has a year.
void judge_year_parts(const network::System& system, const std::vector<filling::YearPart>& parts,
                      FlowVerdict& verdict);

}  // namespace runnel::verdict
