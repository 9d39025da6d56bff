#pragma once
// Starting from empty and air at crests, as JSON. Not for users of the library.
#include <map>
#include <string>

#include "runnel/report/json_parts.h"
#include "runnel/verdict/air_answer.h"

namespace runnel::report {

Json starts_json(const verdict::AirAnswer& answer);
/// Every crest of all pipelines: its risk, and what was tried.
Json crests_json(const verdict::AirAnswer& answer);
/// What else is to be said of one pipeline: stretches at risk, sweeping, jumps, washouts.
Json line_air_json(const air::LineAir& line);
/// For each pipeline the start of that way over it which has the least to spare, and `line_air_json`.
std::map<std::string, Json> air_by_line(const verdict::AirAnswer& answer);

}  // namespace runnel::report
