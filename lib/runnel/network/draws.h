#pragma once
// What the draws of a tank, a tap or a joint add up to.
#include <vector>

#include "runnel/network/place.h"

namespace runnel::network {

/// A draw that runs day and night.
Draw drawn_always(Flow flow);
/// How long a draw runs each day; 24 if no hours are given.
double hours_a_day(const Draw& draw);
/// How long something is drawn each day, no two draws at once.
double hours_a_day(const std::vector<Draw>& draws);
/// What it takes while it runs: the day's volume within its hours.
Flow while_it_runs(const Draw& draw);
/// The mean of all over a day.
Flow daily_mean(const std::vector<Draw>& draws);
/// What all of them take together in the hour of the highest demand.
Flow busiest_hour(const std::vector<Draw>& draws);

}  // namespace runnel::network
