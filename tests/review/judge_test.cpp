// A figure, its spread and a limit.
#include "runnel/review/judge.h"

#include <catch2/catch.hpp>

using namespace runnel;
using namespace runnel::review;

namespace {

Verdict of(Sense sense, double limit, double low, double si, double high) {
  Rule rule;
  rule.id = "rule";
  rule.sense = sense;
  rule.limit = {Kind::number, limit};
  return rule_on(rule, Kind::number, between({}, low, si, high)).verdict;
}

}  // namespace

TEST_CASE("a figure on its limit holds, beyond it fails, and within its spread is undecided") {
  CHECK(of(Sense::at_most, 10.0, 10.0, 10.0, 10.0) == Verdict::holds);
  CHECK(of(Sense::at_most, 10.0, 10.1, 10.1, 10.1) == Verdict::fails);
  CHECK(of(Sense::at_most, 10.0, 9.0, 9.5, 10.1) == Verdict::undecided);
  CHECK(of(Sense::at_most, 10.0, 9.9, 11.0, 12.0) == Verdict::undecided);
  CHECK(of(Sense::at_least, 10.0, 10.0, 10.0, 10.0) == Verdict::holds);
  CHECK(of(Sense::at_least, 10.0, 9.9, 9.9, 9.9) == Verdict::fails);
  CHECK(of(Sense::at_least, 10.0, 9.0, 10.5, 11.0) == Verdict::undecided);
  CHECK(of(Sense::at_least, 10.0, 8.0, 9.0, 10.1) == Verdict::undecided);
}

TEST_CASE("what is not known is not judged, and says what is missing") {
  Rule rule;
  rule.limit = {Kind::number, 1.0};
  const Ruling ruling = rule_on(rule, Kind::number, lacking({"spring"}, "its yield"));
  CHECK(ruling.verdict == Verdict::cannot_be_judged);
  CHECK(ruling.missing == "its yield");
  CHECK_FALSE(ruling.figure);
  CHECK_FALSE(fails(ruling));
}

TEST_CASE("advice that is not kept does not fail") {
  Rule rule;
  rule.sense = Sense::at_most;
  rule.limit = {Kind::number, 1.0};
  rule.weight = Weight::advice;
  const Ruling ruling = rule_on(rule, Kind::number, exactly({}, 2.0));
  CHECK(ruling.verdict == Verdict::fails);
  CHECK_FALSE(fails(ruling));
  CHECK(*ruling.margin_si == Approx(-1.0));
}
