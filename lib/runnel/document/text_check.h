#pragma once
// Looks at the bytes of a text before anything is parsed.
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/finding.h"

namespace runnel::document {

/// Everything wrong with the bytes: size, UTF-8, control characters, tabs that indent. At most twenty
/// findings; an invalid byte ends the search, because what follows is then noise.
std::vector<Finding> check_text(std::string_view text, const std::string& file);

/// The text without a byte order mark and with every CR LF as LF; lines and columns stay the same.
std::string normalised(std::string_view text);

}  // namespace runnel::document
