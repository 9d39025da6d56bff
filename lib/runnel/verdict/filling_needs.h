#pragma once
// Needs of the kind "full within", which only the course of the filling decides.
#include "runnel/base/finding.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

/// Why a time to fill is not judged where what runs in is held back by air: fillings are followed without it.
inline constexpr const char* slowed_by_air =
    "air of the start slows the water, and the filling is followed without it";

struct FlowVerdict;

/// Judges every need of `full_within` by following the filling of `drawn`: the system with the levels its
/// tanks start from. The other states must have been judged before: a way that trapped air blocks never fills
/// its tank, a siphon that loses its water fills as an open line, and where air of the start slows the water
/// the time grows by as much, or is not judged if water leaves the tank meanwhile. Begun at midnight and at
/// each hour at which a draw begins; the slowest counts. Where it would be in time with nothing drawn
/// meanwhile, the draws are its reason.
void judge_filling(const network::System& system, const steady::State& state, const network::System& drawn,
                   FlowVerdict& verdict);

/// The course of a filling that did not pass its check.
Finding filling_unproved();

}  // namespace runnel::verdict
