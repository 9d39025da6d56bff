#pragma once
// What is drawn by the hour: every draw that the model writes is a need, whatever else is asked.
#include <string>
#include <vector>

#include "runnel/filling/typical_day.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

struct AskResult;
struct FlowVerdict;

/// The system as it runs in the long run: siphons that lose their water are open lines.
network::System as_it_lasts(const network::System& drawn, const FlowVerdict& verdict);

/// The same for one that was not judged: as its siphons leave it.
network::System as_siphons_leave(const network::System& system);

/// The draws of `drawn` followed through a day that stands for the others, as it lasts.
filling::TypicalDay followed_day(const network::System& drawn, const FlowVerdict& verdict);

/// Whether a place is a joint that is drawn from day and night.
bool always_drawn(const network::System& system, const std::string& place);

/// A place that gets less than is drawn there on that day, or else a tank that sinks from one day to the
/// next; empty if there is none.
std::string short_on(const filling::TypicalDay& day);

/// Whether no tank sinks from one day to the next: then tanks that are drawn down fill again, be it that some
/// draw finds them empty before.
bool fills_day_by_day(const filling::TypicalDay& day);

/// Whether moreover every draw of the day is met: then what the tanks give in between lasts.
bool lasts_day_by_day(const filling::TypicalDay& day);

/// Says that what is drawn by the hour was not judged, and why.
Finding hours_not_followed(filling::HoursLost lost);

/// Adds a finding for each draw that gets less in its hours than it takes. Asks, stores and siphons must have
/// been judged before: what they have said of a place is not said again.
void judge_drawn_hours(const network::System& system, const filling::TypicalDay& day, FlowVerdict& verdict);

/// Holds draws that are met against the bad corner of what nobody knows exactly: a condition.
void weigh_drawn_hours(const network::System& drawn, const filling::TypicalDay& day, FlowVerdict& verdict);

/// Whether what the tanks hold bridges the hours of such a day: all draws are met, or no tank runs empty, and
/// what is missing is missing for another reason.
bool bridges_the_hours(const network::System& system, const filling::TypicalDay& day);

/// Whether the day speaks for every need that is met in its state: what is asked is drawn, and comes. Then
/// there is no need to follow what the tanks hold.
bool day_speaks_for(const network::System& system, const filling::TypicalDay& day,
                    const std::vector<AskResult>& asks);

/// On days on which the tanks fill again, stores run out for nobody whose draws are met and who asks for no
/// more than is drawn: such needs are put back to what they were at first. Where a store empties in between
/// and some draw finds it so, that goes for no needs but flows that the day has followed. A need of
/// more, or of an inflow to a tank, is not what the day has followed.
/// Returns the places at which more is asked than is drawn, for as long as it is drawn in a day.
std::vector<std::string> spare_what_is_drawn(const network::System& system, const filling::TypicalDay& day,
                                             const std::vector<AskResult>& at_first,
                                             std::vector<AskResult>& asks);

/// Adds a condition for such places, where so much cannot be taken there every day: only from a full tank.
void hold_to_now_and_then(const network::System& drawn, const std::vector<std::string>& places,
                          FlowVerdict& verdict);

/// The same for a drier time, or each of the hardest periods of its year, in which what is drawn comes from
/// day to day: taps of which more is asked than is drawn, below a tank. Told once.
void hold_openings_to_dry_time(const network::System& all_day, FlowVerdict& verdict);

}  // namespace runnel::verdict
