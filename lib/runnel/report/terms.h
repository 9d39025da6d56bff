#pragma once
// The words of the trade that answers, findings and the language use, in plain words.
#include <string>
#include <string_view>
#include <vector>

namespace runnel::report {

struct Term {
  std::string_view word;     ///< "grade line"
  std::string_view others;   ///< other words for the same, parted by commas; may be empty
  std::string_view meaning;  ///< a few short sentences
};

/// All of them, in the order of the alphabet.
const std::vector<Term>& terms();

/// The term with this name or one of its other names; capitals, `-` and `_` do not matter. Or nullptr.
const Term* find_term(std::string_view word);

/// The word as it is compared: small letters, blanks for `-` and `_`.
std::string plain_word(std::string_view word);

}  // namespace runnel::report
