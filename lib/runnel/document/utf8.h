#pragma once
// Reading UTF-8 one character at a time.
#include <cstddef>
#include <string_view>

namespace runnel::document {

/// One character of a text. `bytes` is 0 at the end; an invalid sequence is one byte long and not valid.
struct Character {
  char32_t code = 0;
  std::size_t bytes = 0;
  bool valid = true;
};

/// The character that starts at byte `at`. Overlong forms, surrogates and codes past U+10FFFF are invalid
/// (RFC 3629 [rfc3629]).
Character character_at(std::string_view text, std::size_t at);

/// True for characters that must not reach a terminal: C0 and C1 controls, delete, the marks that turn
/// the direction of writing, and non-characters. Tab and line feed are controls too.
bool is_control(char32_t code);

/// How many terminal cells a character takes: 0 for combining marks, 2 for East Asian wide ones, else 1.
/// A short approximation of Unicode TR 11, good enough to put a caret under a word (from memory).
int cells(char32_t code);

}  // namespace runnel::document
