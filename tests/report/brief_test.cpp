// The short answer: one screen, nothing cut, the same ruling as everywhere.
#include "runnel/report/brief.h"

#include <catch2/catch.hpp>
#include <sstream>

#include "runnel/input/read_model.h"
#include "runnel/pipes/catalogue.h"
#include "runnel/report/compare.h"
#include "runnel/report/harmless.h"
#include "runnel/verdict/answer.h"
#include "support/rooms.h"
#include "verdict/sample.h"

namespace network = runnel::network;
using runnel::Flow;
using runnel::Length;
using runnel::report::TextOptions;

namespace {

std::string brief(const network::Model& m, const TextOptions& options = {}) {
  const auto answered = runnel::verdict::answer_model(m);
  REQUIRE(answered);
  return runnel::report::answer_text(*answered.value, options);
}

network::Model line(double yield_ls, const char* pipe, double asked_ls) {
  network::Model m = sample::system();
  m.boxes[0].yield = Flow::litres_per_second(yield_ls);
  m.pipelines[0].pipes[0].pipe = *runnel::pipes::standard_catalogue().find(pipe);
  m.asks = {sample::ask_flow("trough", asked_ls)};
  return m;
}

int lines(const std::string& text) { return static_cast<int>(std::count(text.begin(), text.end(), '\n')); }

/// A trunk with as many taps as wanted, their names as long as wanted.
network::Model village(int taps, const std::string& prefix) {
  network::Model m = sample::system();
  m.boxes[0].yield = Flow::litres_per_second(3.0);
  m.outlets.clear();
  m.pipelines[0].to = "tee 0";
  const network::Pipeline first = m.pipelines[0];
  for (int t = 0; t < taps; ++t) {
    const std::string n = std::to_string(t), name = prefix + n;
    const network::Joint tee = sample::joint("tee " + n, -t);
    m.joints.push_back(tee);
    network::Outlet tap;
    tap.name = name;
    tap.elevation = Length::metres(-t - 1.0);
    tap.opening = Length::millimetres(8.0);
    m.outlets.push_back(tap);
    network::Pipeline branch = first;
    branch.name = "branch " + n;
    branch.from = tee.name;
    branch.to = name;
    branch.survey = {{Length::metres(0), Length::metres(-t)}, {Length::metres(20), Length::metres(-t - 1.0)}};
    m.pipelines.push_back(branch);
    if (t > 0) {
      network::Pipeline main = first;
      main.name = "main " + n;
      main.from = "tee " + std::to_string(t - 1);
      main.to = tee.name;
      main.survey = {{Length::metres(0), Length::metres(-t + 1.0)}, {Length::metres(50), Length::metres(-t)}};
      m.pipelines.push_back(main);
    }
    m.asks.push_back(sample::ask_flow(name, t % 3 == 0 ? 5.0 : 0.01));
  }
  return m;
}

}  // namespace

TEST_CASE("the short answer begins with the sentence and ends with what was assumed") {
  const std::string text = brief(line(1.0, "PE100 SDR11 50 mm", 0.8));
  CHECK_THAT(text, Catch::StartsWith("It delivers: 1.00 L/s reach trough"));
  CHECK_THAT(text,
             Catch::Contains("Nothing needs changing.") && Catch::Contains("Assumed: water at 10 degC"));
  CHECK(lines(text) <= runnel::report::most_brief_one);
}

TEST_CASE("a need that more pipe meets shows the next sizes side by side") {
  const std::string text = brief(line(5.0, "PE100 SDR11 25 mm", 1.0));
  CHECK_THAT(text, Catch::Contains("Do this") && Catch::Contains("in the next sizes") &&
                       Catch::Contains("PE100 SDR11 32 mm") && Catch::Contains("enough"));
  CHECK(lines(text) <= runnel::report::most_brief_one);
  // Where the spring is all there is, no size helps and none is shown.
  CHECK_THAT(brief(line(0.3, "PE100 SDR11 50 mm", 1.0)), !Catch::Contains("in the next sizes"));
}

