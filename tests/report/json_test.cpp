// The JSON answer, read back by a JSON reader.
#include "runnel/report/json.h"

#include <catch2/catch.hpp>
#include <limits>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "support/rooms.h"
#include "verdict/sample.h"

using nlohmann::json;
using runnel::report::flow_json;
using sample::Sample;

namespace {

json answer(const Sample& s, const std::string& setting = "normal") {
  const auto verdict = runnel::verdict::judge_flow(s.system, s.state);
  return json::parse(flow_json({support::kept(s.system), s.state, verdict, setting}));
}

}  // namespace

TEST_CASE("the answer has the keys its readers rely on and SI figures") {
  Sample s = sample::make();
  s.system.asks = {sample::ask_flow("trough", 0.5)};
  const json j = answer(s, "dry month");
  CHECK(j.at("runnel").is_string());
  CHECK(j.at("model") == "sample");
  CHECK(j.at("setting") == "dry month");
  CHECK(j.at("outcome") == "settled");
  CHECK(j.at("friction") == json{{"law", "darcy-weisbach"}});
  const json& box = j.at("places").at("spring");
  CHECK(box.at("kind") == "box");
  CHECK(box.at("level_m") == 50.0);
  CHECK(box.at("spill_m3s") == 0.2e-3);
  CHECK(box.at("inflow_m3s") == 1e-3);
  CHECK(j.at("places").at("trough").at("flow_m3s") == 0.8e-3);
  const json& line = j.at("pipelines").at("main");
  CHECK(line.at("flow_m3s") == 0.8e-3);
  CHECK(line.at("state") == "full");
  CHECK(line.at("governed_by_station_m").is_null());
  CHECK(line.at("points").size() == 3);
  CHECK(line.at("points")[1] == json{{"station_m", 100.0},
                                     {"elevation_m", 20.0},
                                     {"grade_m", 25.0},
                                     {"pressure_head_m", 5.0},
                                     {"static_head_m", 30.0}});
  CHECK(line.at("reaches").size() == 2);
  CHECK(line.at("reaches")[0].at("state") == "full");
  CHECK(line.at("air").at("starts") == true);
  CHECK(j.at("checked").at("consistent") == true);
  CHECK(j.at("verdict").at("good") == true);
  CHECK(j.at("verdict").at("asks")[0].at("met") == true);
  CHECK(j.at("verdict").at("asks")[0].at("margin").at("flow_m3s").get<double>() ==
        Approx(0.3e-3).epsilon(1e-12));
  CHECK(j.at("findings").is_array());
}

TEST_CASE("Hazen-Williams names its constants") {
  Sample s = sample::make();
  s.system.friction.law = runnel::losses::Law::hazen_williams;
  CHECK(answer(s).at("friction") ==
        json{{"law", "hazen-williams"}, {"k", 10.67}, {"n", 1.852}, {"m", 4.8704}});
}

TEST_CASE("what is not there is null, not zero") {
  Sample s = sample::make();
  s.state.boxes[0].level_m.reset();
  s.state.boxes[0].top_part_full = true;
  s.state.lines[0].points[1].grade_m.reset();
  const json j = answer(s);
  CHECK(j.at("places").at("spring").at("level_m").is_null());
  CHECK(j.at("places").at("spring").at("top_of_line") == "part-full");
  CHECK(j.at("pipelines").at("main").at("points")[1].at("grade_m").is_null());
}

TEST_CASE("a number that is not finite is refused") {
  for (double bad : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    Sample s = sample::make();
    s.state.lines[0].reaches[1].loss_m = bad;
    const auto verdict = runnel::verdict::judge_flow(s.system, s.state);
    CHECK_THROWS_AS(flow_json({support::kept(s.system), s.state, verdict, "normal"}), std::logic_error);
  }
}

TEST_CASE("figures of a try that did not settle are left out") {
  Sample s = sample::make();
  s.state.outcome = runnel::steady::Outcome::not_finite;
  s.state.lines[0].flow_m3s = std::numeric_limits<double>::quiet_NaN();
  const json j = answer(s);
  CHECK(j.at("outcome") == "not-finite");
  CHECK_FALSE(j.contains("places"));
  CHECK_FALSE(j.contains("pipelines"));
  CHECK(j.at("findings")[0].at("code") == "no-answer");
}

TEST_CASE("names of any kind survive the way to JSON and back") {
  Sample s = sample::make();
  const std::string name = "\"}, \x1b[31m </script> {0}\n\\";
  s.system.boxes[0].name = s.state.boxes[0].name = s.system.pipelines[0].from = name;
  CHECK(answer(s).at("places").contains(name));
}

TEST_CASE("input findings carry their marks") {
  runnel::Finding f;
  f.code = "unknown-key";
  f.message = "{0} is too much";
  f.figures = {{runnel::Kind::length, 2.0}};
  f.mark = {"m.yaml", 3, 5, 2};
  f.other = runnel::Mark{"m.yaml", 1, 1, 1};
  f.other_note = "first written here";
  const json j = json::parse(runnel::report::input_json({f}));
  CHECK(j.at("outcome") == "input");
  const json& out = j.at("findings")[0];
  CHECK(out.at("at") == json{{"file", "m.yaml"}, {"line", 3}, {"column", 5}, {"length", 2}});
  CHECK(out.at("other").at("note") == "first written here");
  CHECK(out.at("message") == "2.0 m is too much");
}
