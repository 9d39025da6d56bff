// The answer to a whole model: settings, needs that a steady state cannot tell, and the one value.
#include "runnel/verdict/answer.h"

#include <catch2/catch.hpp>

#include "runnel/units/print.h"
#include "runnel/verdict/cut_off.h"
#include "support/resolved.h"
#include "verdict/sample.h"

namespace network = runnel::network;
namespace verdict = runnel::verdict;
using runnel::Flow;
using runnel::Length;
using runnel::verdict::Answer;
using runnel::verdict::Ruling;

namespace {

Answer answer(const network::Model& model, const verdict::AnswerOptions& options = {}) {
  auto answered = verdict::answer_model(model, options);
  REQUIRE(answered);
  return std::move(*answered.value);
}

std::string said(const Answer& a) {
  return runnel::units::render(a.sentence.text(), a.sentence.figures(), runnel::units::UnitSystem::si);
}

const runnel::Finding* found(const Answer& a, const std::string& code) {
  for (const auto& f : a.leading().verdict.findings)
    if (f.code == code) return &f;
  return nullptr;
}

/// A spring of 1 L/s, 50 mm pipe, 50 m of fall: the whole yield arrives.
network::Model spring_line() {
  network::Model m = sample::system();
  m.asks = {sample::ask_flow("trough", 0.8)};
  network::Part valve;
  valve.kind = network::PartKind::valve;
  valve.type = "gate_valve";
  valve.name = "V1";
  valve.at = Length::metres(2.0);
  m.pipelines[0].parts = {valve};
  m.pipelines[0].pipes[0].pipe.wall = Length::millimetres(5.0);
  m.pipelines[0].pipes[0].pipe.modulus_pa = 0.9e9;
  return m;
}

/// The same with a tank of 3.14 m3 at its end instead of the trough; 1 L/s fills it in 52 minutes and a bit.
network::Model tank_line(double within_h) {
  network::Model m = spring_line();
  m.outlets.clear();
  network::Tank tank;
  tank.name = "tank";
  tank.shape = network::UprightCylinder{Length::metres(2.0)};
  tank.floor = Length::metres(-2.0);
  tank.lip = Length::metres(-1.0);
  tank.inlet = Length::metres(0.0);
  tank.level = tank.floor;
  m.tanks = {tank};
  m.pipelines[0].to = "tank";
  m.pipelines[0].survey.back().elevation = Length::metres(0.0);
  network::Ask ask;
  ask.kind = network::AskKind::full_within;
  ask.at = "tank";
  ask.within = runnel::Duration::hours(within_h);
  m.asks = {ask};
  return m;
}

network::Setting setting(const std::string& name) {
  network::Setting s;
  s.name = name;
  return s;
}

}  // namespace

TEST_CASE("a sound line holds") {
  const Answer a = answer(spring_line());
  INFO(said(a));
  CHECK(a.ruling() == Ruling::holds);
  CHECK(a.runs.size() == 1);
  CHECK_THAT(said(a), Catch::StartsWith("It delivers: 1.00 L/s reach trough"));
}

TEST_CASE("a pipe without a rating leaves open whether it holds") {
  network::Model m = spring_line();
  m.pipelines[0].pipes[0].pipe.rating = {};
  const Answer a = answer(m);
  CHECK(a.ruling() == Ruling::cannot_be_said);
  CHECK_THAT(said(a),
             Catch::StartsWith("It cannot be said whether it delivers, because what pressure the pipe "
                               "of main stands is not known."));
  CHECK_THAT(said(a), Catch::Contains("As far as it is judged: 1.00 L/s reach trough"));
}

TEST_CASE("claims are named and change nothing of what is delivered") {
  network::Model m = spring_line();
  network::Claim claim;
  claim.at = "trough";
  claim.flow = Flow::litres_per_second(1.0);
  m.claims = {claim};
  const verdict::Answer a = answer(m);
  CHECK(a.ruling() == Ruling::holds);
  CHECK(std::any_of(a.leading().verdict.findings.begin(), a.leading().verdict.findings.end(),
                    [](const runnel::Finding& f) { return f.code == "claims-not-judged"; }));
}

TEST_CASE("a line of which only the length is known holds only if it has no high point") {
  network::Model m = spring_line();
  m.pipelines[0].surveyed = false;
  const Answer a = answer(m);
  CHECK(a.ruling() == Ruling::only_if);
  CHECK_THAT(said(a),
             Catch::StartsWith("It delivers only if main, of which only the length is known, lies without "
                               "a high point: 1.00 L/s reach trough"));
}

TEST_CASE("a need of full within is judged by following the filling") {
  // pi m3 of tank over 1 L/s: 3141.6 s = 0.8727 h.
  CHECK(answer(tank_line(0.88)).ruling() == Ruling::holds);
  const Answer late = answer(tank_line(0.87));
  CHECK(late.ruling() == Ruling::fails);
  const auto& need = late.leading().verdict.asks.front();
  CHECK(need.judged);
  CHECK_FALSE(need.met);
  CHECK_THAT(said(late), Catch::Contains("tank is not full within the 52.2 min asked"));
}

