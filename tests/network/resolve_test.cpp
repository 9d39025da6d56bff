// A model made in code, right or wrong, never ends in a signal or an exception: it is resolved, or findings
// say what is wrong and where.
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <limits>

#include "runnel/losses/area_change.h"
#include "runnel/losses/fittings.h"
#include "runnel/network/place_kinds.h"
#include "runnel/network/places.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "steady/small_systems.h"
#include "support/draw.h"

using namespace runnel;
using network::Model;
using network::resolve;

namespace {

/// An invented line with all that can be wrong on it: a spring, a tee with a tap, a tank.
Model whole() {
  Model m = small::empty();
  small::box(m, "spring", 3e-4, 100.0, 100.5);
  small::joint(m, "tee", 80.0);
  small::tank(m, "tank", 60.5, 60.0);
  small::outlet(m, "tap", 81.0, 0.01, 2.0, "tee");
  small::line(m, "main", "spring", "tee", 0.03, {{0, 100}, {120, 92}, {300, 80}});
  small::line(m, "down", "tee", "tank", 0.03, {{0, 80}, {200, 60.5}});
  return m;
}

using Damage = std::function<void(Model&)>;

}  // namespace

TEST_CASE("a right model is resolved: ends by number, losses filled in, lines at every place") {
  Model m = whole();
  network::Part elbow;
  elbow.type = "elbow_90";
  elbow.at = Length::metres(50.0);
  elbow.loss.reset();  // by the tables
  m.pipelines[0].parts.push_back(elbow);
  m.pipelines[0].pipes.push_back({small::pipe(0.02), Length::metres(120.0), {}, {}});
  const auto system = resolve(m);
  REQUIRE(system);
  const network::Line& main = system.value->lines()[0];
  CHECK(system.value->place_name(main.from) == "spring");
  CHECK(system.value->kind(main.to) == network::PlaceKind::joint);
  CHECK(main.parts[0].k == losses::published_loss("elbow_90", 0.03, 1.0)->k);
  CHECK_FALSE(main.parts[0].k_source.empty());
  CHECK(main.pipes[1].change_forward == losses::area_change_loss(0.03, 0.02));
  CHECK(main.pipes[1].change_backward == losses::area_change_loss(0.02, 0.03));
  CHECK(system.value->lines_at(main.to) == std::vector<int>{0, 1});
  CHECK(system.value->place_name(system.value->hangs_on(0)) == "tee");
  CHECK(system.value->find_place("nowhere") == std::nullopt);
}

TEST_CASE("a tap lets out what is drawn there in its busiest hour, or more if more is asked") {
  Model m = whole();
  CHECK_FALSE(resolve(m).value->lets_out(0));
  m.outlets[0].draws = {support::draw(1e-5, 6.0, 12.0), support::draw(2e-5)};
  const auto most_m3s = [&] { return resolve(m).value->lets_out(0)->si(); };
  CHECK(most_m3s() == Approx(6e-5));  // a quarter of the day takes the mean four times
  network::Ask ask;
  ask.at = "tap";
  ask.flow = Flow::from_si(5e-5);
  m.asks = {ask};
  CHECK(most_m3s() == Approx(6e-5));
  m.asks[0].flow = Flow::from_si(7e-5);
  CHECK(most_m3s() == Approx(7e-5));
  network::Claim claim;  // what somebody promises opens no tap
  claim.at = "tap";
  claim.flow = Flow::from_si(8e-5);
  m.claims = {claim};
  CHECK(most_m3s() == Approx(7e-5));
  m.outlets[0].opened_to = Flow::from_si(1e-6);
  CHECK(most_m3s() == Approx(1e-6));
}

TEST_CASE("each thing wrong with a model made in code is a finding that names it") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const std::vector<std::pair<std::string, Damage>> damages = {
      {"main", [](Model& m) { m.pipelines[0].from = "nowhere"; }},
      {"main", [](Model& m) { m.pipelines[0].to.clear(); }},
      {"main", [](Model& m) { m.pipelines[0].to = "spring"; }},
      {"main", [](Model& m) { m.pipelines[0].survey.clear(); }},
      {"main", [](Model& m) { m.pipelines[0].survey.resize(1); }},
      {"main", [](Model& m) { std::swap(m.pipelines[0].survey[1], m.pipelines[0].survey[2]); }},
      {"main", [](Model& m) { m.pipelines[0].pipes.clear(); }},
      {"main", [](Model& m) { m.pipelines[0].pipes[0].pipe.bore = {}; }},
      {"main", [=](Model& m) { m.pipelines[0].pipes[0].pipe.bore = Length::metres(nan); }},
      {"main", [=](Model& m) { m.pipelines[0].survey[1].elevation = Length::metres(nan); }},
      {"main", [](Model& m) { m.pipelines[0].entrance_loss = -1.0; }},
      {"tap", [](Model& m) { m.outlets[0].on = "nowhere"; }},
      {"tap", [](Model& m) { m.outlets[0].opening = {}; }},
      {"tank", [](Model& m) { m.tanks[0].lip = m.tanks[0].floor; }},
      {"tank", [](Model& m) { m.tanks[0].shape = network::UprightCylinder{}; }},
      {"tank", [](Model& m) { m.tanks[0].shape = network::DepthVolumeTable{}; }},
      {"spring", [](Model& m) { m.boxes[0].yield = Flow::from_si(-1.0); }},
      {"spring", [](Model& m) { m.boxes[0].lip = m.boxes[0].outlet - Length::metres(1.0); }},
      {"spring", [](Model& m) { m.tanks[0].name = "spring"; }},
      {"elbow_90",
       [](Model& m) {
         network::Part part;
         part.type = "elbow_90";
         part.at = Length::metres(1e6);
         m.pipelines[0].parts = {part};
       }},
      {"mystery", [](Model& m) {
         network::Part part;
         part.type = "mystery";
         part.at = Length::metres(10.0);
         part.loss.reset();
         m.pipelines[0].parts = {part};
       }}};
  for (std::size_t d = 0; d < damages.size(); ++d) {
    INFO("damage " << d);
    Model m = whole();
    damages[d].second(m);
    const auto system = resolve(m);
    CHECK_FALSE(system);
    REQUIRE(any_error(system.findings));
    bool named = false;
    for (const Finding& finding : system.findings)
      named = named || finding.message.find(damages[d].first) != std::string::npos;
    CHECK(named);
  }
}

