#include "runnel/sizing/chance.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/network/corner.h"
#include "runnel/sizing/sureness.h"
#include "steady/small_systems.h"

using namespace runnel;
using network::Model;
using sizing::Unknown;

namespace {

Model one_line(double end_m, double flow_m3s = 3e-4) {
  Model model = small::empty();
  small::box(model, "spring", 5e-4, 100.0, 100.5);
  small::outlet(model, "end", end_m);
  small::line(model, "line", "spring", "end", 0.0262, {{0.0, 100.0}, {300.0, end_m}});
  network::Ask ask;
  ask.at = "end";
  ask.flow = Flow::from_si(flow_m3s);
  model.asks.push_back(ask);
  return model;
}

double margin_of(const Model& model) { return sizing::margins_m(model).at(0); }

/// The end so high that the line has just this much head to spare.
Model with_margin(double margin_m) {
  double low = 50.0, high = 100.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (margin_of(one_line(middle)) > margin_m ? low : high) = middle;
  }
  return one_line(low);
}

constexpr int samples = 4000;

sizing::Chance sampled_chance(const Model& model, const std::vector<Unknown>& unknowns,
                              std::uint64_t seed = 7) {
  std::vector<std::vector<double>> margins;
  for (int i = 0; i < samples; ++i)
    margins.push_back(
        sizing::margins_m(sizing::sampled(model, unknowns, seed, static_cast<std::uint64_t>(i))));
  return sizing::chances(model, margins).at(0);
}

/// Four standard errors: one run in some 16,000 lies farther off, and the seed is fixed.
void check_chance(const sizing::Chance& chance, double expected) {
  CHECK(chance.chance ==
        Approx(expected).margin(4.0 * std::sqrt(expected * (1.0 - expected) / samples)).epsilon(0));
  CHECK(chance.error == Approx(std::sqrt(chance.chance * (1.0 - chance.chance) / samples)).epsilon(1e-12));
}

}  // namespace

TEST_CASE("the chance that a line with one deviation to spare holds is that of the normal law") {
  Model model = with_margin(1.0);
  model.pipelines[0].survey_error = Length::metres(2.0);  // twice the deviation, which is 1 m
  // Phi(1) = 0.841345; the length of the pipe changes by a thousandth of what its end is off.
  check_chance(sampled_chance(model, {{Unknown::Kind::survey, 0}}), 0.841345);
}

TEST_CASE("the chance that a spring gives what is asked is that of Student's law") {
  Model model = with_margin(5.0);
  auto& box = model.boxes[0];
  box.bucket_tests = network::BucketTests{Volume::from_si(0.01), {}};
  // Three tests of 3.1e-4, 3.2e-4 and 3.3e-4 m3/s: mean 3.2e-4, deviation of the mean 1e-5 / sqrt(3).
  for (const double rate : {3.1e-4, 3.2e-4, 3.3e-4})
    box.bucket_tests->times.push_back(Duration::from_si(0.01 / rate));
  box.yield = Flow::from_si(3.2e-4);
  // 95 % of Student's t with two degrees lie below 2.920 (any table; from memory).
  model.asks[0].flow = Flow::from_si(3.2e-4 - 2.920 * 1e-5 / std::sqrt(3.0));
  check_chance(sampled_chance(model, {{Unknown::Kind::yield, 0}}), 0.95);
}

TEST_CASE("the chance that a bore is wide enough is the share of its range") {
  Model model = one_line(80.0);
  auto& pipe = model.pipelines[0].pipes[0].pipe;
  pipe.outside = Length::millimetres(32.0);
  pipe.wall = Length::millimetres(2.9);
  pipe.bore_convention = pipes::BoreConvention::outside_less_two_minimum_walls;
  const network::BoreRange range = network::bore_range(pipe);
  REQUIRE(range.greatest > range.least);
  // So much is asked that a quarter of the range from its lower end is just not enough.
  Model quarter = model;
  quarter.boxes[0].yield = model.boxes[0].yield = Flow::from_si(1e-2);
  quarter.pipelines[0].pipes[0].pipe.bore = range.least + 0.25 * (range.greatest - range.least);
  double low = 1e-4, high = 5e-3;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    quarter.asks[0].flow = Flow::from_si(middle);
    (margin_of(quarter) >= 0.0 ? low : high) = middle;
  }
  model.asks[0].flow = Flow::from_si(low);
  check_chance(sampled_chance(model, {{Unknown::Kind::bore, 0}}), 0.75);
}

TEST_CASE("a sample follows from the seed and its number alone") {
  Model model = with_margin(1.0);
  model.pipelines[0].survey_error = Length::metres(2.0);
  const auto unknowns = sizing::unknowns_of(model);
  const auto at = [&](std::uint64_t seed, std::uint64_t i) {
    return margin_of(sizing::sampled(model, unknowns, seed, i));
  };
  const double late_first = at(3, 11), early = at(3, 2);
  CHECK(at(3, 11) == late_first);
  CHECK(at(3, 2) == early);
  CHECK(at(3, 3) != early);
  CHECK(at(4, 2) != early);
}

TEST_CASE("the ranking names what scatters most") {
  Model model = with_margin(1.0);
  model.pipelines[0].survey_error = Length::metres(6.0);
  const auto ranked = sizing::sureness(model, model, 1, 200).next;
  REQUIRE(ranked.size() >= 2);
  CHECK(ranked[0].influence.unknown.kind == Unknown::Kind::survey);
  double together = 0.0;
  for (const auto& one : ranked) together += one.influence.share;
  CHECK(together == Approx(1.0));
  SECTION("nothing unknown, nothing ranked") {
    model.pipelines[0].survey_error.reset();
    for (const auto& one : sizing::sureness(model, model, 1, 20).next)
      CHECK(one.influence.unknown.kind != Unknown::Kind::survey);
  }
}