TEST_CASE("every setting is run, the worst leads, and one may be named alone") {
  network::Model m = spring_line();
  network::Setting dry = setting("dry season");
  dry.yields = {{"spring", Flow::litres_per_second(0.5), {}}};
  network::Setting wet = setting("wet season");
  wet.yields = {{"spring", Flow::litres_per_second(2.0), {}}};
  m.settings = {wet, dry};
  const Answer a = answer(m);
  REQUIRE(a.runs.size() == 3);
  CHECK(a.leads == 2);
  CHECK(a.ruling() == Ruling::fails);
  CHECK_THAT(said(a), Catch::StartsWith("Under the setting \"dry season\": It does not deliver"));
  CHECK(answer(m, {.setting = "wet season"}).good());
  CHECK(answer(m, {.setting = "normal"}).good());
  CHECK_FALSE(answer(m, {.setting = "dry season"}).good());
  m.settings = {wet};
  CHECK(answer(m).ruling() == Ruling::holds);
  CHECK_THAT(said(answer(m)), Catch::EndsWith("So it does under every setting."));
  CHECK_FALSE(verdict::answer_model(m, {.setting = "no such"}));
}

TEST_CASE("what a setting shuts off is not due under it, unless it is named alone") {
  network::Model m = spring_line();
  network::Setting service = setting("service");
  service.shut = {{"V1", {}}};
  m.settings = {service};
  const auto run = network::under_setting(m, "service");
  CHECK(verdict::cut_off(m, *run.value) == std::vector<std::string>{"trough"});
  const Answer all = answer(m);
  CHECK(all.good());
  CHECK(all.runs[1].verdict.asks[0].cut_off);
  const Answer alone = answer(m, {.setting = "service"});
  CHECK(alone.ruling() == Ruling::fails);
  CHECK_THAT(said(alone), Catch::Contains("gets no water"));
}

TEST_CASE("a valve drawn shut is no excuse") {
  network::Model m = spring_line();
  m.pipelines[0].parts[0].open = 0.0;
  network::Setting run = setting("running");
  run.open = {{"V1", {}}};
  m.settings = {run};
  CHECK(answer(m).ruling() == Ruling::fails);
}

TEST_CASE("a tank whose float is shut is judged as it opens") {
  network::Model m = tank_line(1.0);
  m.tanks[0].float_valve = network::FloatValve{Length::metres(-1.1), Length::metres(-1.3), 0.0};
  m.tanks[0].level = Length::metres(-1.1);
  m.asks = {sample::ask_flow("tank", 0.8)};
  const Answer a = answer(m);
  CHECK(a.ruling() == Ruling::holds);
  CHECK(found(a, "float-taken-open"));
  m.asks = {sample::ask_flow("tank", 1.2)};
  CHECK(answer(m).ruling() == Ruling::fails);
}

TEST_CASE("a need at a tank counts what arrives, not what is left of it") {
  network::Model m = tank_line(1.0);
  network::Outlet tap;
  tap.name = "tap";
  tap.elevation = Length::metres(-30.0);
  m.outlets = {tap};
  network::Pipeline out = m.pipelines[0];
  out.name = "to the tap";
  out.from = "tank";
  out.to = "tap";
  out.survey = {{Length::metres(0.0), Length::metres(-1.9)}, {Length::metres(100.0), Length::metres(-30.0)}};
  out.parts.clear();
  m.pipelines.push_back(out);
  m.tanks[0].held = true;
  m.asks = {sample::ask_flow("tank", 0.9)};
  const Answer a = answer(m);
  CHECK(a.leading().verdict.asks[0].met);
  CHECK(a.leading().verdict.asks[0].got->si == Approx(1e-3).epsilon(1e-6));  // the whole yield
}

TEST_CASE("something that may break is not favourable, however much arrives") {
  network::Model m = spring_line();
  m.pipelines[0].pipes[0].pipe.rating = runnel::Pressure::bar(3.0);
  m.pipelines[0].parts[0].at = Length::metres(199.0);
  const Answer a = answer(m);
  CHECK(a.ruling() == Ruling::fails);
  CHECK_THAT(said(a), Catch::StartsWith("It must not be built as it is. main stands under"));
  CHECK_THAT(said(a), Catch::Contains("Otherwise it would deliver"));
}

TEST_CASE("a model that cannot be computed on gives its findings") {
  network::Model m = spring_line();
  m.pipelines[0].to = "nowhere";
  const auto answered = verdict::answer_model(m);
  CHECK_FALSE(answered);
  CHECK_FALSE(answered.findings.empty());
}
