#pragma once
// The year at the bad corner of what nobody knows exactly: a dry month and an old pipe come together.
#include <functional>

#include "runnel/verdict/dry_needs.h"

namespace runnel::verdict {

/// Judges the year of a system and adds what it finds to a verdict.
using JudgeYear = std::function<void(const dry::Judged&, FlowVerdict&)>;

/// Where nothing is missed yet: judges the year once more at the bad corner, and makes a condition of what
/// turns it there.
void weigh_year(const dry::Judged& of, const JudgeYear& judge_year, FlowVerdict& verdict);

}  // namespace runnel::verdict
