#pragma once
// The needs that are met as drawn, held against other yields of the springs.
#include <optional>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict::dry {

using Asks = std::vector<AskResult>;

/// Met, and a flow or a pressure.
bool held(const AskResult& r);

std::vector<Flow> yields_now(const network::System& system);

/// The needs in the state that lasts with these yields, one for each box; with air in the lines if it counts.
std::optional<Asks> needs_with(const network::System& system, const std::vector<Flow>& yields,
                               const Asks& now);

/// Met now and not then.
bool missed(const AskResult& now, const AskResult& then);

/// Needs of `full_within` that are met now and missed with these yields, as judged with them: `got` is when
/// the tank is full, if that is within the time followed.
Asks slow_fillings(const network::System& system, const std::vector<Flow>& yields, const Asks& asks);

}  // namespace runnel::verdict::dry
