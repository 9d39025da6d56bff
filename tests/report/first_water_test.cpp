// The first water in the text and in the JSON of `flow`, on an answer written by hand.
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "runnel/report/json.h"
#include "runnel/report/text.h"
#include "runnel/report/text_parts.h"
#include "support/rooms.h"
#include "verdict/sample.h"

using nlohmann::json;
using runnel::Flow;
using runnel::Length;
using sample::Sample;

namespace {

// Bore of 50 mm along two straight legs (100 m on, 29 m down; 100 m on, 20 m down).
const double bore_m3 = 3.14159265358979 / 4.0 * 0.05 * 0.05 * (std::hypot(100, 29) + std::hypot(100, 20));

json answer(const Sample& s) {
  const auto verdict = runnel::verdict::judge_flow(s.system, s.state);
  return json::parse(runnel::report::flow_json({support::kept(s.system), s.state, verdict, "normal"}));
}

std::string text(const Sample& s) {
  const auto verdict = runnel::verdict::judge_flow(s.system, s.state);
  return runnel::report::flow_text({support::kept(s.system), s.state, verdict, "normal"}, {});
}

}  // namespace

TEST_CASE("first water: the bore over the yield, at the end of the way and of its pipeline") {
  const Sample s = sample::make();
  const json j = answer(s);
  for (const json& at : {j.at("starts")[0], j.at("pipelines").at("main").at("air")}) {
    // By hand: bore over 1 L/s; rounding of a few operations.
    CHECK(at.at("first_water_s").get<double>() == Approx(bore_m3 / 1e-3).epsilon(1e-12));
    // The line only falls: a trickle runs ahead, part-full at 2 to 3 m/s, as a litre a second does down one
    // in four.
    const double length_m = std::hypot(100, 29) + std::hypot(100, 20);
    CHECK(at.at("first_water_soonest_s").get<double>() > length_m / 3.0);
    CHECK(at.at("first_water_soonest_s").get<double>() < length_m / 2.0);
    CHECK(at.at("first_water_rate_m3s") == 1e-3);
    CHECK_THAT(at.at("first_water_note").get<std::string>(), Catch::Contains("all that the spring yields"));
  }
  // 404.7 s
  CHECK_THAT(text(s), Catch::Contains("first water at trough after 80.1 s to 6.7 min at 1.00 L/s"));
}

TEST_CASE("no first water where it does not start, or where no yield is known") {
  Sample s = sample::make();
  s.system.outlets[0].elevation = Length::metres(60);
  s.system.pipelines[0].survey.back().elevation = Length::metres(60);  // above the lip at 50 m
  json start = answer(s).at("starts")[0];
  CHECK(start.at("verdict") == "blocked");
  CHECK(start.at("first_water_s").is_null());
  CHECK(start.at("first_water_soonest_s").is_null());
  CHECK(start.at("first_water_note") == "none: it does not start");
  CHECK_THAT(text(s), !Catch::Contains("first water"));

  s = sample::make();
  s.system.boxes[0].yield = Flow();
  s.state.boxes[0].inflow_m3s = 0.0;
  start = answer(s).at("starts")[0];
  CHECK(start.at("first_water_s").is_null());
  CHECK(start.at("first_water_note") == "none: no yield is known above it");
  s.state.boxes[0].inflow_m3s = 2e-3;  // a box without a spring fills at what runs into it
  CHECK(answer(s).at("starts")[0].at("first_water_s").get<double>() == Approx(bore_m3 / 2e-3).epsilon(1e-12));
}

TEST_CASE("the two times of the first water are told as one where they agree") {
  runnel::verdict::Arrival arrival;
  arrival.ends.resize(1);
  arrival.ends[0].full_bore_s = 7200.0;
  const auto words = [&](std::optional<double> soonest_s) {
    arrival.ends[0].earliest_s = soonest_s;
    return runnel::report::first_water_words(arrival, "tank", {});
  };
  CHECK(words(7200.0) == "first water at tank after 2 h");
  CHECK(words(0.0) == "first water at tank within 2 h");
  CHECK(words(std::nullopt) == "first water at tank within 2 h");
  CHECK(words(1800.0) == "first water at tank after 30 min to 2 h");
}
