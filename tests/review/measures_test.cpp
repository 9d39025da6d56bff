// Each measure against arithmetic that a person can do. Systems are invented.
#include <catch2/catch.hpp>

#include "proposal_model.h"
#include "runnel/base/constants.h"
#include "runnel/filling/fill.h"
#include "runnel/review/measure.h"
#include "runnel/steady/state.h"

namespace {

using namespace runnel::review;
using runnel::network::System;

/// What a measure takes on a system. The figures point into nothing.
std::vector<Measured> take(const std::string& name, const System& system, bool fill = false) {
  const Measure* measure = find_measure(name);
  if (!measure) throw std::runtime_error("no measure " + name);
  const auto state = runnel::steady::solve(system);
  runnel::verdict::Aside aside;
  if (fill) aside.fill_from = &system;
  const auto verdict = runnel::verdict::judge_flow(system, state, aside);
  return measure->take({system, state, verdict});
}

double only(const std::vector<Measured>& all) {
  REQUIRE(all.size() == 1);
  REQUIRE(all[0].missing == "");
  return all[0].si;
}

const std::string spring = "runnel: 1\nboxes:\n  spring: {yield: 5 L/s, outlet: 100 m, lip: 100.5 m}\n";

/// A box 60.5 m above a tap; PE100 SDR17 is rated for 10 bar.
System to_tap(const std::string& opening = "8 mm", const std::string& more = "") {
  return proposal::read(
      spring + "outlets:\n  tap: {elevation: 40 m, opening: " + opening +
      ", loss: 2}\npipelines:\n  main: {from: spring, to: tap, pipe: PE100 SDR17 40 mm, survey: "
      "{unit: m, points: [[0, 100], [200, 40]]}" +
      more + "}\n");
}

// kN/m3 of water at 10 degC, 999.70 kg/m3 [tanaka2001].
constexpr double weight = 999.70 * runnel::gravity_ms2;

}  // namespace

TEST_CASE("static pressure is the height of the lip over the point, over the rating") {
  CHECK(only(take("static pressure over rating", to_tap())) == Approx(60.5 * weight / 1e6).epsilon(1e-5));
  CHECK(only(take("static pressure at a tap", to_tap())) == Approx(60.5 * weight).epsilon(1e-5));
}

TEST_CASE("a pipe without a rating cannot be judged, and says so") {
  const System system = proposal::read(spring +
                                       "outlets:\n  tap: {elevation: 40 m}\npipelines:\n  main: {from: "
                                       "spring, to: tap, pipe: {bore: 30 mm, roughness: 0.01 mm}, survey: "
                                       "{unit: m, points: [[0, 100], [200, 40]]}}\n");
  for (const char* name : {"static pressure over rating", "working pressure over rating"}) {
    const auto all = take(name, system);
    for (const Measured& one : all) CHECK(one.missing.find("the rating of") == 0);
  }
}

TEST_CASE("the working pressure is less than the static one by what the flow loses") {
  const double working = only(take("working pressure over rating", to_tap()));
  CHECK(working > 0.0);
  CHECK(working < only(take("static pressure over rating", to_tap())));
}

TEST_CASE("the 72 % rule is for pipes whose wave is not known") {
  CHECK(take("static pressure over rating, surge not known", to_tap()).empty());  // a tap that can snap shut
  const System own = proposal::read(
      spring +
      "outlets:\n  tap: {elevation: 40 m, opening: 8 mm, loss: 2}\npipelines:\n  main: {from: spring, to: "
      "tap, "
      "pipe: {bore: 35 mm, roughness: 0.01 mm, rating: 10 bar}, survey: {unit: m, points: [[0, 100], [200, "
      "40]]}}\n");
  CHECK(only(take("static pressure over rating, surge not known", own)) ==
        Approx(60.5 * weight / 1e6).epsilon(1e-5));
}

TEST_CASE("surge is held against what the pipe bears for a moment") {
  const auto all = take("surge over what is allowed", to_tap());
  REQUIRE(all.size() == 1);
  CHECK(all[0].si > only(take("static pressure over rating", to_tap())) / 1.5);  // the mildest rule for PE
  CHECK(all[0].low <= all[0].high);
}

TEST_CASE("velocity is flow over the bore's area") {
  const System system = to_tap();
  const auto state = runnel::steady::solve(system);
  const double bore = system.lines()[0].pipes[0].pipe.bore.metres();
  CHECK(only(take("velocity", system)) ==
        Approx(state.lines[0].flow_m3s / (runnel::pi / 4.0 * bore * bore)).epsilon(1e-9));
}

