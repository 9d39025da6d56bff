#pragma once
// What to do about an answer: acts a person can carry out, each with its place and what it achieves.
#include <vector>

#include "runnel/verdict/draft.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// In the order in which to do them: what makes it start, what makes enough arrive, what keeps it whole or
/// has to be found out, what keeps it clean. Empty if nothing needs changing. Each stands under a finding
/// that it cures; a trench deeper than a machine digs is not among them.
std::vector<Sentence> acts_of(const FlowVerdict& verdict);

}  // namespace runnel::verdict
