#pragma once
// The needs that are met as drawn, held against other yields of the springs.
#include <optional>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict::dry {

using Asks = std::vector<AskResult>;

/// A system in the hours in which its needs are judged, and as it is drawn from over the whole day. They
/// differ where taps are used by turns (turns.h).
struct Judged {
  const network::System& system;
  const network::System& all_day;
};

/// Met, and a flow or a pressure.
bool held(const AskResult& r);

std::vector<Flow> yields_now(const network::System& system);

/// The most that each spring is known to give: now, in the wettest period of the year, in a year on record,
/// by its log, or as stated.
std::vector<Flow> most_yields(const network::System& system);

/// What the springs give in a period of the year. Precondition: the model has a year.
std::vector<Flow> yields_in(const network::System& system, std::size_t period);

/// The first of the periods in which the springs give alike and as much is demanded of the tanks, one for
/// each way. The same precondition.
std::vector<std::size_t> unlike_periods(const network::System& system);

/// Those of some unlike periods than which none of them is as hard in everything: springs that are dry at
/// other times of the year, or people who draw most while much comes, leave several. The same precondition.
std::vector<std::size_t> hardest_of(const network::System& system, const std::vector<std::size_t>& periods);

/// Whether some spring gives less in a period than as drawn, or more is demanded of some tank than is drawn
/// from it. The same precondition.
bool is_harder(const network::System& system, std::size_t period);

/// The needs on the state that lasts, with the air of the start in the lines, and at the low water of a day.
std::optional<Asks> needs_at(const network::System& system, const filling::TypicalDay& day);

/// Met now and not then.
bool missed(const AskResult& now, const AskResult& then);

/// Needs of `full_within` that are met now and missed at such a time, as judged then: `got` is when the tank
/// is full, if that is within the time followed, from the first hour of starting from which it is late.
Asks slow_fillings(const network::System& system, const Asks& asks, const filling::TypicalDay& day);

/// A usual day of the system; not known where nothing is drawn.
filling::TypicalDay day_of(const network::System& system);

/// A place that gets less than is drawn there by the hour, or a tank that sinks from day to day; empty if
/// there is none, or where nothing is drawn.
std::string short_of_draws(const filling::TypicalDay& day);

}  // namespace runnel::verdict::dry
