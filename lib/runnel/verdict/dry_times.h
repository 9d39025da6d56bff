#pragma once
// What a model says of drier times than the one it is worked out in: months of a year, days of a log, a yield
// that falls until rain comes. Needs are held against those too.
#include "runnel/network/system.h"

namespace runnel::verdict {

struct FlowVerdict;

/// Adds what follows for the needs that are met with the yields the model counts on: an error for one that is
/// missed in some period of its year, and a condition (`FlowVerdict::dry_conditions`) where it holds only
/// while taps below tanks are not left running, the spring gives more than it once gave, or no dry weeks have
/// passed. A tank that carries a dry period by `filling::look_at_year` counts as carrying it. Times to
/// fill are held against the driest period of the year alone. Needs must have been judged on this system;
/// `all_day` is the same as it is drawn from over the whole day, with all taps that have hours.
void judge_dry_times(const network::System& system, const network::System& all_day, FlowVerdict& verdict);

}  // namespace runnel::verdict
