#pragma once
// The dry time of a year, followed day by day. A year pools what the tanks hold; whether the water stands
// where it is drawn only the days themselves tell.
#include <optional>
#include <string>

#include "runnel/filling/year.h"
#include "runnel/network/system.h"
#include "runnel/verdict/missing_draws.h"

namespace runnel::verdict {

/// What is missing in the first period in which some of it is.
struct MissedInDryTime {
  std::size_t period = 0;
  MissingDraw draw;
};

/// Follows all that is drawn, and the taps throttled to what is asked of them, from tanks that are full when
/// the dry time of a part begins until the store is lowest. None if nothing of the part is missing, or if the
/// days could not be followed. Precondition: the system has a year.
std::optional<MissedInDryTime> follow_dry_time(const network::System& system, const filling::YearPart& part);

}  // namespace runnel::verdict
