#pragma once
// Answers as JSON, for programs. SI throughout; the unit is in the key. Every number is checked: one that
// is not finite throws std::logic_error, because JSON would silently turn it into null.
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/report/answer.h"

namespace runnel::report {

/// The answer of `flow` and `quick`: one JSON object, indented, with a newline at the end.
std::string flow_json(const FlowAnswer& answer);

/// The answer to a whole model: its leading run as `flow_json` has it, and what every setting comes to.
std::string answer_json(const verdict::Answer& answer);

/// What is said when the input could not be used: `"outcome": "input"` and the findings with their marks.
std::string input_json(const std::vector<Finding>& findings);

}  // namespace runnel::report
