#pragma once
// Which springs and stores can serve which draws in a year. Water runs down the lines, so that a tank helps
// nobody above it, and a line brings no more than it carries.
#include <vector>

#include "runnel/filling/year.h"
#include "runnel/filling/year_runs.h"

namespace runnel::filling {

/// Sets `short_of` of a part that lasts when all of it is pooled: for every set of springs and tanks that no
/// others reach, what is drawn where they alone bring water must last, and so must what is drawn behind each
/// tank, with what the lines from full tanks bring to it. `yields_m3s`: for each box, one a period.
/// Preconditions: `drawn`, `season` and `coverage` of the part are known.
void cut_year(const network::System& system, const PeriodRuns& runs,
              const std::vector<std::vector<double>>& yields_m3s, YearPart& part);

}  // namespace runnel::filling
