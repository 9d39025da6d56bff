#pragma once
// Finds a line of a text by its number.
#include <string_view>

namespace runnel::document {

/// Line `line` (from 1) without its line end; empty if there is none. A byte order mark is not part of it.
std::string_view line_of(std::string_view text, int line);

}  // namespace runnel::document