TEST_CASE("any two things wrong at once are survived as well") {
  const std::vector<Damage> damages = {[](Model& m) { m.boxes.clear(); },
                                       [](Model& m) { m.tanks.clear(); },
                                       [](Model& m) { m.joints.clear(); },
                                       [](Model& m) { m.outlets[0].on = "main"; },
                                       [](Model& m) { m.pipelines.clear(); },
                                       [](Model& m) { m.pipelines.push_back({}); },
                                       [](Model& m) { m.outlets.push_back({}); },
                                       [](Model& m) { m.pipelines.at(0).parts.push_back({}); },
                                       [](Model& m) { m.pipelines.at(0).pipes.push_back({}); },
                                       [](Model& m) { m.pipelines.at(0).survey.push_back({}); },
                                       [](Model& m) { m.site.water.density_kgm3 = 0.0; },
                                       [](Model& m) { m.site.air_pressure_pa = -1.0; },
                                       [](Model& m) { m.friction.n = 1e300; },
                                       [](Model& m) { m.asks.push_back({}); },
                                       [](Model& m) { m.settings.push_back({}); }};
  for (const Damage& first : damages)
    for (const Damage& second : damages) {
      Model m = whole();
      try {
        first(m), second(m);
      } catch (const std::out_of_range&) {
        continue;  // nothing left to damage
      }
      const auto system = resolve(m);
      if (!system) CHECK(any_error(system.findings));
      if (system) CHECK_NOTHROW(steady::solve(*system.value));
    }
}

TEST_CASE("a course is cut once at every point, part and change, and asked by station") {
  network::Pipeline line;
  line.survey = {{Length::metres(0), Length::metres(10)},
                 {Length::metres(100), Length::metres(20)},
                 {Length::metres(100), Length::metres(25)},  // a riser
                 {Length::metres(200), Length::metres(5)}};
  network::Part part;
  part.at = Length::metres(50);
  line.parts = {part, part};
  line.parts[1].at = Length::metres(150);
  line.pipes = {{small::pipe(0.03), Length::metres(0), {}, {}},
                {small::pipe(0.02), Length::metres(150), {}, {}}};
  const network::Course course(line.survey, line.parts, line.pipes);
  REQUIRE(course.points().size() == 6);
  CHECK(course.points()[1].elevation_m == 15.0);
  CHECK_FALSE(course.points()[1].survey_point);
  CHECK(course.points()[2].length_m == 5.0);
  CHECK(course.points()[4].pipe == 1);
  CHECK(course.points()[5].length_m == 0.0);
  CHECK(course.point_at(150.0) == 4);
  CHECK(course.point_at(1e9) == 5);
  CHECK(course.elevation_at(175.0) == 10.0);
  CHECK(course.elevation_at(-5.0) == 10.0);
  CHECK(course.pipe_at(149.0) == 0);
  CHECK(course.pipe_at(150.0) == 1);
}

TEST_CASE("places of every kind are counted through, and their states and views stand in the same order") {
  Model m = whole();
  small::joint(m, "end of the barn line", 70.0);
  const network::System system = support::resolved(m);
  const network::State state = steady::solve(system);
  const auto views = network::places_of(system.model());
  REQUIRE(system.places() == 5);
  REQUIRE(views.size() == 5);
  int place = 0;
  for (const auto* kind : network::kinds_of(state))
    for (const network::PlaceState& told : *kind) {
      CAPTURE(place);
      const network::PlaceRef which = system.place(place);
      CHECK(system.place_of(which.kind, which.index) == place);
      CHECK(system.find_place(told.name) == place);
      CHECK(system.place_name(place) == told.name);
      CHECK(*views[static_cast<std::size_t>(place)].name == told.name);
      CHECK(views[static_cast<std::size_t>(place)].kind == told.kind);
      CHECK(which.kind == told.kind);
      CHECK((system.box(place) != nullptr) == (told.kind == network::PlaceKind::box));
      CHECK((system.joint(place) != nullptr) == (told.kind == network::PlaceKind::joint));
      ++place;
    }
  CHECK(place == 5);
}
