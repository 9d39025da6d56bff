// Air along the ways of the water, as the verdict tells it. The line is that of models/blocked_until_vented,
// 850 m lower; needed levels by two quadratics as in tests/models/hand_check.py.
#include "runnel/verdict/air_answer.h"

#include <catch2/catch.hpp>

#include "runnel/units/print.h"
#include "runnel/verdict/flow_verdict.h"
#include "support/rooms.h"
#include "verdict/sample.h"

using runnel::Finding;
using runnel::Length;
using runnel::Severity;
using runnel::verdict::FlowVerdict;
using runnel::verdict::judge_flow;
using sample::Sample;
namespace air = runnel::air;
namespace network = runnel::network;

namespace {

Sample two_humps() {
  Sample s = sample::make();
  network::Pipeline& line = s.system.pipelines[0];
  line.survey.clear();
  s.state.lines[0].points.clear();
  s.state.lines[0].reaches.clear();
  const double points[][2] = {{0, 49}, {60, 30}, {130, 44}, {210, 18}, {300, 43}, {380, 22}, {460, 32}};
  for (const auto& p : points) {
    line.survey.push_back({Length::metres(p[0]), Length::metres(p[1])});
    s.state.lines[0].points.push_back({p[0], p[1], 49.0, 49.0 - p[1], 50.0 - p[1]});
  }
  s.system.outlets[0].elevation = Length::metres(32);
  return s;
}

void add_vent(Sample& s, double station_m) {
  network::Part vent;
  vent.kind = network::PartKind::air_valve;
  vent.name = "A" + std::to_string(static_cast<int>(station_m));
  vent.at = Length::metres(station_m);
  s.system.pipelines[0].parts.push_back(vent);
}

const Finding* found(const FlowVerdict& v, const std::string& code) {
  for (const Finding& f : v.findings)
    if (f.code == code) return &f;
  return nullptr;
}

std::string said(const FlowVerdict& v) {
  return runnel::units::render(v.sentence.text(), v.sentence.figures(), runnel::units::UnitSystem::si);
}

}  // namespace

TEST_CASE("trapped air that stops the water is an error, with a remedy that was tried") {
  const Sample s = two_humps();
  const FlowVerdict v = judge_flow(s.system, s.state);
  REQUIRE(v.air);
  REQUIRE(v.air->paths.size() == 1);
  CHECK(v.air->paths[0].start.verdict == air::StartVerdict::blocked);
  // Without compression: 32 + 26 + 21 m.
  CHECK(v.air->paths[0].start.uncompressed_level_m == Approx(79.0).margin(1e-9));
  REQUIRE(found(v, "air-start-blocked"));
  CHECK(found(v, "air-start-blocked")->severity == Severity::error);
  CHECK_THAT(found(v, "air-start-blocked")->advice, Catch::Contains("With air valves at"));
  CHECK_FALSE(v.good());
  CHECK_THAT(said(v),
             Catch::StartsWith(
                 "It will not start by itself: the air trapped on the way to trough would need the water "));
}

TEST_CASE("vents at both crests let it start, and the vents are not complained of") {
  Sample s = two_humps();
  add_vent(s, 130);
  CHECK(found(judge_flow(s.system, s.state), "air-start-blocked") == nullptr);
  add_vent(s, 300);
  const FlowVerdict v = judge_flow(s.system, s.state);
  CHECK(v.air->paths[0].start.verdict == air::StartVerdict::starts);
  CHECK(found(v, "air-crest") == nullptr);
  CHECK(v.good());
}

TEST_CASE("each crest is told once, with its clearance") {
  const Sample s = two_humps();
  const FlowVerdict v = judge_flow(s.system, s.state);
  REQUIRE(v.air->lines.size() == 1);
  const auto& crests = v.air->lines[0].crests;
  REQUIRE(crests.size() == 2);
  CHECK(crests[0].crest.station_m == 130.0);
  CHECK(*crests[0].crest.clearance_m == Approx(5.0).margin(1e-12));  // grade 49 less pipe 44
  CHECK(crests[0].crest.graded.risk == air::Risk::high);
}

TEST_CASE("a point above the source blocks an open line and asks a sealed one to be filled") {
  Sample s = two_humps();
  s.system.pipelines[0].survey[2].elevation = Length::metres(52);
  add_vent(s, 300);
  const FlowVerdict open = judge_flow(s.system, s.state);
  REQUIRE(found(open, "line-blocked"));
  CHECK(found(open, "line-blocked")->where.station_m == 130.0);
  CHECK_FALSE(open.good());
  s.system.pipelines[0].air = network::Air::sealed;
  const FlowVerdict sealed = judge_flow(s.system, s.state);
  CHECK(found(sealed, "line-blocked") == nullptr);
  REQUIRE(found(sealed, "siphon-needs-filling"));
  CHECK(found(sealed, "siphon-needs-filling")->severity == Severity::warning);
  CHECK_THAT(said(sealed), Catch::Contains("filled by hand"));
}

TEST_CASE("a stretch that the survey cannot tell is flagged only if its error is stated") {
  Sample s = two_humps();
  s.system.outlets[0].elevation = Length::metres(22.5);
  s.system.pipelines[0].survey[6].elevation = Length::metres(22.5);  // rises 0.5 m after the last low point
  CHECK(found(judge_flow(s.system, s.state), "air-grade-uncertain") == nullptr);
  s.system.pipelines[0].survey_error = Length::metres(0.3);  // 0.5 m is less than twice that
  CHECK(found(judge_flow(s.system, s.state), "air-grade-uncertain"));
  s.system.pipelines[0].survey_error = Length::metres(0.2);
  CHECK(found(judge_flow(s.system, s.state), "air-grade-uncertain") == nullptr);
}
