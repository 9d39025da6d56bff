#include "runnel/review/rule.h"

#include <algorithm>

namespace runnel::review {

namespace {

const char* certainty_words(pipes::Certainty certainty) {
  switch (certainty) {
    case pipes::Certainty::found:
      return "found";
    case pipes::Certainty::secondary:
      return "secondary";
    case pipes::Certainty::from_memory:
      return "from memory";
    case pipes::Certainty::computed:
      return "computed";
    case pipes::Certainty::user:
      break;
  }
  return "the reader's own";
}

}  // namespace

const Rule* RuleSet::find(const std::string& id) const {
  const auto at = std::find_if(rules.begin(), rules.end(), [&](const Rule& r) { return r.id == id; });
  return at == rules.end() ? nullptr : &*at;
}

std::string source_words(const Rule& rule) {
  const RuleSource& s = rule.source;
  std::string words = s.title.empty() ? "common practice, no source" : s.title;
  if (!s.year.empty()) words += ", " + s.year;
  if (!s.section.empty()) words += ", " + s.section;
  if (!s.key.empty()) words += " [" + s.key + "; " + certainty_words(rule.certainty) + "]";
  return words;
}

}  // namespace runnel::review
