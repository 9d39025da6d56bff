// Siphons that keep their water and siphons that lose it: mouth, branch, altitude. Cases made by hand; a
// lift is how far the crest stands above the lip, and losses to it are under 0.4 m in all of them.
#include "runnel/verdict/siphon_rules.h"

#include <catch2/catch.hpp>

#include "runnel/units/print.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/water/water.h"
#include "support/rooms.h"

using namespace runnel;
using namespace runnel::network;
using verdict::PrimeLoss;

namespace {

Length m(double v) { return Length::metres(v); }

Pipeline line(const std::string& name, const std::string& from, const std::string& to,
              std::vector<SurveyPoint> survey, Air air) {
  Pipeline l;
  l.name = name;
  l.from = from;
  l.to = to;
  pipes::Pipe pipe;
  pipe.name = "test pipe";
  pipe.bore = m(0.05);
  pipe.roughness = m(7e-6);
  pipe.rating = Pressure::bar(10);
  l.pipes.push_back({pipe, m(0.0), {}, {}});
  l.survey = std::move(survey);
  l.air = air;
  return l;
}

enum class At { nothing, tap_shut, tap_open, open_branch, sealed_branch, draw, air_valve };

struct Build {
  double altitude_m = 0.0, lift_m = 2.0, yield_m3s = 1e-2;
  At crest = At::nothing;
};

Outlet outlet(const std::string& name, double elevation_m, double opening_m, const std::string& on = {}) {
  Outlet o;
  o.name = name;
  o.elevation = m(elevation_m);
  o.opening = m(opening_m);
  o.loss = 1.5;
  o.on = on;
  return o;
}

/// A box with its lip at 101 m, a crest, and a throttled end at 90 m: 0.5 to 0.6 L/s when it runs full.
Model siphon(const Build& b) {
  const double crest_m = 101.0 + b.lift_m;
  Model s;
  s.site.altitude = m(b.altitude_m);
  s.site.air_pressure_pa = water::air_pressure_pa(m(b.altitude_m));
  Box box;
  box.name = "spring";
  box.yield = Flow::from_si(b.yield_m3s);
  box.outlet = m(100);
  box.lip = m(101);
  s.boxes = {box};
  s.outlets = {outlet("end", 90, 0.008)};
  if (b.crest == At::nothing || b.crest == At::air_valve) {
    s.pipelines = {
        line("over", "spring", "end", {{m(0), m(100)}, {m(60), m(crest_m)}, {m(200), m(90)}}, Air::sealed)};
    if (b.crest == At::air_valve) {
      Part valve;
      valve.kind = PartKind::air_valve;
      valve.type = "air_valve";
      valve.name = "A1";
      valve.at = m(50);  // below the crest, still above the box
      s.pipelines[0].parts = {valve};
    }
    return s;
  }
  Joint top;
  top.name = "top";
  top.elevation = m(crest_m);
  if (b.crest == At::draw) top.draw = Flow::from_si(1e-5);
  s.joints = {top};
  s.pipelines = {line("over", "spring", "top", {{m(0), m(100)}, {m(60), m(crest_m)}}, Air::sealed),
                 line("down", "top", "end", {{m(0), m(crest_m)}, {m(140), m(90)}}, Air::sealed)};
  s.pipelines[0].entrance_loss = 0.5;
  if (b.crest == At::tap_shut || b.crest == At::tap_open) {
    s.outlets.push_back(outlet("tap", crest_m, 0.01, "top"));
    s.outlets.back().shut = b.crest == At::tap_shut;
  }
  if (b.crest == At::open_branch || b.crest == At::sealed_branch) {
    s.outlets.push_back(outlet("side", 95, 0.004));
    s.pipelines.push_back(line("branch", "top", "side", {{m(0), m(crest_m)}, {m(50), m(95)}},
                               b.crest == At::open_branch ? Air::open : Air::sealed));
  }
  return s;
}

std::optional<PrimeLoss> loss_of(const Build& b) {
  const System& system = support::kept(siphon(b));
  const steady::State state = steady::solve(system);
  REQUIRE(state.outcome == steady::Outcome::settled);
  const auto after = verdict::follow_siphons(system, state);
  if (!after) return std::nullopt;
  REQUIRE(after->state.outcome == steady::Outcome::settled);
  CHECK(after->state.proof.consistent);
  CHECK(after->state.place("end")->flow_m3s <= state.place("end")->flow_m3s + 1e-12);
  return after->broken.front().why;
}

struct Case {
  Build build;
  std::optional<PrimeLoss> expected;
};

constexpr auto column = PrimeLoss::column_breaks;
constexpr auto mouth = PrimeLoss::mouth;
constexpr auto branch = PrimeLoss::open_branch;
constexpr std::optional<PrimeLoss> keeps = std::nullopt;

}  // namespace