TEST_CASE("a tap's own flow and pressure are taken before it") {
  const System system = to_tap();
  const auto state = runnel::steady::solve(system);
  CHECK(only(take("flow of an open tap", system)) == state.outlets[0].flow_m3s);
  CHECK(only(take("pressure at an open tap", system)) == *state.outlets[0].pressure_head_m);
  const System shut = proposal::read(
      spring +
      "outlets:\n  tap: {elevation: 40 m, opening: 8 mm, loss: 2, set: shut}\npipelines:\n  main: {from: "
      "spring, to: tap, pipe: PE100 SDR17 40 mm, survey: {unit: m, points: [[0, 100], [200, 40]]}}\n");
  CHECK(take("flow of an open tap", shut).empty());
}

TEST_CASE("what is asked is a share of what comes") {
  const System plain = to_tap();
  const double flow = runnel::steady::solve(plain).outlets[0].flow_m3s;
  const System asks = proposal::read(
      spring +
      "outlets:\n  tap: {elevation: 40 m, opening: 8 mm, loss: 2}\npipelines:\n  main: {from: spring, to: "
      "tap, pipe: PE100 SDR17 40 mm, survey: {unit: m, points: [[0, 100], [200, 40]]}}\nasks: [{at: tap, "
      "flow: " +
      std::to_string(2000.0 * flow) + " L/s}]\n");
  CHECK(only(take("share of what is asked", asks)) ==
        Approx(0.5).epsilon(1e-4));  // written with six decimals
}

TEST_CASE("a siphon sucks by the height of its top over the grade line") {
  const System siphon = proposal::read(
      "runnel: 1\nboxes:\n  spring: {yield: 5 L/s, outlet: 99 m, lip: 100 m}\noutlets:\n  tap: {elevation: "
      "90 m, "
      "opening: 4 mm, loss: 2}\npipelines:\n  main: {from: spring, to: tap, pipe: PE100 SDR17 40 mm, air: "
      "sealed, "
      "survey: {unit: m, points: [[0, 99], [20, 102], [60, 90]]}}\n");
  // Hardly any flow: the top stands 2 m over the lip, less what little is lost on the way.
  CHECK(only(take("suction", siphon)) == Approx(2.0).margin(0.05));
  CHECK(only(take("absolute pressure under suction", siphon)) ==
        Approx(101325.0 / weight - 2.0).margin(0.05));
  CHECK(only(take("suction", to_tap())) == 0.0);
  CHECK(take("absolute pressure under suction", to_tap()).empty());
}

TEST_CASE("a low point without a washout is measured to the higher neighbour") {
  const auto with = [](const std::string& parts) {
    return proposal::read(spring +
                          "outlets:\n  tap: {elevation: 80 m}\npipelines:\n  main: {from: spring, to: tap, "
                          "pipe: PE100 SDR17 40 mm, survey: {unit: m, points: [[0, 100], [50, 82], [90, 88], "
                          "[150, 80]]}" +
                          parts + "}\n");
  };
  CHECK(only(take("rise beside a low point without a washout", with(""))) == Approx(18.0));
  CHECK(take("rise beside a low point without a washout", with(", parts: [{washout: W, at: 50 m}]")).empty());
}

TEST_CASE("valves are counted on the worst way from a source") {
  CHECK(only(take("valves on the way from a source", to_tap())) == 0.0);
  CHECK(only(take("valves on the way from a source",
                  to_tap("8 mm", ", parts: [{ball_valve: V, at: 1 m}]"))) == 1.0);
}

TEST_CASE("a drowned inlet above taps wants a check valve") {
  const auto with = [](const std::string& parts, const std::string& inlet) {
    return proposal::read(
        spring +
        "tanks:\n  tank: {shape: {upright_cylinder: {diameter: 2 m}}, floor: 60 m, lip: 63 m, "
        "inlet: " +
        inlet +
        "}\noutlets:\n  tap: {elevation: 50 m, opening: 8 mm, loss: "
        "2}\njoints:\n  tee: {elevation: 70 m}\npipelines:\n  main: {from: spring, to: tee, "
        "pipe: PE100 SDR17 40 mm, survey: {unit: m, points: [[0, 100], [90, 70]]}}\n  to tank: "
        "{from: tee, to: tank, pipe: PE100 SDR17 40 mm, survey: {unit: m, points: [[0, 70], "
        "[40, " +
        inlet.substr(0, inlet.find(' ')) + "]]}" + parts +
        "}\n  to tap: {from: tee, to: tap, pipe: PE100 SDR11 25 mm, survey: {unit: m, points: [[0, "
        "70], [60, 50]]}}\n");
  };
  const char* name = "check valves before a drowned inlet";
  CHECK(only(take(name, with("", "60.2 m"))) == 0.0);
  CHECK(only(take(name, with(", parts: [{check_valve: C, at: 1 m}]", "60.2 m"))) == 1.0);
  CHECK(take(name, with("", "63 m")).empty());  // it pours in at the top
}

