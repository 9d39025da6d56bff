// What to do about an answer: acts that cure a finding, and none that nobody would carry out.
#include "runnel/verdict/acts.h"

#include <catch2/catch.hpp>

#include "runnel/air/profile.h"
#include "runnel/units/print.h"

namespace air = runnel::air;
namespace verdict = runnel::verdict;
using runnel::Finding;
using runnel::Severity;
using runnel::verdict::FlowVerdict;

namespace {

std::vector<std::string> said(const FlowVerdict& v) {
  std::vector<std::string> all;
  for (const verdict::Sentence& act : verdict::acts_of(v))
    all.push_back(runnel::units::render(act.text(), act.figures(), runnel::units::UnitSystem::si));
  return all;
}

/// A way to the trough that trapped air stops; its high point stands at 100 m of main.
FlowVerdict stopped_by_air() {
  FlowVerdict v;
  v.ruling = verdict::Ruling::fails;
  v.air.emplace();
  verdict::PathAir way;
  way.path.source = "spring";
  way.path.end = "trough";
  way.profile = air::profile_of({{0.0, 50.0}, {50.0, 30.0}, {100.0, 45.0}, {150.0, 20.0}}, 0.03);
  way.profile.pipelines = {"main"};
  way.start.verdict = air::StartVerdict::blocked;
  way.start.reason = air::StartReason::air;
  v.air->paths.push_back(way);
  return v;
}

Finding finding(const char* code, Severity severity, const char* line, const char* advice) {
  Finding f;
  f.code = code;
  f.severity = severity;
  f.where.pipeline = line;
  f.advice = advice;
  return f;
}

}  // namespace

TEST_CASE("nothing wrong asks for no act") {
  FlowVerdict v;
  v.ruling = verdict::Ruling::holds;
  CHECK(verdict::acts_of(v).empty());
}

TEST_CASE("air that stops the water asks for air valves where they are enough") {
  FlowVerdict v = stopped_by_air();
  v.air->paths[0].vents.emplace();
  v.air->paths[0].vents->crests = {2};
  v.air->paths[0].vents->after.margin_m = 4.0;
  CHECK(said(v) == std::vector<std::string>{
                       "Put an air valve at 100.0 m of main. Then trough starts with 4.00 m to spare."});
}

TEST_CASE("a trench is an act only as deep as a machine digs") {
  FlowVerdict v = stopped_by_air();
  v.air->paths[0].dig.emplace();
  v.air->paths[0].dig->crest = 2;
  for (const double deep_m : {0.5, 3.0}) {
    v.air->paths[0].dig->depth_m = deep_m;
    REQUIRE(said(v).size() == 1);
    CHECK_THAT(said(v)[0], Catch::StartsWith("Dig the high point at 100.0 m of main down by "));
  }
  for (const double deep_m : {3.01, 9.0}) {
    v.air->paths[0].dig->depth_m = deep_m;
    REQUIRE(said(v).size() == 1);
    CHECK_THAT(said(v)[0], Catch::StartsWith("Lead the line to trough another way"));
  }
}

TEST_CASE("a way that starts asks for nothing") {
  FlowVerdict v = stopped_by_air();
  v.air->paths[0].start.verdict = air::StartVerdict::starts;
  CHECK(said(v).empty());
}

TEST_CASE("the same advice for several lines is told once, with their names") {
  FlowVerdict v;
  v.ruling = verdict::Ruling::cannot_be_said;
  v.findings = {finding("rating-unknown", Severity::warning, "upper", "Write the rating."),
                finding("rating-unknown", Severity::warning, "lower", "Write the rating.")};
  CHECK(said(v) == std::vector<std::string>{"upper and lower: Write the rating."});
}

TEST_CASE("errors come before open questions, and a mere warning is no act") {
  FlowVerdict v;
  v.ruling = verdict::Ruling::fails;
  v.findings = {finding("rating-unknown", Severity::warning, "upper", "Write the rating."),
                finding("velocity-high", Severity::warning, "upper", "Take a larger pipe."),
                finding("static-above-rating", Severity::error, "lower", "Take stronger pipe.")};
  CHECK(said(v) == std::vector<std::string>{"lower: Take stronger pipe.", "upper: Write the rating."});
}

TEST_CASE("what a need asks for is not asked for a second time by the draws of its place") {
  FlowVerdict v;
  v.ruling = verdict::Ruling::fails;
  verdict::AskResult full;
  full.ask.at = "tank";
  full.ask.kind = runnel::network::AskKind::full_within;
  full.judged = true;
  full.reason = verdict::Reason{
      .bound = verdict::Bound::draws, .taps = {"tank"}, .with = {runnel::Kind::duration, 7200.0}};
  Finding first = finding("draws-missed-at-first", Severity::warning, "", "Let tank fill before.");
  first.where.place = "tank";
  v.findings = {first};
  CHECK(said(v) == std::vector<std::string>{"Let tank fill before."});
  v.asks = {full};
  CHECK(said(v) ==
        std::vector<std::string>{"Draw nothing from tank while it fills: it would be full after 2 h."});

  FlowVerdict only;
  only.ruling = verdict::Ruling::only_if;
  verdict::AskResult tap;
  tap.ask.at = "tap";
  tap.judged = tap.met = true;
  Finding need = finding("need-met-only-if", Severity::warning, "", "Choose a pipe.");
  Finding drawn = finding("draws-met-only-if", Severity::warning, "", "Store more, or choose a pipe.");
  need.where.place = drawn.where.place = "tap";
  only.asks = {tap};
  only.findings = {drawn};
  CHECK(said(only) == std::vector<std::string>{"Store more, or choose a pipe."});
  only.asks[0].only_if = "if the pipe stays as smooth as new";
  only.findings = {need, drawn};
  CHECK(said(only) == std::vector<std::string>{"Choose a pipe."});
}

TEST_CASE("an answer without figures asks for nothing") {
  FlowVerdict v = stopped_by_air();
  v.ruling = verdict::Ruling::unproved;
  CHECK(verdict::acts_of(v).empty());
}
