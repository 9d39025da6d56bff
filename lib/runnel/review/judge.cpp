#include "runnel/review/judge.h"

#include <cmath>

namespace runnel::review {

namespace {

// What two ways of reckoning the same figure differ by is no breach of a rule.
constexpr double rounding = 1e-9;

}  // namespace

Ruling rule_on(const Rule& rule, Kind kind, const Measured& measured) {
  Ruling out{rule.id, rule.text, rule.weight};
  out.sense = rule.sense;
  out.limit = rule.limit;
  out.where = measured.where;
  out.source = source_words(rule);
  out.changed = rule.changed;
  out.missing = measured.missing;
  if (!measured.missing.empty()) return out;
  out.figure = Figure{kind, measured.si};
  out.low_si = measured.low;
  out.high_si = measured.high;
  const double slack = rounding * std::fabs(rule.limit.si);
  const bool most = rule.sense == Sense::at_most;
  const double worst = most ? rule.limit.si - measured.high : measured.low - rule.limit.si;
  const double best = most ? rule.limit.si - measured.low : measured.high - rule.limit.si;
  out.margin_si = most ? rule.limit.si - measured.si : measured.si - rule.limit.si;
  out.verdict = worst >= -slack ? Verdict::holds : best >= -slack ? Verdict::undecided : Verdict::fails;
  return out;
}

std::vector<Ruling> judge(const RuleSet& rules, const Seen& seen) {
  std::vector<Ruling> out;
  for (const Rule& rule : rules.rules) {
    const Measure* measure = find_measure(rule.measure);
    if (!measure || !measure->take) continue;
    for (const Measured& measured : measure->take(seen))
      out.push_back(rule_on(rule, measure->kind, measured));
  }
  return out;
}

bool fails(const Ruling& ruling) { return ruling.weight == Weight::must && ruling.verdict == Verdict::fails; }

}  // namespace runnel::review
