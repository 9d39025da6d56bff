// The answers of `fill`, on a history written by hand.
#include "runnel/report/fill.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "support/rooms.h"
#include "verdict/sample.h"

using nlohmann::json;
using runnel::Length;
namespace filling = runnel::filling;
namespace report = runnel::report;

namespace {

struct Run {
  runnel::network::Model system = sample::system();
  filling::FillHistory history;
  filling::FillOptions options;

  Run() {
    filling::StorageHistory tank;
    tank.name = "barn, \"old\"";
    tank.start_level_m = 10.0;
    tank.end_level_m = 12.0;
    tank.capacity_m3 = 8.0;
    tank.full_after_s = 172800.0;
    tank.start_m3 = 2.0;
    tank.series = {{0.0, 10.0, 1e-3, 0.0, 0.0}, {172800.0, 12.0, 5e-4, 2.5e-4, 1.25e-4, 24.0, 12.0, 6.0}};
    history.places = {
        {.name = "yard tap", .kind = runnel::network::PlaceKind::outlet, .series = {{3600.0, 0.5, 1800.0}}},
        {.name = "upper box", .kind = runnel::network::PlaceKind::box, .series = {{3600.0, 0.25, 900.0}}}};
    history.duration_s = 172800.0;
    history.storages = {tank};
    history.events = {{172800.0, filling::EventKind::float_shuts, tank.name, "", std::nullopt, 0.0},
                      {100.0, filling::EventKind::line_crest_governs, "", "main", 40.0, 0.0}};
  }
  template <class Writer>
  auto with(Writer&& writer) const {
    const auto verdict = runnel::verdict::judge_fill(support::kept(system), history, {});
    return writer(report::FillAnswer{support::kept(system), history, verdict, "normal", options});
  }
  json answer() const { return json::parse(with(report::fill_json)); }
  std::string text(bool all = false) const {
    return with([&](const report::FillAnswer& a) { return report::fill_text(a, {.every_point = all}); });
  }
};

}  // namespace

TEST_CASE("fill: JSON has the keys its readers rely on") {
  Run run;
  json tank = run.answer().at("tanks").at("barn, \"old\"");
  CHECK(tank.at("full_after_s") == 172800.0);
  CHECK(tank.at("never").is_null());
  CHECK(tank.at("events") == json::parse(R"([{"t_s": 172800.0, "what": "float valve shuts"}])"));
  CHECK(tank.at("series") == json::parse("[[0.0, 10.0, 1e-3, 0.0], [172800.0, 12.0, 5e-4, 2.5e-4]]"));
  const json line = run.answer().at("events")[0];  // events of lines stand apart
  CHECK(line.at("pipeline") == "main");
  CHECK(line.at("station_m") == 40.0);

  run.history.storages[0].full_after_s.reset();
  run.history.storages[0].never_m = 11.25;
  tank = run.answer().at("tanks").at("barn, \"old\"");
  CHECK(tank.at("full_after_s").is_null());
  CHECK(tank.at("never") == 11.25);
}

TEST_CASE("fill: CSV quotes what needs it, one row an instant") {
  CHECK(
      Run().with(report::fill_csv) ==
      "t_s,place,level_m,inflow_m3s,spill_m3s,drawn_m3s,day,clock,kind,stored_m3,in_m3,spilled_m3,drawn_m3\n"
      "0,\"barn, \"\"old\"\"\",10,0.001,0,0,1,00:00:00,tank,2,0,0,0\n"
      "172800,\"barn, \"\"old\"\"\",12,0.0005,0.00025,0.000125,3,00:00:00,tank,8,24,12,6\n"
      "3600,yard tap,,,,0.5,1,01:00:00,outlet,,,,1800\n"
      "3600,upper box,,,0.25,,1,01:00:00,box,,,900,\n");
}

