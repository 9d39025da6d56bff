#pragma once
// Starting from empty and air at crests, as JSON. Not for users of the library.
#include <map>
#include <string>

#include "runnel/report/json_parts.h"
#include "runnel/verdict/air_answer.h"

namespace runnel::report {

Json starts_json(const verdict::AirAnswer& answer);
Json crests_json(const verdict::AirAnswer& answer);
/// For each pipeline the start of that way over it which has the least to spare.
std::map<std::string, Json> air_by_line(const verdict::AirAnswer& answer);

}  // namespace runnel::report
