#pragma once
// What is drawn by the hour: every draw that the model writes is a need, whatever else is asked.
#include "runnel/filling/typical_day.h"
#include "runnel/network/system.h"

namespace runnel::verdict {

struct FlowVerdict;

/// The draws of `drawn` followed through a day that stands for the others, with siphons that lose their water
/// as open lines.
filling::TypicalDay followed_day(const network::System& drawn, const FlowVerdict& verdict);

/// A place that gets less than is drawn there on that day, or else a tank that sinks from one day to the
/// next; empty if there is none.
std::string short_on(const filling::TypicalDay& day);

/// Whether every draw of the day is met and no tank sinks from one day to the next: then tanks that are drawn
/// down fill again, and what they give in between lasts.
bool lasts_day_by_day(const filling::TypicalDay& day);

/// Adds a finding for each draw that gets less in its hours than it takes. Asks, stores and siphons must have
/// been judged before: what they have said of a place is not said again.
void judge_drawn_hours(const filling::TypicalDay& day, FlowVerdict& verdict);

/// Holds draws that are met against the bad corner of what nobody knows exactly: a condition.
void weigh_drawn_hours(const network::System& drawn, const filling::TypicalDay& day, FlowVerdict& verdict);

}  // namespace runnel::verdict
