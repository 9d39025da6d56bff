#pragma once
// The sections of the short answer of `fill`, one file each. Not for users of the library.
#include <vector>

#include "runnel/filling/fill.h"
#include "runnel/report/document.h"
#include "runnel/report/fill.h"
#include "runnel/report/text.h"

namespace runnel::report {

/// The answer on one screen: as many lines at most as that of `flow`.
Document brief_fill_document(const FillAnswer& answer, const TextOptions& options);

/// The tanks, and boxes that store; where there is no room for all, those in trouble first.
Document brief_tanks(const FillAnswer& answer, int most_lines, const TextOptions& options);
/// What joints, taps and pipe ends give; where there is no room for all, those that go short first.
Document brief_taps(const FillAnswer& answer, int most_lines, const TextOptions& options);
/// What happens, in the order in which it first does; what happens again is told once, with how often.
Document brief_events(const filling::FillHistory& history, int most_lines, const TextOptions& options);
/// The tank of which a person wants to see the course: one that is empty or never full, else the one whose
/// level moves most. Empty if there is no room or nothing to draw.
Document brief_chart(const FillAnswer& answer, int most_lines, const TextOptions& options);

/// How long to add if lines are dry where the run begins with empty tanks; empty in other runs.
Document dry_lines(const FillAnswer& answer, const TextOptions& options);
/// The table rows of all tanks, or of all places that give water, of which `chosen` says which are wanted.
Table tanks_table(const std::vector<const filling::StorageHistory*>& chosen);
Table taps_table(const FillAnswer& answer, const std::vector<const filling::PlaceHistory*>& chosen);
/// Whether a place gives water to people: a joint that draws, a tap or an open end.
bool gives_water(const filling::PlaceHistory& place);

/// What happened, with what belongs to it: "float valve shuts (upper line)". `figure`: with the new draw.
std::string event_text(const filling::Event& event, bool figure, const TextOptions& options);

}  // namespace runnel::report