TEST_CASE("of two needs at one place the table shows the one that is missed") {
  network::Model m = village(2, "tap ");
  m.asks = {sample::ask_flow("tap 1", 0.01)};
  network::Ask pressure;
  pressure.at = "tap 1";
  pressure.kind = network::AskKind::pressure;
  pressure.pressure = runnel::Pressure::bar(9.0);
  m.asks.push_back(pressure);
  CHECK_THAT(brief(m), Catch::Contains("900.0 kPa  NO"));
  m.asks = {sample::ask_flow("tap 1", 9.0), pressure};
  CHECK_THAT(brief(m), Catch::Contains("9.00  NO"));
}

TEST_CASE("where what comes does not last the table has a column for later") {
  // A tank that a trickle fills gives two troughs far more than that.
  network::Model m = sample::system();
  m.boxes[0].yield = Flow::litres_per_second(0.1);
  network::Tank tank;
  tank.name = "tank";
  tank.shape = network::UprightCylinder{Length::metres(2.0)};
  tank.floor = Length::metres(30.0);
  tank.lip = tank.inlet = Length::metres(32.0);
  tank.level = Length::metres(31.5);
  network::Pipeline in = m.pipelines[0], out = m.pipelines[0];
  in.name = "in";
  in.to = "tank";
  in.survey = {{Length::metres(0), m.pipelines[0].survey.front().elevation}, {Length::metres(100), tank.lip}};
  out.name = "out";
  out.from = "tank";
  out.survey = {{Length::metres(0), Length::metres(30.2)}, {Length::metres(100), m.outlets[0].elevation}};
  m.tanks = {tank};
  m.pipelines = {in, out};
  m.asks = {sample::ask_flow("trough", 0.5)};
  const std::string text = brief(m);
  INFO(text);
  CHECK_THAT(text,
             Catch::Contains("at first") && Catch::Contains("later") && Catch::Contains("not for long"));
  // What the tank gets is what its line brings, not what is left of it.
  const auto row = text.find("\n  tank ");
  REQUIRE(row != std::string::npos);
  CHECK(text.substr(row, 40).find("0.100") != std::string::npos);
  CHECK(text.substr(row, 40).find('-') == std::string::npos);
  // Where all of it lasts there is one column.
  m.boxes[0].yield = Flow::litres_per_second(5.0);
  m.outlets[0].opening = Length::millimetres(12.0);
  m.outlets[0].loss = 5.0;
  CHECK_THAT(brief(m), !Catch::Contains("at first") && Catch::Contains("gets"));
}

// The tank holds 12.7 m3 to its float valve, and 20 m3 are drawn in two hours; in August more is drawn than
// comes.
TEST_CASE("what the sentence tells is not told a second time as another thing") {
  const auto model = runnel::input::read_model(R"(runnel: 1
boxes:
  spring: {yield: 0.5 L/s, outlet: 100 m, lip: 101 m}
tanks:
  T:
    shape: {upright_cylinder: {diameter: 3 m}}
    floor: 80 m
    lip: 82 m
    inlet: 81.9 m
    level: 81 m
    float_valve: {shuts_at: 81.8 m, opens_at: 81.6 m, loss: 6}
    draws: [{flow: 20000 L/day, hours: [6, 8]}]
pipelines:
  main: {from: spring, to: T, pipe: PE100 SDR11 50 mm, survey: {unit: m, points: [[0, 100], [100, 90], [200, 81.9]]}}
year:
  yields: {spring: [0.5 L/s, 0.5 L/s, 0.5 L/s, 0.5 L/s, 0.5 L/s, 0.4 L/s, 0.3 L/s, 0.2 L/s, 0.3 L/s, 0.4 L/s, 0.5 L/s, 0.5 L/s]}
  demands: {T: [0.1 L/s, 0.1 L/s, 0.1 L/s, 0.1 L/s, 0.1 L/s, 0.25 L/s, 0.3 L/s, 0.3 L/s, 0.3 L/s, 0.2 L/s, 0.1 L/s, 0.1 L/s]}
)",
                                               "tank.yaml");
  REQUIRE(model);
  const std::string text = brief(*model.value);
  CHECK_THAT(
      text, Catch::Contains("T runs dry in August") && Catch::Contains("One more thing is wrong; see below"));
  const std::string below = text.substr(text.find("Also wrong"));
  CHECK_THAT(below, Catch::Contains("T gets 16.1 m3 a day") && !Catch::Contains("August"));
}

