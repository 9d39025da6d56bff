#include "runnel/works/judgement.h"

#include <catch2/catch.hpp>

using namespace runnel::works;

namespace {

Verdict verdict(std::optional<double> figure, std::optional<Limit> limit) {
  return judge(Rule::retention, Measure::ratio, figure, limit, "none").verdict;
}

}  // namespace

TEST_CASE("a limit given as a span leaves the figures within it undecided") {
  CHECK(verdict(4.0, at_most(4.0, 5.0)) == Verdict::holds);
  CHECK(verdict(4.5, at_most(4.0, 5.0)) == Verdict::undecided);
  CHECK(verdict(5.1, at_most(4.0, 5.0)) == Verdict::fails);
  CHECK(verdict(5.0, at_least(5.0, 4.0)) == Verdict::holds);
  CHECK(verdict(4.5, at_least(5.0, 4.0)) == Verdict::undecided);
  CHECK(verdict(3.9, at_least(5.0, 4.0)) == Verdict::fails);
}

TEST_CASE("what is not known is not judged") {
  CHECK(verdict({}, at_most(5.0)) == Verdict::cannot_be_judged);
  CHECK(verdict(1.0, {}) == Verdict::cannot_be_judged);
}

TEST_CASE("the worst of several verdicts is the one to act on") {
  const Judgement holds{.verdict = Verdict::holds}, open{.verdict = Verdict::undecided},
      unknown{.verdict = Verdict::cannot_be_judged}, fails{.verdict = Verdict::fails};
  CHECK(worst_of({}) == Verdict::holds);
  CHECK(worst_of({holds, open}) == Verdict::undecided);
  CHECK(worst_of({unknown, open, holds}) == Verdict::cannot_be_judged);
  CHECK(worst_of({unknown, fails, open}) == Verdict::fails);
}