TEST_CASE("the bore of a spring line is held against its grade") {
  const auto of = [](const std::string& end) {
    return proposal::read(
        spring + "outlets:\n  tap: {elevation: " + end +
        " m}\npipelines:\n  main: {from: spring, to: tap, pipe: {bore: 1.25 in, roughness: 0.01 mm}, "
        "survey: {unit: m, points: [[0, 100], [1000, " +
        end + "]]}}\n");
  };
  // 3 % wants 1-1/4 in, 0.7 % 1-1/2 in, 0.3 % 2 in, and for 0.1 % nothing is printed [nrcs-grade; from
  // memory].
  CHECK(only(take("bore over that for its grade", of("70"))) == Approx(1.0));
  CHECK(only(take("bore over that for its grade", of("93"))) == Approx(1.25 / 1.5));
  CHECK(only(take("bore over that for its grade", of("97"))) == Approx(1.25 / 2.0));
  CHECK(take("bore over that for its grade", of("99")).empty());
  CHECK(only(take("bore of the pipe that leaves a spring", of("70"))) == Approx(0.03175));
}

TEST_CASE("yield, need and storage are sums of what is written") {
  const System system = proposal::read(
      "runnel: 1\nboxes:\n  spring: {yield: 0.2 L/s, outlet: 100 m, lip: 100.5 m}\ntanks:\n  tank: {shape: "
      "{box: "
      "{length: 3 m, width: 2 m}}, floor: 80 m, lip: 82 m, inlet: 82 m, draws: [{flow: 4000 "
      "L/day}]}\njoints:\n  tee: "
      "{elevation: 90 m, draw: 0.05 L/s}\npipelines:\n  main: {from: spring, to: tee, pipe: PE100 SDR17 40 "
      "mm, survey: "
      "{unit: m, points: [[0, 100], [90, 90]]}}\n  on: {from: tee, to: tank, pipe: PE100 SDR17 40 mm, "
      "survey: {unit: m, "
      "points: [[0, 90], [60, 82]]}}\nlog:\n  - {at: spring, date: 2026-08-30, yield: 0.12 L/s}\nasks: [{at: "
      "tank, "
      "full_within: 3 days}]\n");
  const double need = 4.0 / 86400.0 + 0.05e-3;
  CHECK(only(take("yield over need", system)) == Approx(0.2e-3 / need));
  CHECK(only(take("dry-season yield over need", system)) == Approx(0.12e-3 / need));
  CHECK(only(take("yield of a spring", system)) == Approx(0.2e-3));
  CHECK(only(take("storage in days of need", system)) == Approx(3.0 * 86400.0));  // 12 m3 over 4 m3 a day
  // 12 m3 at 0.15 L/s less what is drawn, 4 m3 a day.
  CHECK(only(take("filling time over time asked", system, true)) ==
        Approx(12.0 / (0.15e-3 - 4.0 / 86400.0) / (3.0 * 86400.0)).epsilon(1e-6));
}

TEST_CASE("cover, frost and survey are differences of what is written") {
  const System system = proposal::read(proposal::text_of([] {
    proposal::Figures figures;
    figures.cover = 0.9, figures.frost = 0.5;
    return figures;
  }()));
  CHECK(only(take("cover beyond that for its size", system)) == Approx(0.9 - 18.0 * 0.0254));
  CHECK(only(take("cover below the frost", system)) == Approx(0.4));
  CHECK(only(take("survey error over fall", system)) == Approx(0.2 / 28.0));  // 200 to 172 m, 0.1 m a point
  for (const char* name :
       {"cover beyond that for its size", "cover below the frost", "survey error over fall"}) {
    const auto all = take(name, to_tap());
    REQUIRE(all.size() == 1);
    CHECK_FALSE(all[0].missing.empty());
  }
}
