#include <algorithm>

#include "runnel/document/tree.h"

namespace runnel::document {

namespace {

constexpr std::size_t longest_word = 80;  // longer words are not slips of the finger

/// Letters in lower case; spaces, hyphens and underscores alike. ASCII only: a slip in another script
/// still counts by its bytes.
std::string folded(std::string_view word) {
  std::string out;
  for (const char c : word) {
    if (c == '_' || c == '-') {
      out += ' ';
    } else {
      out += (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
    }
  }
  return out;
}

/// How many slips turn one word into the other: a letter too many, missing, wrong, or two swapped
/// (Damerau 1964, restricted form; from memory).
std::size_t slips(const std::string& a, const std::string& b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = last[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U);
      now[j] = std::min({change, last[j] + 1, now[j - 1] + 1});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        now[j] = std::min(now[j], before[j - 2] + 1);
      }
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

}  // namespace

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
  if (word.empty() || word.size() > longest_word) return "";
  const std::string wanted = folded(word);
  std::string best;
  std::size_t least = std::max<std::size_t>(1, wanted.size() / 3) + 1;
  const std::string* begun = nullptr;  // the first candidate that the word is the beginning of
  for (const std::string& candidate : candidates) {
    if (candidate.empty() || candidate.size() > longest_word) continue;
    const std::string other = folded(candidate);
    const std::size_t longer = std::max(wanted.size(), other.size());
    const std::size_t shorter = std::min(wanted.size(), other.size());
    if (longer - shorter < least) {  // else their lengths alone make too many slips
      const std::size_t count = slips(wanted, other);
      const bool nothing_alike = count >= longer;
      if (count < least && !nothing_alike) {
        least = count;
        best = candidate;
      }
    }
    if (begun == nullptr && wanted.size() >= 3 && other.compare(0, wanted.size(), wanted) == 0)
      begun = &candidate;
  }
  if (best.empty() && begun != nullptr) return *begun;
  return best;
}

}  // namespace runnel::document
