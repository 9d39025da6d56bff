#pragma once
// The dry time of a year, followed day by day. A year pools what the tanks hold; whether the water stands
// where it is drawn only the days themselves tell.
#include <optional>
#include <string>

#include "runnel/filling/year.h"
#include "runnel/network/system.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/missing_draws.h"

namespace runnel::verdict {

/// What is missing in the first period in which some of it is: of what is drawn, or else of what is needed.
struct MissedInDryTime {
  std::size_t period = 0;
  std::optional<MissingDraw> draw;
  std::optional<AskResult> need;  ///< at the instant at which it gets least
  const std::string& place() const { return draw ? draw->place : need->ask.at; }
};

/// Follows all that is drawn, and the taps throttled to what is asked of them, from tanks that are full when
/// the dry time of a part begins until the store is lowest. None if nothing of the part is missing, or if the
/// days could not be followed. Of the needs those count that are met in the other states. Precondition: the
/// system has a year.
std::optional<MissedInDryTime> follow_dry_time(const network::System& system, const filling::YearPart& part,
                                               const std::vector<AskResult>& asks);

}  // namespace runnel::verdict
