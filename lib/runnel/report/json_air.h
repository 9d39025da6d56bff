#pragma once
// Starting from empty and air at crests, as JSON. Not for users of the library.
#include <map>
#include <string>

#include "runnel/report/json_parts.h"
#include "runnel/verdict/air_answer.h"

namespace runnel::report {

const char* start_word(air::StartVerdict verdict);
Json starts_json(const verdict::AirAnswer& answer);
/// Every crest of all pipelines: its risk, and what was tried.
Json crests_json(const verdict::AirAnswer& answer);
/// What else there is to say of the air in one pipeline: stretches at risk, sweeping, jumps, washouts.
Json line_air_json(const air::LineAir& line);
/// For each pipeline: the start of the way through it that has the least to spare, its `line_air_json`, and
/// what runs at first.
std::map<std::string, Json> air_by_line(const network::System& system, const verdict::AirAnswer& answer);
/// What runs in one pipeline (an index) with the start-up air in the system, at first and in the end.
Json at_first_json(const air::AtFirst& at_first, std::size_t line);

}  // namespace runnel::report
