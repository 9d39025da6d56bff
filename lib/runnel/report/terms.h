#pragma once
// The words of the trade that answers, findings and the language use, explained in plain words.
#include <string>
#include <string_view>
#include <vector>

namespace runnel::report {

struct Term {
  std::string_view word;     ///< "grade line"
  std::string_view others;   ///< other words for the same, separated by commas; may be empty
  std::string_view meaning;  ///< a few short sentences
};

/// All terms, in alphabetical order.
const std::vector<Term>& terms();

/// The term with this name or other name, whatever its capitals, `-` and `_`; nullptr if there is none.
const Term* find_term(std::string_view word);

/// The word as it is compared: in lower case, with blanks for `-` and `_`.
std::string plain_word(std::string_view word);

}  // namespace runnel::report
