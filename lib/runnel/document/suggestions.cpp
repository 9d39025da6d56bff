#include "runnel/document/suggestions.h"

#include "runnel/document/tree.h"

namespace runnel::document {

namespace {

// Pairs of letters compared. About a fifth of a second, some 400,000 words of ten letters.
constexpr std::size_t most_pairs = 50'000'000;

}  // namespace

bool Suggestions::patient() const { return spent_ <= most_pairs; }

std::string Suggestions::nearest(std::string_view word, const std::vector<std::string>& candidates) {
  if (!patient()) return {};  // without even counting: there may be very many candidates each time
  for (const std::string& candidate : candidates) spent_ += (word.size() + 1) * (candidate.size() + 1);
  return patient() ? document::nearest(word, candidates) : std::string{};
}

}  // namespace runnel::document
