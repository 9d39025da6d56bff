#pragma once
// A rule of `review` on a page of its own.
#include <string>
#include <vector>

#include "runnel/report/text.h"

namespace runnel::report {

/// What the library's own rule sets say about the rule of this name; empty if there is none.
std::string rule_text(const std::string& id, const TextOptions& options);
std::string rule_json(const std::string& id);

/// The names of all rules, each once, in order.
std::vector<std::string> rule_names();

}  // namespace runnel::report
