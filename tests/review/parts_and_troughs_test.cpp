// Troughs for a herd, and how far apart the parts of a line stand, against arithmetic that a person can do.
#include <catch2/catch.hpp>

#include "proposal_model.h"
#include "runnel/base/constants.h"
#include "runnel/review/measure.h"
#include "runnel/steady/state.h"

namespace {

using namespace runnel::review;
using runnel::network::System;

std::vector<Measured> take(const std::string& name, const System& system) {
  const Measure* measure = find_measure(name);
  if (!measure || !measure->take) throw std::runtime_error("no measure " + name);
  const auto state = runnel::steady::solve(system);
  const auto verdict = runnel::verdict::judge_flow(system, state);
  return measure->take({system, state, verdict});
}

double only(const std::vector<Measured>& all) {
  REQUIRE(all.size() == 1);
  REQUIRE(all[0].missing == "");
  return all[0].si;
}

constexpr double gallon_m3 = 3.785411784e-3;

/// 120 beef cattle at 15 gal a day [umaine-lesson7]: 1,800 gal, the day's need of a published example
/// [nrcs-sd2006-1]. A spring of 4 gal/min and a round tank of the volume given, 2 m deep.
std::string herd(double tank_gal, const std::string& tank_more = "", const std::string& parts = "",
                 const std::string& shape = "") {
  const double diameter_m = std::sqrt(tank_gal * gallon_m3 / 2.0 / (runnel::pi / 4.0));
  const std::string round = "{upright_cylinder: {diameter: " + std::to_string(diameter_m) + " m}}";
  return "runnel: 1\nboxes:\n  spring: {yield: 4 gal/min, outlet: 100 m, lip: 100.5 m}\ntanks:\n  tank: "
         "{shape: " +
         (shape.empty() ? round : shape) + ", floor: 80 m, lip: 82 m, inlet: 82.1 m" + tank_more +
         ", draws: [{for: beef cattle, head: 120}]}\npipelines:\n  main: {from: spring, to: tank, pipe: "
         "PE100 "
         "SDR17 63 mm, survey: {unit: m, points: [[0, 100], [900, 82.1]]}" +
         parts + "}\n";
}

}  // namespace

// Published: 100 head that drink 1,800 gal a day take 900 gal in an hour; a spring of 4 gal/min brings 240
// of them, so the tank holds 660 gal [nrcs-sd2006-1].
TEST_CASE("the published tank of 660 gallons is just enough for its herd") {
  CHECK(only(take("water for a herd at once", proposal::read(herd(660)))) == Approx(1.0).epsilon(1e-5));
  CHECK(only(take("water for a herd at once", proposal::read(herd(560)))) ==
        Approx(800.0 / 900.0).epsilon(1e-5));
  CHECK(only(take("water held over daily need of the stock", proposal::read(herd(450)))) ==
        Approx(0.25).epsilon(1e-5));
}

TEST_CASE("the edge of a trough is measured round it, and shared by the herd") {
  const auto box = proposal::read(herd(660, "", "", "{box: {length: 4 m, width: 1 m}}"));
  CHECK(only(take("trough edge a head", box)) == Approx(10.0 / 120.0));
  const auto round = proposal::read(herd(660, "", "", "{upright_cylinder: {diameter: 2 m}}"));
  CHECK(only(take("trough edge a head", round)) == Approx(2.0 * runnel::pi / 120.0));
}

TEST_CASE("stock drinks at the troughs that its tank feeds") {
  const std::string text =
      herd(660) +
      "  on: {from: tank, to: trough, pipe: PE100 SDR17 63 mm, survey: {unit: m, points: [[0, 80.1], "
      "[50, 70.5]]}}\n";
  std::string more = text;
  more.insert(
      more.find("pipelines:"),
      "  trough: {shape: {box: {length: 5 m, width: 1 m}}, floor: 70 m, lip: 70.4 m, inlet: 70.5 m}\n");
  const auto system = proposal::read(more);
  CHECK(only(take("trough edge a head", system)) == Approx(12.0 / 120.0));
}

