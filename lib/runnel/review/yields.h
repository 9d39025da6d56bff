#pragma once
// What the springs of a system give: as measured, in the driest time, in the wettest; and what is needed.
#include <optional>

#include "runnel/network/system.h"

namespace runnel::review {

struct YieldRange {
  double low_m3s = 0.0, mean_m3s = 0.0, high_m3s = 0.0;
};

/// Of one box: the interval of its bucket tests, or the figure alone.
YieldRange yield_of(const network::Box& box);

/// The same for all boxes together; adding the intervals errs on the wide side.
YieldRange measured_yield(const network::System& system);

/// The least that all springs together give in the model's year, or the least that was logged for each (with
/// its present yield, if that is less). None if some spring has neither.
std::optional<double> dry_season_yield(const network::System& system);

/// The least yield of one box, if what is known covers its dry season: a year, entries of the log that lie
/// five months of the calendar apart, or one entry that is less than the yield the model counts on.
std::optional<double> dry_season_of(const network::System& system, const network::Box& box);

/// The yield of one box in its driest and in its wettest time; none if neither is known.
std::optional<YieldRange> seasons_of(const network::System& system, const network::Box& box);

/// What is drawn from tanks and joints on average over a day; where a tank has no draws, the flow that is
/// asked there. What is asked at taps is not added up, since it is for moments.
double need_m3s(const network::System& system);

}  // namespace runnel::review
