#pragma once
// Findings explained, as text and as JSON.
#include <string>

#include "runnel/report/text.h"
#include "runnel/verdict/codes.h"

namespace runnel::report {

std::string code_text(const verdict::Code& code, const TextOptions& options);
/// One line for each code.
std::string codes_text(const TextOptions& options);
std::string code_json(const verdict::Code& code);
std::string codes_json();

}  // namespace runnel::report
