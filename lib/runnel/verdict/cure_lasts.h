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

/// Tells of works that were tried what comes at first where it does not last: it is kept as `got` of needs at
/// taps with hours that the works meet until stores are drawn down, since a part that lets through what is
/// asked held it back; and beside it where a tank sinks that the water comes from.
void keep_what_comes_at_first(const network::System& system, const steady::State& state,
                              const std::vector<std::size_t>& missed, const std::vector<AskResult>& at_first,
                              std::vector<AskResult>& asks);

}  // namespace runnel::verdict