TEST_CASE("forty siphons keep or lose their water") {
  // Standard air holds up 10.33, 9.16, 8.11 and 7.15 m at 0, 1000, 2000 and 3000 m; 2.7 m must be left.
  const std::vector<Case> cases = {
      {{0, 1.0}, keeps},
      {{0, 3.0}, keeps},
      {{0, 5.0}, keeps},
      {{0, 6.8}, keeps},
      {{0, 7.7}, column},
      {{0, 9.0}, column},
      {{1000, 1.0}, keeps},
      {{1000, 4.0}, keeps},
      {{1000, 5.8}, keeps},
      {{1000, 6.6}, column},
      {{1000, 8.0}, column},
      {{2000, 1.0}, keeps},
      {{2000, 3.0}, keeps},
      {{2000, 4.8}, keeps},
      {{2000, 5.6}, column},
      {{2000, 7.0}, column},
      {{3000, 1.0}, keeps},
      {{3000, 2.5}, keeps},
      {{3000, 3.8}, keeps},
      {{3000, 4.6}, column},
      {{3000, 6.0}, column},
      // The spring is weaker than the siphon: it draws its box down to the mouth.
      {{0, 1.0, 2e-4}, mouth},
      {{0, 3.0, 3e-4}, mouth},
      {{0, 5.0, 1e-4}, mouth},
      {{1000, 2.0, 2e-4}, mouth},
      {{2000, 2.0, 2e-4}, mouth},
      {{3000, 2.0, 2e-4}, mouth},
      {{0, 2.0, 8e-4}, keeps},
      {{2000, 2.0, 8e-4}, keeps},
      // What stands open at the crest.
      {{0, 2.0, 1e-2, At::tap_shut}, keeps},
      {{2000, 2.0, 1e-2, At::tap_shut}, keeps},
      {{0, 2.0, 1e-2, At::tap_open}, branch},
      {{0, 5.0, 1e-2, At::tap_open}, branch},
      {{2000, 2.0, 1e-2, At::tap_open}, branch},
      {{0, 2.0, 1e-2, At::open_branch}, branch},
      {{1000, 3.0, 1e-2, At::open_branch}, branch},
      {{0, 2.0, 1e-2, At::sealed_branch}, keeps},
      {{2000, 3.0, 1e-2, At::sealed_branch}, keeps},
      {{0, 2.0, 1e-2, At::draw}, branch},
      // The crest lies below the lip: no suction, so nothing to lose, whatever stands open there.
      {{0, -0.9, 1e-2, At::tap_open}, keeps},
      {{3000, -0.9, 1e-2}, keeps},
  };
  CHECK(cases.size() >= 40);
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const Build& b = cases[i].build;
    INFO("case " << i << ": altitude " << b.altitude_m << ", lift " << b.lift_m << ", yield " << b.yield_m3s
                 << ", crest " << static_cast<int>(b.crest));
    CHECK(loss_of(b) == cases[i].expected);
  }
}

TEST_CASE("an air valve opens where the line sucks and stays shut where it presses") {
  Model s = siphon({0, 2.0, 1e-2, At::air_valve});
  auto& valve = s.pipelines[0].parts[0];
  const auto broken = [&]() {
    const System& system = support::kept(s);
    return verdict::loses_prime(system, steady::solve(system), 0);
  };
  SECTION("above the spring nothing runs, so there is no siphon to lose") {
    CHECK(steady::solve(s).place("end")->flow_m3s == 0.0);
    CHECK_FALSE(broken());
  }
  SECTION("below the spring, with the end throttled, it is under pressure") {
    valve.at = m(90);
    CHECK_FALSE(broken());
  }
  SECTION("with the end wide open the grade line sinks to it") {
    valve.at = m(90);
    s.outlets[0].opening = {};
    REQUIRE(broken());
    CHECK(broken()->why == PrimeLoss::air_valve);
    CHECK(broken()->station_m == Approx(90.0));
  }
}

TEST_CASE("what only a siphon brings that loses its water is not delivered") {
  Model s = siphon({0, 2.0, 3e-4});
  Ask ask;
  ask.at = "end";
  ask.flow = Flow::from_si(2.5e-4);
  s.asks = {ask};
  const System& system = support::kept(s);
  const steady::State state = steady::solve(system);
  REQUIRE(state.place("end")->flow_m3s == Approx(3e-4).epsilon(1e-9));
  const verdict::FlowVerdict v = verdict::judge_flow(system, state);
  CHECK_FALSE(v.good());
  REQUIRE(v.after_siphons);
  CHECK(v.after_siphons->state.place("end")->flow_m3s == 0.0);
  CHECK(v.asks[0].met_only_primed);
  const std::string sentence = units::render(v.sentence.text(), v.sentence.figures(), units::UnitSystem::si);
  INFO(sentence);
  CHECK(sentence.find("once the siphon has lost its water") != std::string::npos);
  int seen = 0;
  for (const Finding& f : v.findings) {
    seen += f.code == "siphon-loses-water";
    CHECK(f.advice.find("seal the line") == std::string::npos);
  }
  CHECK(seen == 1);
}
