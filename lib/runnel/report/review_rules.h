#pragma once
// A rule of `review` on a page of its own.
#include <string>
#include <vector>

#include "runnel/report/text.h"

namespace runnel::report {

/// What the rule sets that come with the library say under a name; empty if there is no such rule.
std::string rule_text(const std::string& id, const TextOptions& options);
std::string rule_json(const std::string& id);

/// All names, each once, in order.
std::vector<std::string> rule_names();

}  // namespace runnel::report
