#pragma once
// The year at the bad corner of what nobody knows exactly: a dry month and an old pipe come together.
#include <functional>
#include <optional>

#include "runnel/verdict/dry_needs.h"

namespace runnel::verdict {

/// Judges the year of a system and adds what it finds to a verdict.
using JudgeYear = std::function<void(const dry::Judged&, FlowVerdict&)>;

/// The first thing that goes wrong in the year of a system whose needs are met as given; none if nothing
/// does.
std::optional<Finding> wrong_in_year(const dry::Judged& of, const JudgeYear& judge_year,
                                     const std::vector<AskResult>& asks);

/// Whether nothing is wrong, and no need is missed.
bool misses_nothing(const FlowVerdict& verdict);

/// Where nothing is missed yet: judges the year once more at the bad corner, and makes a condition of what
/// turns it there.
void weigh_year(const dry::Judged& of, const JudgeYear& judge_year, FlowVerdict& verdict);

}  // namespace runnel::verdict