TEST_CASE("people at a tank need no trough") {
  std::string text = herd(660);
  text.replace(text.find("beef cattle"), 11, "people in a house");
  CHECK(take("trough edge a head", proposal::read(text)).empty());
  CHECK(take("water for a herd at once", proposal::read(text)).empty());
}

TEST_CASE("water falls into a trough from above its rim or its lip") {
  CHECK(only(take("inlet above the rim", proposal::read(herd(660)))) == Approx(0.1));
  CHECK(only(take("inlet above the rim", proposal::read(herd(660, ", rim: 82.3 m")))) == Approx(-0.2));
}

TEST_CASE("the overflow of a tank is held against the room to its rim") {
  const auto with = [](const std::string& bore) {
    return proposal::read(herd(660, ", rim: 82.3 m, overflow: {standpipe: {bore: " + bore + "}}"));
  };
  CHECK(only(take("tank overflow over its room", with("100 mm"))) < 0.2);
  CHECK(only(take("tank overflow over its room", with("6 mm"))) > 1.0);
  CHECK(take("tank overflow over its room", proposal::read(herd(660))).empty());  // nothing is known of it
}

TEST_CASE("the longest stretch between parts is measured from the ends of the line on") {
  const auto with = [](const std::string& parts) {
    return proposal::read(herd(660, "", ", parts: [" + parts + "]"));
  };
  CHECK(only(take("longest way between valves", with(""))) == Approx(900.0));
  const auto two =
      take("longest way between valves", with("{ball_valve: V1, at: 100 m}, {ball_valve: V2, at: 500 m}"));
  CHECK(only(two) == Approx(400.0));
  CHECK(*two[0].where.station_m == Approx(100.0));
  CHECK(only(take("longest way between unions", with("{union: U1, at: 300 m}"))) == Approx(600.0));
}

TEST_CASE("the longest way that nobody looked at is that between two points of the survey") {
  CHECK(only(take("longest way between survey points", proposal::read(herd(660)))) == Approx(900.0));
  std::string text = herd(660);
  const std::string level = "[[0, 100], [900, 82.1]]";
  text.replace(text.find(level), level.size(), "[[0, 100], [300, 95], [750, 90], [900, 82.1]]");
  const auto all = take("longest way between survey points", proposal::read(text));
  CHECK(only(all) == Approx(450.0));
  CHECK(*all[0].where.station_m == Approx(300.0));
}

TEST_CASE("what comes out for cleaning has a union on its side of the valves") {
  const std::string drowned = ", float_valve: {shuts_at: 81.9 m, loss: 6}";
  const auto with = [&](const std::string& parts) {
    return proposal::read(herd(660, drowned, ", parts: [" + parts + "]"));
  };
  const char* name = "unions beside what is taken out";
  CHECK(only(take(name, with("{ball_valve: V1, at: 890 m}, {union: U1, at: 895 m}"))) == 1.0);
  CHECK(only(take(name, with("{union: U1, at: 880 m}, {ball_valve: V1, at: 890 m}"))) == 0.0);
  CHECK(take(name, proposal::read(herd(660))).empty());
}

TEST_CASE("a high point that holds air has a valve or has none") {
  const auto over = [](const std::string& parts) {
    std::string text = herd(660, "", parts);
    const std::string level = "[[0, 100], [900, 82.1]]";
    text.replace(text.find(level), level.size(), "[[0, 100], [300, 85], [600, 97], [800, 75], [900, 82.1]]");
    return proposal::read(text);
  };
  CHECK(only(take("air valves at a high point", over(""))) == 0.0);
  CHECK(only(take("air valves at a high point", over(", parts: [{air_valve: A, at: 600 m}]"))) == 1.0);
  CHECK(take("air valves at a high point", proposal::read(herd(660))).empty());
}
