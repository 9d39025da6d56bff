#pragma once
// What is drawn at joints and from tanks, with the air of the start still in the lines. A day is followed
// with the lines full of water.
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

struct FlowVerdict;

/// Adds a finding for each joint that gets less than is drawn there, and for each tank that gets less than
/// is drawn from it over the day, for as long as that air stays.
void hold_draws_to_air(const network::System& system, const steady::State& state, FlowVerdict& verdict);

/// Where such draws are met, holds them against the bad corner of what nobody knows exactly: a condition.
void weigh_draws_with_air(const network::System& system, FlowVerdict& verdict);

}  // namespace runnel::verdict
