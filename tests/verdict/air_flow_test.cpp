// Asks of a line that starts with its air in it.
#include "runnel/verdict/air_flow.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "air/air_systems.h"
#include "runnel/units/print.h"

using namespace runnel;

namespace {

/// The line of tests/data/states/two_pockets.json: 0.3547 L/s with its air, 0.6123 L/s without.
network::Model two_pockets() {
  network::Model s = small::empty();
  s.site.altitude = Length::metres(0.0);
  s.site.water = water::at(Temperature::celsius(10.0));
  s.site.air_pressure_pa = 101325.0;
  small::box(s, "spring", 1e-2, 59.6, 60.0);
  small::outlet(s, "trough", 22.0);
  small::line(s, "main", "spring", "trough", 0.0352,
              {{0, 59.6}, {210, 51}, {300, 54.5}, {520, 47}, {610, 50}, {820, 44}, {900, 46}, {1500, 22}});
  s.pipelines[0].pipes[0].pipe.rating = runnel::Pressure::bar(16.0);
  return s;
}

network::Model vented(network::Model s) {
  for (const double at_m : {300.0, 610.0})
    s.pipelines[0].parts.push_back(
        small::part(network::PartKind::air_valve, at_m < 500.0 ? "first" : "second", at_m));
  return s;
}

verdict::FlowVerdict judged(const network::Model& model) {
  const network::System& system = support::kept(model);
  return verdict::judge_flow(system, steady::solve(system));
}

std::string words(const verdict::Sentence& s) {
  return units::render(s.text(), s.figures(), units::UnitSystem::si);
}

const Finding* found(const verdict::FlowVerdict& v, const std::string& code) {
  for (const Finding& f : v.findings)
    if (f.code == code) return &f;
  return nullptr;
}

}  // namespace

TEST_CASE("an ask that is met only without the air of the start is not met") {
  const verdict::FlowVerdict v = judged(test::asking(two_pockets(), "trough", 4e-4));
  CHECK_FALSE(v.good());
  const verdict::AskResult& ask = v.asks.at(0);
  CHECK(ask.judged);
  CHECK_FALSE(ask.met);
  CHECK(ask.held_by_air());
  REQUIRE(ask.got);
  CHECK(ask.got->si == Approx(3.5473e-4).epsilon(1e-3));  // the water of 10 degC is the table's to 1e-4
  CHECK(ask.air->at_first->si == Approx(3.5473e-4).epsilon(1e-3));
  CHECK(ask.air->without->si == Approx(6.1235e-4).epsilon(1e-3));
  REQUIRE(ask.air->held.size() == 2);
  CHECK(ask.air->held[0].station_m == 300.0);
  const Finding* held = found(v, "air-held-flow");
  REQUIRE(held);
  CHECK(held->severity == Severity::error);
  CHECK(held->where.place == "trough");
  CHECK_FALSE(found(v, "ask-not-met"));
  const std::string sentence = words(v.sentence);
  CAPTURE(sentence);
  CHECK(sentence.rfind("It does not deliver: trough gets 0.35", 0) == 0);
  CHECK(sentence.find(
            "as long as the air behind the high points at 300.0 m of main and 610.0 m of main stays") !=
        std::string::npos);
  CHECK(sentence.find("because") == std::string::npos);
}

TEST_CASE("an ask that the least end state meets is met, with the margin of that state") {
  const verdict::FlowVerdict v = judged(test::asking(two_pockets(), "trough", 3e-4));
  CHECK(v.good());
  CHECK(v.asks.at(0).met);
  CHECK(v.asks.at(0).margin_si() == Approx(0.5473e-4).epsilon(1e-2));
  const Finding* held = found(v, "air-held-flow");
  REQUIRE(held);
  CHECK(held->severity == Severity::warning);
}

TEST_CASE("an ask that the full line does not meet either is missed by what comes with the air") {
  const verdict::FlowVerdict v = judged(test::asking(two_pockets(), "trough", 8e-4));
  CHECK_FALSE(v.asks.at(0).met);
  CHECK_FALSE(v.asks.at(0).held_by_air());
  CHECK(found(v, "ask-not-met"));
  CHECK(v.asks.at(0).got->si == Approx(3.5473e-4).epsilon(1e-3));
}

TEST_CASE("a line whose crests are vented is judged as it always was") {
  const verdict::FlowVerdict v = judged(test::asking(vented(two_pockets()), "trough", 4e-4));
  CHECK(v.good());
  CHECK(v.asks.at(0).met);
  CHECK_FALSE(v.asks.at(0).air);
  CHECK_FALSE(v.air->at_first);
  CHECK_FALSE(found(v, "air-held-flow"));
  CHECK(v.asks.at(0).got->si == Approx(6.1235e-4).epsilon(1e-3));
}

TEST_CASE("a spring too weak to feel the air of the start is judged as it always was") {
  network::Model weak = test::asking(two_pockets(), "trough", 1e-4);
  weak.boxes[0].yield = Flow::from_si(2e-4);
  const verdict::FlowVerdict v = judged(weak);
  CHECK(v.good());
  CHECK_FALSE(v.asks.at(0).air);
  CHECK(v.air->at_first);
  CHECK_FALSE(found(v, "air-held-flow"));
}

TEST_CASE("without an ask the sentence tells what comes with the air") {
  const std::string sentence = words(judged(two_pockets()).sentence);
  CAPTURE(sentence);
  CHECK(sentence.find("0.35") != std::string::npos);
  CHECK(sentence.find("as long as the air of the start stays in the lines") != std::string::npos);
}

