// What would make a tank last: what is tried, in which order, and what is said of it.
#include "runnel/verdict/store_cures.h"

#include <catch2/catch.hpp>

#include "runnel/filling/tank_curve.h"
#include "runnel/input/read_model.h"
#include "runnel/network/change.h"
#include "runnel/units/print.h"

namespace {

using namespace runnel;
using network::Model;

Model two_tanks(const std::string& shape = "{upright_cylinder: {diameter: 2 m}}") {
  auto model = input::read_model(R"(runnel: 1
boxes:
  spring: {yield: 0.1 L/s, outlet: 100 m, lip: 100.6 m}
tanks:
  up: {shape: )" + shape + R"(, floor: 80 m, lip: 82 m, inlet: 81.9 m, level: 81 m,
       float_valve: {shuts_at: 81.8 m, opens_at: 81 m, loss: 6}}
  low: {shape: {upright_cylinder: {diameter: 1 m}}, floor: 60 m, lip: 62 m, inlet: 61.9 m, level: 61.95 m}
pipelines:
  feed: {from: spring, to: up, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 100], [200, 81.9]]}}
  down: {from: up, to: low, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 80.1], [200, 61.9]]}}
)",
                                 "test.yaml");
  REQUIRE(model);
  return std::move(*model.value);
}

std::string said(const verdict::Sentence& s) {
  return units::render(s.text(), s.figures(), units::UnitSystem::si);
}

std::string cure(const Model& model, const std::function<bool(const Model&)>& all_comes) {
  return said(verdict::store_cure(model, "up", all_comes));
}

}  // namespace

TEST_CASE("what makes a tank last is tried one by one") {
  const Model model = two_tanks();
  CHECK(cure(model, [](const Model& m) { return m.tanks[0].float_valve->opens_at.metres() > 81.7; }) ==
        "Let the float valve of up open just below where it shuts: then all that is wanted comes.");
  // The lower tank is full with its float shut, whatever level it was drawn at.
  CHECK(cure(model,
             [](const Model& m) {
               const auto& low = m.tanks[1];
               return low.float_valve && low.level == low.float_valve->shuts_at && low.level < low.lip;
             }) ==
        "Put a float valve on low, so that it takes no more than it needs: then all that is wanted "
        "comes.");
  CHECK(cure(model, [](const Model& m) { return m.boxes[0].yield.si() > 1.9e-4; }) ==
        "Only more water helps: with twice what the springs give all that is wanted comes.");
  CHECK(cure(model, [](const Model& m) { return m.boxes[0].yield.si() > 1.2e-4; }) ==
        "Only more water helps: with a quarter more than the springs give all that is wanted comes.");
  CHECK(cure(model, [](const Model&) { return false; }) ==
        "Draw less: neither a larger tank nor twice as much from the springs is enough by itself.");
}

TEST_CASE("taps that take more than is asked are throttled for a trial") {
  Model model = two_tanks();
  network::Outlet tap;
  tap.name = "tap";
  model.outlets.push_back(tap);
  const auto throttled = [](const Model& m) { return !m.outlets[0].draws.empty(); };
  // Nothing is asked there, so nobody knows how far.
  CHECK(cure(model, throttled).starts_with("Draw less"));
  network::Ask ask;
  ask.at = "tap";
  ask.flow = Flow::litres_per_second(0.1);
  model.asks.push_back(ask);
  CHECK(cure(model, [](const Model& m) {
          return m.outlets[0].draws.size() == 1 && m.outlets[0].draws[0].flow.si() == Approx(1e-4);
        }) == "Throttle tap, so that no more runs there than is asked: then all that is wanted comes.");
}

TEST_CASE("at low water larger pipe below the tank is tried before anything else") {
  const Model model = two_tanks();
  const auto low = [&](const std::function<bool(const Model&)>& all_comes) {
    const auto act = verdict::low_water_cure(model, "up", all_comes);
    return act ? said(*act) : std::string("nothing");
  };
  const auto larger = [](const Model& m, std::size_t line) {
    return m.pipelines[line].pipes[0].pipe.bore.metres() > 0.03;
  };
  CHECK(low([&](const Model& m) { return larger(m, 1) || m.boxes[0].yield.si() > 1.9e-4; }) ==
        "Lay PE100 SDR11 40 mm in down: then all that is wanted comes.");
  CHECK(low([&](const Model& m) { return larger(m, 0); }) == "nothing");  // above the tank
  CHECK(
      low([](const Model& m) { return m.tanks[0].float_valve->loss > 500.0; }) ==
      "Throttle the way into up before its float valve, to a loss K of 1000: then all that is wanted comes.");
  CHECK(low([&](const Model& m) { return m.boxes[0].yield.si() > 1.9e-4; }) ==
        "Only more water helps: with twice what the springs give all that is wanted comes.");
}

