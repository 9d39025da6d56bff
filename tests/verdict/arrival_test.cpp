// When the first water comes: never before water can run so far, never after the bore is filled, and to no
// place that gets none.
#include "runnel/verdict/arrival.h"

#include <catch2/catch.hpp>

#include "runnel/input/read_model.h"
#include "runnel/verdict/answer.h"

using namespace runnel;

namespace {

/// Invented: a trunk of 200 m down to a tee, a branch up to a high tap and one down to a low one.
std::string model_text(const std::string& low) {
  return "runnel: 1\n"
         "boxes:\n  spring: {yield: 1.0 L/s, outlet: 100 m, lip: 100.5 m}\n"
         "joints:\n  tee: {elevation: 80 m}\n"
         "outlets:\n"
         "  high tap: {elevation: 96 m, opening: 10 mm, loss: 6}\n"
         "  low tap: {elevation: 40 m, opening: 10 mm, loss: 6" +
         low +
         "}\n"
         "pipelines:\n"
         "  trunk: {from: spring, to: tee, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 100], "
         "[200, "
         "80]]}}\n"
         "  up: {from: tee, to: high tap, pipe: PE100 SDR11 25 mm, survey: {unit: m, points: [[0, 80], [100, "
         "96]]}}\n"
         "  down: {from: tee, to: low tap, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 80], "
         "[400, "
         "40]]}}\n";
}

const verdict::PathAir* way_to(const verdict::FlowVerdict& verdict, const std::string& end) {
  for (const verdict::PathAir& way : verdict.air->paths)
    if (way.path.end == end) return &way;
  return nullptr;
}

verdict::Answer answer_of(const std::string& text) {
  const auto model = input::read_model(text, "arrival.yaml");
  REQUIRE(model);
  auto answer = verdict::answer_model(*model.value);
  REQUIRE(answer);
  return std::move(*answer.value);
}

}  // namespace

TEST_CASE("first water takes the time that water needs to run, and no more than to fill the bore") {
  const verdict::Answer answer = answer_of(model_text(", set: shut"));
  const verdict::PathAir* way = way_to(answer.leading().verdict, "high tap");
  REQUIRE(way);
  REQUIRE(way->first_water);
  for (const air::FirstWater& end : way->first_water->ends) {
    REQUIRE(end.earliest_s);
    CHECK(*end.earliest_s <= end.full_bore_s);
    // A litre a second in a bore of 26 mm is 1.88 m/s, and part-full down one in ten it is no faster
    // than 2.5.
    CHECK(*end.earliest_s > 200.0 / 2.5);
  }
}

TEST_CASE("no time is told of first water where none comes") {
  const verdict::Answer answer = answer_of(model_text(""));
  const verdict::FlowVerdict& verdict = answer.leading().verdict;
  // The low tap takes it all: the grade line at the tee stands below the high one.
  REQUIRE(answer.leading().state.place("high tap")->flow_m3s <= 1e-9);
  REQUIRE(way_to(verdict, "high tap"));
  CHECK_FALSE(way_to(verdict, "high tap")->first_water);
  REQUIRE(way_to(verdict, "low tap"));
  CHECK(way_to(verdict, "low tap")->first_water);
}
