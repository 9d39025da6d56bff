#pragma once
// Words put at the head of a sentence.
#include <string>

namespace runnel {

/// The same with a capital, if they begin with a small letter.
inline std::string with_capital(std::string words) {
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
    words[0] = static_cast<char>(words[0] - 'a' + 'A');
  return words;
}

}  // namespace runnel