namespace {

/// A reducing valve holds 12 m behind it: at 100 m before a high point that keeps air, at 400 m within that
/// air.
network::Model behind_a_valve(double asked_m3s, double valve_m) {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-2, 59.6, 60.0);
  small::outlet(s, "trough", 22.0);
  network::Pipeline& line =
      small::line(s, "main", "spring", "trough", 0.0352,
                  {{0, 59.6}, {100, 40}, {210, 36}, {300, 41}, {520, 33}, {600, 36}, {900, 22}});
  network::Part valve = small::part(network::PartKind::reducing_valve, "R1", valve_m);
  valve.set_pressure = Pressure::pascals(12.0 * 9.80665 * 999.7);
  line.parts.push_back(valve);
  return test::asking(s, "trough", asked_m3s);
}

}  // namespace

TEST_CASE("a need behind air that is not worked out cannot be said to be met, and that is no pass") {
  const verdict::FlowVerdict v = judged(behind_a_valve(1e-4, 400.0));
  CHECK(v.ruling == verdict::Ruling::cannot_be_said);
  CHECK(found(v, "air-not-judged"));
  CHECK_THAT(words(v.sentence), Catch::Contains("cannot be said"));
  // With a vent there is no air, and without enough water it fails whatever the air takes.
  network::Model vented = behind_a_valve(1e-4, 400.0);
  for (const double at_m : {300.0, 600.0})
    vented.pipelines[0].parts.insert(
        at_m < 400.0 ? vented.pipelines[0].parts.begin() : vented.pipelines[0].parts.end(),
        small::part(network::PartKind::air_valve, "A" + std::to_string(int(at_m)), at_m));
  const verdict::FlowVerdict pass = judged(vented);
  CHECK(pass.asks.at(0).met);
  CHECK_FALSE(found(pass, "air-not-judged"));
  CHECK(judged(behind_a_valve(1e-2, 400.0)).ruling == verdict::Ruling::fails);
}

TEST_CASE("a need behind a reducing valve is judged with the air that the valve starts the line over") {
  const verdict::FlowVerdict v = judged(behind_a_valve(1e-4, 100.0));
  CHECK_FALSE(found(v, "air-not-judged"));
  REQUIRE(v.air->at_first);
  CHECK(v.air->at_first->proved());
  CHECK(v.asks.at(0).judged);
  const double at_first = v.air->at_first->first().runs[0].flow_m3s;
  CHECK(at_first < 0.99 * steady::solve(behind_a_valve(1e-4, 100.0)).lines[0].flow_m3s);
  CHECK(v.asks.at(0).met == (v.asks.at(0).got->si >= 1e-4));
}

namespace {

/// The wider the mouth of the main, the lower the tee from which a branch climbs over 50 m.
network::Model branched(double mouth_m, double asked_m3s) {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-2, 59.5, 60.0);
  small::joint(s, "tee", 40.0);
  small::outlet(s, "mill", 20.0, mouth_m, 1.0);
  small::outlet(s, "trough", 44.0);
  small::line(s, "upper", "spring", "tee", 0.04, {{0, 59.5}, {300, 40}});
  small::line(s, "lower", "tee", "mill", 0.04, {{0, 40}, {200, 20}});
  small::line(s, "branch", "tee", "trough", 0.026, {{0, 40}, {100, 50}, {150, 38}, {190, 44}});
  return test::asking(s, "trough", asked_m3s);
}

}  // namespace

TEST_CASE("a branch that does not start beside the running main fails its ask, and the order is told") {
  int orders = 0;
  for (double mouth_m = 0.002; mouth_m < 0.040; mouth_m += 0.0005) {
    CAPTURE(mouth_m);
    const verdict::FlowVerdict v = judged(branched(mouth_m, 5e-5));
    REQUIRE(v.air);
    if (!v.air->at_first || v.air->branches.empty()) continue;
    const verdict::BranchAnswer& branch = v.air->branches[0];
    CHECK(branch.pipeline == "branch");
    CHECK(branch.tee == "tee");
    CHECK(branch.end == "trough");
    const Finding* start = found(v, "branch-start");
    CHECK((start != nullptr) == (branch.order != verdict::OpeningOrder::any));
    if (!start) continue;
    CHECK_FALSE(v.asks.at(0).met);
    CHECK_FALSE(v.good());
    CHECK_THAT(start->message, Catch::Contains("does not start while the rest runs"));
    if (branch.order == verdict::OpeningOrder::none) {
      CHECK_THAT(start->message, Catch::Contains("does not run on either"));
      continue;
    }
    ++orders;
    CHECK_THAT(start->message, Catch::Contains("order of opening"));
    CHECK_THAT(start->advice, Catch::Contains("first with everything else shut"));
    if (branch.order == verdict::OpeningOrder::branch_first) CHECK(branch.opened_first_m3s > 0.0);
  }
  CHECK(orders > 0);
}

TEST_CASE("a branch that the running main lifts over its air is told of and fails nothing") {
  const verdict::FlowVerdict v = judged(branched(0.004, 5e-5));
  REQUIRE(v.air);
  REQUIRE(v.air->branches.size() == 1);
  CHECK(v.air->branches[0].order == verdict::OpeningOrder::any);
  CHECK_FALSE(found(v, "branch-start"));
  CHECK(v.asks.at(0).met);
}
