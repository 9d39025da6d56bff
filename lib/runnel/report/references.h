#pragma once
// The bibliography, as text and as JSON.
#include <string>

#include "runnel/base/bibliography.h"
#include "runnel/report/text.h"

namespace runnel::report {

/// What the source is, how it was obtained, which findings rest on it and where else it is used.
std::string reference_text(const base::Reference& reference, const TextOptions& options);
/// One line for each reference.
std::string references_text(const TextOptions& options);
std::string reference_json(const base::Reference& reference);
std::string references_json();

}  // namespace runnel::report
