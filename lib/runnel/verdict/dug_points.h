#pragma once
// Points of a line that may hold its water back, and how it starts once one of them is dug down. Not for
// users of the library.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/air_answer.h"
#include "runnel/verdict/reasons.h"

namespace runnel::verdict {

/// The number of the surveyed point at a station, between the ends of a line.
std::optional<int> survey_point(const network::Line& line, double station_m);

/// Points of the survey that may hold the water back: the one that governs, and those that hold air. Of a
/// short survey, all.
std::vector<int> holding_points(const network::Line& line, const steady::LineState& run,
                                const std::vector<double>& air_at_m);

/// How water starts on its ways to a place.
DugStart start_of(const AirAnswer& air, const std::string& place);

}  // namespace runnel::verdict
