#pragma once
// What the words mean that a key of the model takes as its value: friction laws, drinkers, soils, edges.
#include <string>
#include <string_view>
#include <vector>

namespace runnel::report {

struct ValueWord {
  std::string word;     ///< "fine sand"
  std::string meaning;  ///< in whole sentences, with the source of its figures
};

const std::vector<ValueWord>& value_words();

/// One of them in any spelling (see `plain_word`), or nullptr.
const ValueWord* find_value_word(std::string_view word);

}  // namespace runnel::report
