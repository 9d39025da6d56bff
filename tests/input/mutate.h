#pragma once
// Random damage to a text, repeatable: what a slip of the finger, a bad merge or an enemy makes of a model.
#include <random>
#include <string>
#include <vector>

namespace runnel::input::test {

class Mutator {
 public:
  explicit Mutator(unsigned seed) : random_(seed) {}

  /// One to four changes, of bytes or of words.
  std::string damaged(std::string text) {
    for (std::size_t n = 1 + below(4); n > 0; --n)
      text = below(2) ? of_bytes(std::move(text)) : of_words(std::move(text));
    return text;
  }

  /// One change of a word only: the text mostly stays YAML.
  std::string reworded(std::string text) { return of_words(std::move(text)); }

 private:
  std::size_t below(std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random_); }

  std::string of_bytes(std::string text) {
    if (text.empty()) return text;
    const std::size_t at = below(text.size());
    switch (below(5)) {
      case 0:
        text[at] = static_cast<char>(below(256));
        break;
      case 1:
        text.insert(at, 1, "{}[],:#&*!|>'\"%@`-?\t\n 0.\\"[below(26)]);
        break;
      case 2:
        text.erase(at, 1 + below(8));
        break;
      case 3:
        text.insert(at, text.substr(below(text.size()), below(40)));
        break;
      default:
        text.resize(at);
        break;
    }
    return text;
  }

  /// Swaps, deletes, repeats or replaces runs of letters and digits.
  std::string of_words(std::string text) {
    const auto [start, end] = word(text);
    const auto [other_start, other_end] = word(text);
    const std::string other = text.substr(other_start, other_end - other_start);
    static const std::vector<std::string> nasty{
        "",   "0",    "-1",  "1e308", "1e-308",    "nan", "inf",      "~",    "null", "999",       "1/0",
        "[]", "{}",   "ft",  "m",     "psi",       "at",  "on",       "from", "to",   "2 gal/min", "{0}",
        "%",  "a: b", "- x", "''",    "100000000", "0.5", "1-1/2 in", "shut", "40 %", "\xC3\xA9"};
    switch (below(4)) {
      case 0:
        return text.replace(start, end - start, other);
      case 1:
        return text.erase(start, end - start);
      case 2:
        return text.insert(start, other + " ");
      default:
        return text.replace(start, end - start, nasty[below(nasty.size())]);
    }
  }

  static bool letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' ||
           c == '_' || c == '-';
  }

  std::pair<std::size_t, std::size_t> word(const std::string& text) {
    if (text.empty()) return {0, 0};
    std::size_t start = below(text.size());
    while (start < text.size() && !letter(text[start])) ++start;
    while (start > 0 && letter(text[start - 1])) --start;
    std::size_t end = start;
    while (end < text.size() && letter(text[end])) ++end;
    return {start, end};
  }

  std::mt19937 random_;
};

}  // namespace runnel::input::test
