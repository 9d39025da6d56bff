#pragma once
// The YAML parser's complaints in plain words.
#include <string>
#include <string_view>

namespace runnel::document {

struct SyntaxWords {
  std::string message;
  std::string advice;
  int lines_up = 0;  ///< the slip is this many lines above the place where the parser noticed it
};

/// What the parser's own message means for the person who wrote the file. `line` is the line of `text` (from
/// 1) it points at. An unknown message gives a general sentence.
SyntaxWords syntax_words(const std::string& parser_message, std::string_view text, int line);

}  // namespace runnel::document
