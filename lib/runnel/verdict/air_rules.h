#pragma once
// The findings about air, one function each. Not for users of the library.
#include "runnel/verdict/air_answer.h"

namespace runnel::verdict {

void start_findings(const network::System& system, const PathAir& way, std::vector<Finding>& out);
/// What there is to say of the branches that have to start while the rest runs.
std::vector<BranchAnswer> judge_branches(const network::System& system, const AirAnswer& answer);
void branch_finding(const BranchAnswer& branch, std::vector<Finding>& out);
void crest_finding(const network::Line& line, const air::JudgedCrest& crest, std::vector<Finding>& out);
/// Everything about a line except its crests: stretches at risk, jumps, washouts.
void line_findings(const network::Line& line, const air::LineAir& air, std::vector<Finding>& out);

}  // namespace runnel::verdict
