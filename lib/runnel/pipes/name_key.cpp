#include "runnel/pipes/name_key.h"

#include <array>
#include <utility>

namespace runnel::pipes {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
}

/// In lower case, without blanks, hyphens, underscores and commas. A dot stays only before a digit.
std::string squeezed(std::string_view name) {
  std::string out;
  for (std::size_t i = 0; i < name.size(); ++i) {
    const char c = name[i];
    const bool joining = c == ' ' || c == '\t' || c == '-' || c == '_' || c == ',';
    const bool idle_dot = c == '.' && (i + 1 == name.size() || !is_digit(name[i + 1]));
    if (joining || idle_dot) continue;
    out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return out;
}

/// `1.5in` at the end becomes `11/2in`, the squeezed form of `1-1/2 in`.
void decimals_to_fractions(std::string& key) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 3> fractions{
      {{".25in", "1/4in"}, {".5in", "1/2in"}, {".75in", "3/4in"}}};
  for (const auto& [decimal, fraction] : fractions) {
    if (key.size() <= decimal.size() || key.substr(key.size() - decimal.size()) != decimal) continue;
    std::size_t whole = key.size() - decimal.size();
    std::string head = key.substr(0, whole);
    if (!head.empty() && head.back() == '0') head.pop_back();
    key = head + std::string(fraction);
    return;
  }
}

}  // namespace

std::string name_key(std::string_view name) {
  std::string key = squeezed(name);
  constexpr std::array<std::pair<std::string_view, std::string_view>, 12> words{
      {{"\u2033", "in"},  // double prime
       {"\u201D", "in"},  // closing quote
       {"''", "in"},
       {"\"", "in"},
       {"\u00BD", "1/2"},
       {"\u00BC", "1/4"},
       {"\u00BE", "3/4"},
       {"inches", "in"},
       {"inch", "in"},
       {"schedule", "sch"},
       {"galvanised", "galvanized"},
       {"\u00A0", ""}}};
  for (const auto& [from, to] : words) replace_all(key, from, to);
  decimals_to_fractions(key);
  return key;
}

}  // namespace runnel::pipes
