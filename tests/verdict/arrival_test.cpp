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

TEST_CASE("on a line of very many pipelines the ends between those followed come when they come on few") {
  // The same 24 km with a joint every 60 m and every 240 m; the spring gives more than the line takes.
  const auto chain = [](int joints) {
    std::string text = "runnel: 1\nboxes:\n  spring: {yield: 5 L/s, outlet: 500 m, lip: 500.5 m}\njoints:\n";
    std::string lines = "outlets:\n  end: {elevation: 20 m}\npipelines:\n";
    const auto name = [&](int i) { return i < 0 ? std::string("spring") : "p" + std::to_string(i); };
    const auto height_m = [&](int i) { return 500.0 - 480.0 * (i + 1) / (joints + 1); };
    for (int i = 0; i <= joints; ++i) {
      const bool last = i == joints;
      if (!last) text += "  " + name(i) + ": {elevation: " + std::to_string(height_m(i)) + " m}\n";
      lines += "  l" + std::to_string(i) + ": {from: " + name(i - 1) + ", to: " + (last ? "end" : name(i)) +
               ", pipe: PE100 SDR11 32 mm, length: " + std::to_string(24000.0 / (joints + 1)) + " m}\n";
    }
    return answer_of(text + lines);
  };
  const verdict::Answer many = chain(399), few = chain(99);
  const auto ends = [](const verdict::Answer& answer) {
    const verdict::PathAir* way = way_to(answer.leading().verdict, "end");
    REQUIRE(way);
    REQUIRE(way->first_water);
    REQUIRE(way->first_water->line_limits);
    return way->first_water->ends;
  };
  const auto of_many = ends(many), of_few = ends(few);
  REQUIRE(of_many.size() == 400);
  REQUIRE(of_few.size() == 100);
  for (std::size_t i = 0; i < of_few.size(); ++i) {
    const air::FirstWater &a = of_few[i], &b = of_many[4 * i + 3];
    CHECK(b.full_bore_volume_m3 == Approx(a.full_bore_volume_m3).epsilon(1e-9));
    // Between the ends that are followed the rate is taken as one; the first stretch, where it falls most,
    // has a share of a thirtieth.
    CHECK(b.full_bore_s == Approx(a.full_bore_s).epsilon(0.03));
    REQUIRE(b.earliest_s.has_value() == a.earliest_s.has_value());
    if (i > 0) CHECK(of_few[i - 1].full_bore_s <= a.full_bore_s);
  }
  for (std::size_t i = 1; i < of_many.size(); ++i)
    CHECK(of_many[i - 1].full_bore_s <= of_many[i].full_bore_s);
  CHECK(of_many.back().full_bore_s == Approx(of_few.back().full_bore_s).epsilon(0.005));
}
