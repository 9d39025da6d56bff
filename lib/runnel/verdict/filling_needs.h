#pragma once
// Needs of the kind "full within", which only the course of the filling decides.
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/filling/fill.h"
#include "runnel/filling/typical_day.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

/// Why a time to fill is not judged where what runs in is held back by air: fillings are followed without it.
inline constexpr const char* slowed_by_air =
    "air of the start slows the water, and the filling is followed without it";

struct AskResult;
struct FlowVerdict;

/// Judges every need of `full_within` by following the filling of `drawn`: the system with the levels its
/// tanks start from. The other states must have been judged before: a way that trapped air blocks never fills
/// its tank, a siphon that loses its water fills as an open line, and where air of the start slows the water
/// the time grows by as much, or is not judged if water leaves the tank meanwhile. Begun at midnight and at
/// each hour at which a draw begins, and at the hard moments of a usual day; the slowest counts. Where it
/// would be in time with nothing drawn meanwhile, the draws are its reason.
void judge_filling(const network::System& system, const steady::State& state, const network::System& drawn,
                   const filling::TypicalDay& day, FlowVerdict& verdict);

/// The filling of the tanks that are asked to be full in time, begun at midnight and at each hour at which a
/// draw begins, and at each hard moment of a usual day with the other tanks as they stand then: nobody waits
/// for a good time. Not empty.
std::vector<filling::FillHistory> fillings_begun_at_any_time(const network::System& system,
                                                             filling::FillOptions options,
                                                             const filling::TypicalDay& day);

/// Judges a need of `full_within` by the run in which it takes longest. Left as it is if a run was given up
/// or does not hold the tank, but for why it is not judged. Precondition: there is a run.
void judge_slowest(const std::vector<filling::FillHistory>& runs, AskResult& need);

/// The course of a filling that did not pass its check.
Finding filling_unproved();

}  // namespace runnel::verdict
