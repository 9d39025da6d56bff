#include "runnel/works/judgement.h"

#include <algorithm>

namespace runnel::works {

namespace {

Verdict hold_against(double figure, const Limit& limit) {
  const bool at_least = limit.sense == Sense::at_least;
  if (at_least ? figure >= limit.strict : figure <= limit.strict) return Verdict::holds;
  if (at_least ? figure < limit.loose : figure > limit.loose) return Verdict::fails;
  return Verdict::undecided;
}

int weight(Verdict verdict) {
  switch (verdict) {
    case Verdict::holds:
      return 0;
    case Verdict::undecided:
      return 1;
    case Verdict::cannot_be_judged:
      return 2;
    case Verdict::fails:
      return 3;
  }
  return 3;
}

}  // namespace

Limit at_most(double strict, double loose) { return {Sense::at_most, strict, loose}; }
Limit at_most(double limit) { return {Sense::at_most, limit, limit}; }
Limit at_least(double strict, double loose) { return {Sense::at_least, strict, loose}; }
Limit at_least(double limit) { return {Sense::at_least, limit, limit}; }

Judgement judge(Rule rule, Measure measure, std::optional<double> figure, std::optional<Limit> limit,
                std::string_view source) {
  const Verdict verdict = figure && limit ? hold_against(*figure, *limit) : Verdict::cannot_be_judged;
  return {rule, measure, figure, limit, verdict, source};
}

Verdict worst_of(const std::vector<Judgement>& judgements) {
  Verdict worst = Verdict::holds;
  for (const Judgement& judgement : judgements)
    if (weight(judgement.verdict) > weight(worst)) worst = judgement.verdict;
  return worst;
}

}  // namespace runnel::works
