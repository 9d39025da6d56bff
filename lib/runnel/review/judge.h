#pragma once
// Every rule, held against every place that it speaks of.
#include <optional>
#include <string>
#include <vector>

#include "runnel/review/measure.h"
#include "runnel/review/rule.h"

namespace runnel::review {

/// One rule at one place.
struct Ruling {
  std::string rule, text;  ///< the rule's id and sentence
  Weight weight = Weight::must;
  Verdict verdict = Verdict::cannot_be_judged;
  Sense sense = Sense::at_most;
  std::optional<Figure> figure, limit;
  std::optional<double> margin_si;     ///< how far the figure is from the limit; negative: beyond it
  double low_si = 0.0, high_si = 0.0;  ///< between which the figure lies
  std::string missing;                 ///< what would have to be known
  Where where;
  std::string source, changed;
  std::string setting;  ///< the setting in which it is so; empty: the first that was run
};

/// A figure whose spread reaches to both sides of the limit is undecided; a figure on the limit holds.
Ruling rule_on(const Rule& rule, Kind kind, const Measured& measured);

/// In the order of the rules; places where a rule has nothing to say have no ruling.
std::vector<Ruling> judge(const RuleSet& rules, const Seen& seen);

/// Whether a rule that must hold fails.
bool fails(const Ruling& ruling);

}  // namespace runnel::review
