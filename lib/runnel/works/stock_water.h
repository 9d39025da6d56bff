#pragma once
// Water for a herd beyond its daily need: how many drink at once, how fast a trough must fill, how much it
// must hold. A herd that comes together drinks half a day's need in an hour, while the spring gives the same
// all day; the tank makes up the difference.
#include "runnel/units/quantity.h"

namespace runnel::works {

/// How many of a herd drink at once: 5 % if they walk less than 1980 ft (604 m) to water, else 10 %
/// [nrcs-sd2006-1]. Rounded up to a whole animal.
int drinking_spaces(int head, Length walk);

/// Flow that a drinking space takes, 2 gal/min for large stock, 0.5 for sheep, goats and pigs [nrcs-614].
inline constexpr Flow large_stock_drinks = Flow::gallons_per_minute(2.0);
inline constexpr Flow small_stock_drinks = Flow::gallons_per_minute(0.5);

/// Water that a tank must hold beyond what runs in while the herd drinks: need less inflow over the time,
/// zero if the inflow is enough.
Volume tank_beyond_inflow(Volume need, Flow inflow, Duration time);

/// How many animals a steady flow supplies.
double head_watered(Flow flow, Volume per_head_a_day);

/// Time in which a flow fills a trough.
Duration trough_fill_time(Volume trough, Flow flow);

/// Length of trough edge: at least 1 in per head [nrcs-614].
inline constexpr Length least_edge_a_head = Length::inches(1.0);

/// Storage where the supply is restricted: three days' flow [waitaki-restricted].
inline constexpr double restricted_supply_days = 3.0;

}  // namespace runnel::works
