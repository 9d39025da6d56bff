// A hardly covered mouth holds a tank back over time just as it does in the steady answer.
#include <catch2/catch.hpp>

#include "runnel/filling/fill.h"
#include "runnel/losses/mouth.h"
#include "runnel/network/place_state.h"
#include "support/rooms.h"
#include "systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// A tank over a short and steep line, whose pipe could carry far more than its mouth lets in.
Model hardly_covered(double level_m) {
  Model s = with_water();
  s.boxes = {spring("spring", 2e-4, 110, 111)};
  s.tanks = {round_tank("tank", 90, 2, 3)};
  s.tanks[0].level = m(level_m);
  Outlet end;
  end.name = "end";
  end.elevation = m(70);
  s.outlets = {end};
  s.pipelines = {line("in", "spring", "tank", 200, 110, 92, 0.04),
                 line("out", "tank", "end", 60, 90, 70, 0.1)};
  return s;
}

}  // namespace

TEST_CASE("flows over time are those of the steady answer while a mouth governs") {
  const Model model = hardly_covered(90.12);
  const steady::State at_first = steady::solve(model);
  const losses::Mouth mouth(losses::MouthEdge::square_in_wall, 0.1, 20.0 / 60.0);
  // The level stands 0.17 m over the invert: the mouth lets in what it lets in by itself.
  REQUIRE(at_first.line("out")->mouth_needs_m);
  CHECK(at_first.line("out")->flow_m3s == Approx(mouth.flow_at(0.17).flow_m3s).epsilon(1e-9));

  FillOptions options;
  options.duration_s = 1200.0;
  options.look_every_s = 60.0;
  int looked = 0, governed = 0;
  options.look = [&](double, const network::State& state) {
    Model then = model;
    then.tanks[0].level = m(*state.place("tank")->level_m);
    const steady::State steady = steady::solve(then);
    // What the level is rounded to shows in the flow where hardly anything covers the mouth.
    CHECK(state.line("out")->flow_m3s == Approx(steady.line("out")->flow_m3s).epsilon(1e-7).margin(1e-9));
    ++looked;
    governed += steady.line("out")->mouth_needs_m.has_value();
  };
  const FillHistory history = fill(model, options);
  REQUIRE(history.outcome == FillOutcome::done);
  CHECK(history.proof.consistent);
  CHECK(looked > 5);
  CHECK(governed > 2);
}

TEST_CASE("a mouth that is cut otherwise empties its tank in another time") {
  const auto emptied_s = [](losses::MouthEdge edge) {
    Model model = hardly_covered(90.1);
    model.boxes[0].yield = {};
    model.pipelines[1].mouth = edge;
    FillOptions options;
    options.duration_s = 7200.0;
    const FillHistory history = fill(model, options);
    REQUIRE(history.outcome == FillOutcome::done);
    CHECK(history.proof.consistent);
    REQUIRE(history.storage("tank")->emptied_at_s);
    return *history.storage("tank")->emptied_at_s;
  };
  // Thin and standing out asks for more depth than a bevelled ring at every flow [hds-5].
  CHECK(emptied_s(losses::MouthEdge::thin_projecting) > 1.05 * emptied_s(losses::MouthEdge::bevel_45));
}
