#pragma once
// Whether what would cure a need lasts: a tank that the cure itself empties cures nothing. Not for users of
// the library.
#include <cstddef>
#include <vector>

#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// Lowers needs that some change brings more for to what lasts with it: what the springs bring, what stores
/// give in the long run, and what comes at low water; of stores only if `stores_too`. Looks no further where
/// none of the `missed` is met.
std::vector<AskResult> needs_cured_for_good(const network::System& system, const steady::State& state,
                                            const std::vector<std::size_t>& missed,
                                            std::vector<AskResult> asks, bool stores_too);

}  // namespace runnel::verdict
