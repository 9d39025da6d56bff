#pragma once
// What a word of the trade or of the model language means: `runnel explain lip`.
#include <string>
#include <vector>

#include "runnel/report/text.h"

namespace cli {

/// Everything known of a word: a term, keys of the language, a part, a kind of value, a unit; or empty.
std::string word_text(const std::string& word, const runnel::report::TextOptions& options);
std::string word_json(const std::string& word);

/// A line for each term of the trade.
std::string terms_text(const runnel::report::TextOptions& options);
std::string terms_json();

/// Every word that has a page, for "did you mean".
std::vector<std::string> known_words();

}  // namespace cli
