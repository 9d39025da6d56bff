#pragma once
// Text from a model or a command line, made fit for a terminal or a log.
#include <string>
#include <string_view>

namespace runnel::report {

/// The text without anything that could move a cursor, colour a screen, start a new line or turn the
/// direction of writing: such characters become visible escapes (`\x1b`, `\u{202e}`), bytes that are not
/// UTF-8 become U+FFFD. Ordinary text comes back unchanged.
std::string harmless(std::string_view text);

/// Columns that the text takes on a terminal: two for wide East Asian characters, none for combining marks.
int display_width(std::string_view text);

/// At most `width` columns: the end is replaced by "..." if need be. Expects harmless text.
std::string cut(const std::string& text, int width);

}  // namespace runnel::report
