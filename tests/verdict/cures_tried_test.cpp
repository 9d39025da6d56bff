// What is tried so that a tank lasts: where water runs to from it, and what is said of several high points.
#include "runnel/verdict/cures_tried.h"

#include <catch2/catch.hpp>

#include "runnel/input/read_model.h"
#include "runnel/units/print.h"

namespace {

using namespace runnel;

/// Two tanks in a row, a tap behind a tee below the lower one, another on the tee, and a tank beside them on
/// a ring of two lines.
network::Model row_of_tanks() {
  auto model = input::read_model(R"(runnel: 1
boxes:
  spring: {yield: 0.1 L/s, outlet: 100 m, lip: 100.6 m}
tanks:
  up: {shape: {upright_cylinder: {diameter: 2 m}}, floor: 80 m, lip: 82 m, inlet: 81.9 m, level: 81 m}
  low: {shape: {upright_cylinder: {diameter: 1 m}}, floor: 60 m, lip: 62 m, inlet: 61.9 m, level: 61 m}
  beside: {shape: {upright_cylinder: {diameter: 1 m}}, floor: 60 m, lip: 62 m, inlet: 61.9 m, level: 61 m}
joints:
  fork: {elevation: 90 m}
  far: {elevation: 70 m}
  tee: {elevation: 50 m}
outlets:
  tap: {elevation: 40 m, opening: 5 mm, loss: 2}
  on tee: {on: tee, elevation: 51 m, opening: 5 mm, loss: 2}
pipelines:
  feed: {from: spring, to: fork, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 100], [100, 90]]}}
  a: {from: fork, to: up, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 90], [100, 81.9]]}}
  b: {from: up, to: low, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 80.1], [40, 75], [60, 78], [80, 70], [90, 72], [200, 61.9]]}}
  c: {from: low, to: tee, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 60.1], [50, 50]]}}
  d: {from: tee, to: tap, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 50], [50, 40]]}}
  ring 1: {from: fork, to: far, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 90], [50, 70]]}}
  ring 2: {from: far, to: fork, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 70], [50, 90]]}}
  e: {from: far, to: beside, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 70], [50, 61.9]]}}
)",
                                 "test.yaml");
  REQUIRE(model);
  return std::move(*model.value);
}

std::string said(const verdict::Cure& cure) {
  return cure.verb + units::render(cure.what.text(), cure.what.figures(), units::UnitSystem::si);
}

}  // namespace

TEST_CASE("water runs from a tank down over tanks and tees, and never up") {
  const network::Model model = row_of_tanks();
  CHECK(verdict::gives_to(model, "up", "low"));
  CHECK(verdict::gives_to(model, "up", "tap"));
  CHECK(verdict::gives_to(model, "up", "on tee"));
  CHECK(verdict::gives_to(model, "low", "tap"));
  CHECK_FALSE(verdict::gives_to(model, "low", "up"));
  CHECK_FALSE(verdict::gives_to(model, "beside", "tap"));
  CHECK_FALSE(verdict::gives_to(model, "up", "beside"));
}

TEST_CASE("air valves go to all high points of the lines about a tank that have none") {
  network::Model model = row_of_tanks();
  const auto all = verdict::humps_vented(model, "up");
  REQUIRE(all.size() == 1);
  CHECK(said(all.front()) == "put air valves at 60.0 m of b and 90.0 m of b");
  all.front().change(model);
  REQUIRE(model.pipelines[2].parts.size() == 2);
  CHECK(verdict::humps_vented(model, "up").empty());
  // A washout there lets out no air.
  model.pipelines[2].parts[0].kind = network::PartKind::washout;
  REQUIRE(verdict::humps_vented(model, "low").size() == 1);
  CHECK(said(verdict::humps_vented(model, "low").front()) == "put an air valve at 60.0 m of b");
}

TEST_CASE("high points are dug the least first") {
  const auto all = verdict::humps_before_dug(row_of_tanks(), "low");
  REQUIRE(all.size() == 8);
  CHECK(said(all.front()) == "dig the high point at 60.0 m of b down by 0.50 m");
  CHECK(said(all.back()) == "dig the high point at 90.0 m of b down by 3.00 m");
  CHECK(verdict::humps_before_dug(row_of_tanks(), "up").empty());
}