TEST_CASE("where no one thing is enough, two are tried together") {
  Model model = two_tanks();
  network::Outlet tap;
  tap.name = "tap";
  model.outlets.push_back(tap);
  network::Ask ask;
  ask.at = "tap";
  ask.flow = Flow::litres_per_second(0.1);
  model.asks.push_back(ask);
  const auto hump = [](double station_m, double elevation_m) {
    return network::SurveyPoint{Length::metres(station_m), Length::metres(elevation_m)};
  };
  model.pipelines[1].survey = {hump(0.0, 80.1), hump(50.0, 75.0), hump(100.0, 80.6), hump(200.0, 61.9)};
  const auto throttled = [](const Model& m) { return !m.outlets[0].draws.empty(); };
  const auto vented = [](const Model& m) {
    return m.pipelines[1].parts.size() == 1 && m.pipelines[1].parts[0].kind == network::PartKind::air_valve &&
           m.pipelines[1].parts[0].at.metres() == 100.0;
  };
  const auto act =
      verdict::low_water_cure(model, "up", [&](const Model& m) { return throttled(m) && vented(m); });
  REQUIRE(act);
  CHECK(
      said(*act) ==
      "Throttle tap, so that no more runs there than is asked, and put an air valve at 100.0 m of down: then "
      "all that is wanted comes.");
  // One that is there already is not put again.
  network::put_air_valve(model.pipelines[1], 100.0);
  const auto dug = [](const Model& m) { return m.pipelines[1].survey[2].elevation.metres() < 79.8; };
  const auto other =
      verdict::low_water_cure(model, "up", [&](const Model& m) { return throttled(m) && dug(m); });
  REQUIRE(other);
  CHECK(said(*other) ==
        "Throttle tap, so that no more runs there than is asked, and dig the high point at 100.0 m of down "
        "down "
        "by 1.00 m: then all that is wanted comes.");
}

TEST_CASE("a high point before a tank is dug, and its air let out with it") {
  Model model = two_tanks();
  const auto point = [](double station_m, double elevation_m) {
    return network::SurveyPoint{Length::metres(station_m), Length::metres(elevation_m)};
  };
  model.pipelines[0].survey = {point(0.0, 100.0), point(50.0, 90.0), point(100.0, 102.0), point(200.0, 81.9)};
  const auto dug = [](const Model& m) { return m.pipelines[0].survey[2].elevation.metres() < 99.5; };
  CHECK(cure(model, dug) ==
        "Dig the high point at 100.0 m of feed down by 3.00 m: then all that is wanted comes.");
  CHECK(cure(model, [&](const Model& m) { return dug(m) && !m.pipelines[0].parts.empty(); }) ==
        "Dig the high point at 100.0 m of feed down by 3.00 m, and put an air valve at 100.0 m of feed: then "
        "all "
        "that is wanted comes.");
}

TEST_CASE("larger pipe to a tank that runs empty is tried, and things besides those that are told") {
  const Model model = two_tanks();
  const auto wide = [](const Model& m) { return m.pipelines[0].pipes[0].pipe.bore.metres() > 0.035; };
  CHECK(cure(model, wide) == "Lay PE100 SDR11 50 mm in feed: then all that is wanted comes.");
  Model mended = model;
  mended.pipelines[1].pipes[0].pipe.rating = Pressure::bar(6.0);
  const auto both = [&](const Model& m) {
    return wide(m) && m.pipelines[1].pipes[0].pipe.rating.si() == 6e5;
  };
  CHECK(said(verdict::store_cure(model, "up", both, mended)) ==
        "Lay PE100 SDR11 50 mm in feed: then, with the other things done, all that is wanted comes.");
  const auto twice = [&](const Model& m) {
    return m.boxes[0].yield.si() > 1.9e-4 && m.pipelines[1].pipes[0].pipe.rating.si() == 6e5;
  };
  CHECK(said(verdict::store_cure(model, "up", twice, mended)) ==
        "Only more water helps: with twice what the springs give and the other things done all that is "
        "wanted comes.");
}

TEST_CASE("one thing alone is changed for each trial") {
  const Model model = two_tanks();
  int trials = 0;
  cure(model, [&](const Model& m) {
    ++trials;
    const bool opens = m.tanks[0].float_valve->opens_at != model.tanks[0].float_valve->opens_at;
    const bool has = m.tanks[1].float_valve.has_value();
    const auto across = [](const Model& one) {
      return std::get<network::UprightCylinder>(one.tanks[0].shape).diameter.metres();
    };
    const bool larger = across(m) > across(model), more = m.boxes[0].yield > model.boxes[0].yield;
    const bool wider = m.pipelines[0].pipes[0].pipe.bore > model.pipelines[0].pipes[0].pipe.bore;
    CHECK(opens + has + larger + more + wider == 1);
    return false;
  });
  CHECK(trials == 7);
}

TEST_CASE("a tank of any shape is made larger by its plan") {
  const auto volume_ratio = [](const std::string& shape, double times) {
    const Model model = two_tanks(shape);
    double ratio = 0.0;
    const std::string act = cure(model, [&](const Model& m) {
      ratio = filling::TankCurve(m.tanks[0].shape).volume_m3(1.0) /
              filling::TankCurve(model.tanks[0].shape).volume_m3(1.0);
      return ratio > 0.99 * times;
    });
    CHECK(act == std::string("Make up ") + (times > 2.0 ? "four times" : "twice") +
                     " as large: then all that is wanted comes.");
    return ratio;
  };
  for (const char* shape :
       {"{upright_cylinder: {diameter: 2 m}}", "{lying_cylinder: {diameter: 2 m, length: 3 m}}",
        "{box: {length: 3 m, width: 2 m}}",
        "{frustum: {bottom_diameter: 2 m, top_diameter: 3 m, height: 2 m}}"})
    for (const double times : {2.0, 4.0}) {
      INFO(shape);
      CHECK(volume_ratio(shape, times) == Approx(times));
    }
}

TEST_CASE("advice that is put in keeps the figures of the message") {
  Finding finding;
  finding.message = "{0} come";
  finding.figures = {{Kind::flow, 1e-4}};
  finding.advice = "dig {1}";
  verdict::advise(finding, verdict::Sentence().say("Lay ").figure(Kind::length, 2.0));
  CHECK(units::render(finding.message, finding.figures, units::UnitSystem::si) == "0.100 L/s come");
  CHECK(units::render(finding.advice, finding.figures, units::UnitSystem::si) == "Lay 2.0 m");
}
