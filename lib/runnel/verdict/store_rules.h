#pragma once
// Needs held to the state that lasts: tanks that give more than they get are drawn down.
#include <vector>

#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// Follows the stores of a settled state into `verdict.lasting`, and lowers every need that is met at first
/// to what it gets in the end. The needs must have been judged on `state`. `how_long`: see
/// `filling::follow_stores`.
void hold_asks_to_stores(const network::System& system, const steady::State& state, FlowVerdict& verdict,
                         bool how_long = true);

/// What each store gives and for how long, what is left then, and the needs that are missed because of it.
void store_findings(const steady::State& state, const FlowVerdict& verdict, std::vector<Finding>& out);

/// The one sentence where all that is asked comes at first but not in the end; empty otherwise.
Sentence not_for_long(const FlowVerdict& verdict);

/// The opening (" But ") and "barn tank lasts {0} at this rate"; empty where the state lasts.
Sentence lasts_how_long(const FlowVerdict& verdict, const Sentence& opening);

}  // namespace runnel::verdict
