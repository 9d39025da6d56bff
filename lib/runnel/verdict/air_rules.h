#pragma once
// The findings about air, one function each. Not for users of the library.
#include "runnel/verdict/air_answer.h"

namespace runnel::verdict {

void start_findings(const network::System& system, const PathAir& way, std::vector<Finding>& out);
void crest_finding(const network::System& system, const CrestAir& crest, std::vector<Finding>& out);
void grade_findings(const network::System& system, const network::Pipeline& line, std::vector<Finding>& out);

/// A grade line nearer than this above a crest is thin: a metre, or the survey's stated error if that is
/// more. Own rule; handbooks for village lines ask for ten [jordan1980; from memory].
double wanted_clearance_m(const network::Pipeline& line);

}  // namespace runnel::verdict
