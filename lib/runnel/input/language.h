#pragma once
// The model language key by key, for people, from the same pieces as the schema.
#include <string>
#include <string_view>
#include <vector>

namespace runnel::input {

struct LanguageKey {
  std::string block;     ///< where the key belongs: "boxes: NAME:"; empty for the model itself
  std::string key;       ///< "lip"
  std::string meaning;   ///< one or two sentences
  std::string kind;      ///< "an elevation", "a block of its own"
  std::string example;   ///< as typed after the key; empty for a block with keys of its own
  std::string left_out;  ///< what applies without it; empty if it is needed
};

/// Every key, block by block, in the order of the language page.
const std::vector<LanguageKey>& language_keys();

/// Every key that has this name. Several blocks have a `loss` or a `flow`.
std::vector<LanguageKey> find_keys(std::string_view key);

/// A word that a key may have as its value, one of a few: "hazen-williams", "fine sand".
struct LanguageValue {
  std::string block, key;  ///< of the key
  std::string word;
};

/// Every such word, key by key; numbers are none.
const std::vector<LanguageValue>& language_values();

/// The keys as Markdown tables, one for each block.
std::string language_tables();

}  // namespace runnel::input
