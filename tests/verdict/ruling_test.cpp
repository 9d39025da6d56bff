// One value decides what is printed: it follows from the findings alone.
#include "runnel/verdict/ruling.h"

#include <catch2/catch.hpp>

using runnel::Finding;
using runnel::Severity;
using runnel::verdict::bearing;
using runnel::verdict::is_good;
using runnel::verdict::Ruling;
using runnel::verdict::ruling_of;

namespace {

Finding finding(const char* code, Severity severity) {
  Finding f;
  f.code = code;
  f.severity = severity;
  return f;
}

}  // namespace

TEST_CASE("every error fails, and notes leave all as it is") {
  for (const char* code : {"ask-not-met", "ask-not-judged", "static-above-rating", "anything"}) {
    CHECK(bearing(finding(code, Severity::error)) == Ruling::fails);
    CHECK(bearing(finding(code, Severity::note)) == Ruling::holds);
  }
}

TEST_CASE("what is not judged leaves the answer open") {
  for (const char* code : {"ask-not-judged", "rating-unknown", "air-not-judged", "air-start-doubtful"})
    CHECK(bearing(finding(code, Severity::warning)) == Ruling::cannot_be_said);
  CHECK(bearing(finding("velocity-high", Severity::warning)) == Ruling::holds);
}

TEST_CASE("a condition makes an answer hold only if it is met") {
  CHECK(bearing(finding("siphon-needs-filling", Severity::warning)) == Ruling::only_if);
  CHECK(bearing(finding("line-not-surveyed", Severity::warning)) == Ruling::only_if);
  CHECK(bearing(finding("need-met-only-if", Severity::warning)) == Ruling::only_if);
  CHECK(bearing(finding("level-book-does-not-close", Severity::warning)) == Ruling::only_if);
}

TEST_CASE("a proof that fails outweighs everything, whatever its severity") {
  for (const Severity severity : {Severity::note, Severity::warning, Severity::error}) {
    CHECK(bearing(finding("check-failed", severity)) == Ruling::unproved);
    CHECK(bearing(finding("no-answer", severity)) == Ruling::no_answer);
  }
}

TEST_CASE("the worst finding decides") {
  CHECK(ruling_of({}) == Ruling::holds);
  const Finding note = finding("box-spills", Severity::note);
  const Finding by_hand = finding("siphon-needs-filling", Severity::warning);
  const Finding open = finding("rating-unknown", Severity::warning);
  const Finding missed = finding("ask-not-met", Severity::error);
  CHECK(ruling_of({note, by_hand}) == Ruling::only_if);
  CHECK(ruling_of({by_hand, open, note}) == Ruling::cannot_be_said);
  CHECK(ruling_of({open, missed, by_hand}) == Ruling::fails);
  CHECK(ruling_of({missed, finding("no-answer", Severity::error)}) == Ruling::no_answer);
}

TEST_CASE("only an answer that holds, with or without a condition, is a yes") {
  CHECK(is_good(Ruling::holds));
  CHECK(is_good(Ruling::only_if));
  for (const Ruling r : {Ruling::cannot_be_said, Ruling::fails, Ruling::no_answer, Ruling::unproved})
    CHECK_FALSE(is_good(r));
  CHECK(runnel::verdict::has_figures(Ruling::fails));
  CHECK_FALSE(runnel::verdict::has_figures(Ruling::unproved));
}
