#pragma once
// A rule of practice as data: what is measured, how much of it is right, and who says so.
#include <string>
#include <vector>

#include "runnel/base/figure.h"
#include "runnel/base/mark.h"
#include "runnel/pipes/pipe.h"
#include "runnel/works/judgement.h"

namespace runnel::review {

using works::Sense;
using works::Verdict;

/// Whether a breach is a fault or only falls short of advice: rules from memory, opinions and handbooks of
/// other countries are advice unless the reader makes them binding.
enum class Weight { must, advice };

struct RuleSource {
  std::string title, year, section;
  std::string key;  ///< of the bibliography; empty: a rule of the reader's own, or of the trade
};

struct Rule {
  std::string id;       ///< in words joined by hyphens, stable
  std::string text;     ///< one sentence
  std::string measure;  ///< a name of `measures`
  Sense sense = Sense::at_most;
  Figure limit;
  Weight weight = Weight::must;
  RuleSource source;
  pipes::Certainty certainty = pipes::Certainty::user;
  std::string changed;  ///< how the reader's own file changed it, with the reason; empty: as it comes
  Mark mark;
};

/// A rule that the reader's own file leaves out.
struct LeftOut {
  std::string id, reason;
};

struct RuleSet {
  std::string name, about;
  std::vector<Rule> rules;
  std::vector<LeftOut> left_out = {};

  const Rule* find(const std::string& id) const;
};

/// "asae-s376, found", or "common practice, no source": as it stands behind a verdict.
std::string source_words(const Rule& rule);

}  // namespace runnel::review