TEST_CASE("the first act is told however little room there is") {
  network::Model m = line(5.0, "PE100 SDR11 25 mm", 1.0);
  auto& survey = m.pipelines[0].survey;
  const double top_m = survey.front().elevation.metres(), end_m = survey.back().elevation.metres();
  survey.clear();
  for (int i = 0; i <= 60; ++i)
    survey.push_back({Length::metres(10.0 * i),
                      Length::metres(top_m + (end_m - top_m) * i / 60.0 + (i % 2 == 1 ? 1.0 : 0.0))});
  const std::string text = brief(m);
  INFO(text);
  CHECK_THAT(text, Catch::Contains("Do this\n  1. "));
}

TEST_CASE("long lists and long names fit the screen uncut") {
  for (const int taps : {3, 12, 40}) {
    const std::string text =
        brief(village(taps, "the tap of the house that stands by the old mill, number "));
    INFO(text);
    CHECK(lines(text) <= runnel::report::most_brief_all);
    CHECK(text.find("...") == std::string::npos);
    CHECK_THAT(text, Catch::Contains("NO"));
  }
}

TEST_CASE("a saw of many high points keeps to the screen") {
  network::Model m = line(1.0, "PE100 SDR11 50 mm", 0.8);
  auto& survey = m.pipelines[0].survey;
  survey.clear();
  for (int i = 0; i <= 60; ++i)
    survey.push_back(
        {Length::metres(10.0 * i), Length::metres(49.0 - 49.0 * i / 60.0 + (i % 2 == 1 ? 1.0 : 0.0))});
  const std::string text = brief(m);
  INFO(text);
  CHECK(lines(text) <= runnel::report::most_brief_one);
  CHECK(text.find("...") == std::string::npos);
}

TEST_CASE("all of it is told with -v") {
  TextOptions all;
  all.every_point = true;
  const std::string text = brief(line(1.0, "PE100 SDR11 50 mm", 0.8), all);
  for (const char* heading :
       {"\nWhere the water goes\n", "\nAlong main\n", "\nWorked out with\n", "\nChecked\n"})
    CHECK_THAT(text, Catch::Contains(heading));
}

TEST_CASE("hostile names do no harm in the short answer") {
  network::Model m = line(1.0, "PE100 SDR11 50 mm", 5.0);
  m.outlets[0].name = m.pipelines[0].to = m.asks[0].at = "a\x1b[2J{0}\n[forged]";
  const std::string text = brief(m);
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find("\n[forged]") == std::string::npos);
  CHECK_THAT(text, Catch::Contains("a\\x1b[2J{0}"));
}

TEST_CASE("no first water is promised where a need says that nothing comes") {
  auto answered = runnel::verdict::answer_model(line(0.3, "PE100 SDR11 50 mm", 0.2));
  REQUIRE(answered);
  CHECK_THAT(runnel::report::answer_text(*answered.value, {}), Catch::Contains("First water at trough"));
  runnel::verdict::AskResult& need = answered.value->runs.front().verdict.asks.front();
  need.met = false;
  need.got.reset();
  CHECK_THAT(runnel::report::answer_text(*answered.value, {}), !Catch::Contains("First water"));
}

TEST_CASE("a comparison sends nobody to what stands elsewhere") {
  auto answered = runnel::verdict::answer_model(line(0.3, "PE100 SDR11 50 mm", 0.2));
  REQUIRE(answered);
  runnel::verdict::Run& run = answered.value->runs.front();
  runnel::Finding weak;
  weak.code = "static-above-rating";
  weak.message = "It is too weak.";
  run.verdict.findings.assign(2, weak);
  run.verdict.ruling = runnel::verdict::Ruling::fails;
  const std::string alone = runnel::verdict::flow_sentence(run.system, run.state, run.verdict).text();
  CHECK_THAT(alone, Catch::Contains("It is too weak. One more thing is wrong; see below."));
  const std::string compared = runnel::report::compare_text({{"one", &run, 0.0, {}}}, {});
  CHECK_THAT(compared, Catch::Contains("It is too weak. One more thing is wrong. "));
  CHECK_THAT(compared, !Catch::Contains("see below"));
}