TEST_CASE("fill: text says when it is full, and never if it is not") {
  Run run;
  CHECK_THAT(run.text(), Catch::Contains("full after") && Catch::Contains("2 days") &&
                             Catch::Contains("float valve shuts") &&
                             Catch::Contains("line runs part-full below a high point at 40.0 m"));
  CHECK_THAT(run.text(true), Catch::Contains("What happens when") && Catch::Contains("Worked out with"));
  run.history.storages[0].full_after_s.reset();
  run.history.storages[0].never_m = 11.25;
  CHECK_THAT(run.text(), Catch::Contains("never"));
}

TEST_CASE("fill: a run that found no answer says why and shows no figures") {
  Run run;
  run.history.outcome = filling::FillOutcome::no_answer;
  run.history.duration_s = 172800.5;
  CHECK_THAT(run.text(), Catch::Contains("The flows did not settle, 2 days after the start.") &&
                             !Catch::Contains("\nTanks\n"));
  CHECK(run.answer().at("message") == "the flows did not settle, 2 days after the start");
  CHECK(run.answer().at("outcome") == "no answer");
}

TEST_CASE("fill: a run that gave up says how far it came and nothing favourable") {
  Run run;
  run.history.outcome = filling::FillOutcome::gave_up;
  run.history.duration_s = 3600.0;
  CHECK_THAT(run.text(), Catch::Contains("gave up") && Catch::Contains("60 min after the start.") &&
                             !Catch::Contains("full after") && !Catch::Contains("\nTanks\n"));
  CHECK(run.answer().at("outcome") == "gave up");
}

TEST_CASE("fill: what happens again is told once, with how often and when last") {
  Run run;
  run.history.duration_s = 86400.0 * 4;
  run.history.events.clear();
  for (int i = 0; i < 14; ++i) {
    const double opens_s = 3600.0 * (3.5 + 6.0 * i);
    run.history.events.push_back({opens_s, filling::EventKind::float_opens, "tank", "", std::nullopt, 0.0});
    if (i < 2)
      run.history.events.push_back({opens_s + 60.0, filling::EventKind::runs_low, "tank", "main", {}, 0.0});
  }
  const std::string text = run.text();
  CHECK_THAT(text, Catch::Contains("3.5 h, tank: float valve opens; 14 times, the last after 3.4 days") &&
                       Catch::Contains("runs full at the top (main); again after 9.5 h"));
  CHECK(text.find("float valve opens") == text.rfind("float valve opens"));
  const std::string all = run.text(true);
  CHECK(all.find("float valve opens") != all.rfind("float valve opens"));
}

TEST_CASE("fill: many tanks, taps and events with long names fit one screen uncut") {
  for (const bool one_line : {true, false}) {
    Run run;
    if (!one_line) {
      run.system.pipelines.push_back(run.system.pipelines.front());
      run.system.pipelines.back().name = "second";
      run.system.outlets.push_back(run.system.outlets.front());
      run.system.pipelines.back().to = run.system.outlets.back().name = "lower trough";
    }
    const std::string long_name = "the one by the old mill that stands above the lower meadow, number ";
    for (int i = 0; i < 60; ++i) {
      filling::StorageHistory tank = run.history.storages.front();
      tank.name = long_name + std::to_string(i);
      if (i == 57) tank.emptied_at_s = 7200.0;
      run.history.storages.push_back(tank);
      filling::PlaceHistory tap = run.history.places.front();
      tap.name = long_name + std::to_string(i);
      run.history.places.push_back(tap);
      for (int n = 0; n < 3; ++n)
        run.history.events.push_back(
            {3600.0 * (i + n), filling::EventKind::float_opens, tank.name, "", std::nullopt, 0.0});
    }
    const std::string text = run.text();
    INFO(text);
    CHECK(std::count(text.begin(), text.end(), '\n') <= (one_line ? 30 : 45));
    CHECK(text.find("...") == std::string::npos);
    CHECK_THAT(text, Catch::Contains(" more; -v shows all"));
    // The tank in trouble is not among those left out.
    CHECK_THAT(text, Catch::Contains("number 57"));
    const std::string all = run.text(true);
    for (const char* place : {"number 0", "number 31", "number 59"}) CHECK_THAT(all, Catch::Contains(place));
    CHECK_THAT(all, !Catch::Contains("-v shows"));
  }
}
