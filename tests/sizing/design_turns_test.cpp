// Taps that are drawn at different hours, tanks that store what comes at others, and pipe too narrow for its
// tap.
#include "runnel/sizing/design_turns.h"

#include <catch2/catch.hpp>

#include "runnel/network/draws.h"
#include "runnel/sizing/frontier.h"
#include "runnel/sizing/sampler.h"
#include "runnel/sizing/sureness.h"
#include "sizing/open_lines.h"

using namespace runnel;
using network::Model;
using open_lines::answer_of, open_lines::cheapest_of_all, open_lines::two_taps;
using sizing::SizeOutcome;

namespace {

const auto& series = open_lines::five_sizes;

/// A draw that takes `flow_m3s` in its hours; `Draw::flow` is the mean of the day.
network::Draw in_hours(double flow_m3s, double from_hour, double to_hour) {
  network::Draw draw;
  draw.flow = Flow::from_si(flow_m3s * (to_hour - from_hour) / 24.0);
  draw.from_hour = from_hour;
  draw.to_hour = to_hour;
  return draw;
}

/// `two_taps` drawn at different hours instead of asked, from a spring that could not feed both at once.
Model by_turns(double upper_m3s, double lower_m3s, double lower_from = 17.0) {
  Model model = two_taps();
  model.asks.clear();
  model.boxes[0].yield = Flow::from_si(4e-4);
  model.outlets[0].draws = {in_hours(upper_m3s, 6.0, 9.0)};
  model.outlets[1].draws = {in_hours(lower_m3s, lower_from, lower_from + 3.0)};
  return model;
}

/// A weak spring, a tank, and below it the two taps drawn at different hours.
Model below_a_tank(double upper_m3s, double lower_m3s) {
  Model model = by_turns(upper_m3s, lower_m3s);
  model.boxes[0].yield = Flow::from_si(1e-4);
  small::tank(model, "tank", 100.0, 99.8);
  model.boxes[0].outlet = Length::metres(120.0);
  model.boxes[0].lip = Length::metres(120.5);
  model.pipelines[0].from = "tank";
  model.pipelines[0].survey[0].elevation = model.tanks[0].floor;
  small::line(model, "feed", "spring", "tank", 0.0204, {{0.0, 120.0}, {200.0, 110.0}, {400.0, 100.0}});
  model.pipelines.back().choice = open_lines::all_sizes(model, series);
  return model;
}

}  // namespace

TEST_CASE("taps by turns get pipe for their own hours, the cheapest of all that pass") {
  const double upper_m3s = GENERATE(2e-4, 3e-4);
  const Model model = by_turns(upper_m3s, 3e-4);
  const auto answer = answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.proved);
  CHECK(answer.cost == Approx(cheapest_of_all(model, series)).epsilon(1e-9));
  CHECK(answer.lines[0].flow_m3s == Approx(std::min(upper_m3s, 3e-4)));
  CHECK(answer.lines[2].flow_m3s == Approx(3e-4));
  SECTION("together they would need wider pipe and more water") {
    const Model at_once = by_turns(upper_m3s, 3e-4, 6.0);
    const auto refused = sizing::size(at_once);
    REQUIRE_FALSE(refused);
    CHECK(refused.findings[0].code == "spring-gives-too-little");
  }
}

TEST_CASE("a tank is fed what it passes on in the mean of the day") {
  const Model model = below_a_tank(3e-4, 3e-4);
  const auto answer = answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.proved);
  CHECK(answer.cost == Approx(cheapest_of_all(model, series)).epsilon(1e-9));
  const double mean_m3s =
      (network::daily_mean(model.outlets[0].draws) + network::daily_mean(model.outlets[1].draws)).si();
  CHECK(answer.lines[3].flow_m3s == Approx(mean_m3s).epsilon(2e-5));
  CHECK(answer.lines[0].flow_m3s == Approx(3e-4));
  SECTION("more than the spring gives in a day is refused") {
    const auto refused = sizing::size(below_a_tank(5e-4, 4e-4));
    REQUIRE_FALSE(refused);
    CHECK(refused.findings[0].code == "spring-gives-too-little");
  }
}

TEST_CASE("a tank that is asked a flow passes on what comes for it") {
  Model model = below_a_tank(3e-4, 3e-4);
  open_lines::ask(model, "tank", 9e-5);  // more than the mean of the draws, less than both together
  const auto answer = answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.lines[3].flow_m3s == Approx(9e-5));
}

TEST_CASE("a need may be met once a tank has filled, and a candidate for that is not left out") {
  Model model = below_a_tank(3e-4, 3e-4);
  for (const double level_m : {98.9, 99.1, 99.8}) {
    model.tanks[0].level = Length::metres(level_m);
    const auto answer = answer_of(model);
    INFO("level " << level_m);
    CHECK(answer.outcome == SizeOutcome::chosen);
    CHECK(answer.cost == Approx(cheapest_of_all(model, series)).epsilon(1e-9));
  }
}

TEST_CASE("pipe too narrow for its tap is no candidate") {
  Model model = two_taps();
  model.outlets[0].opening = Length::metres(0.020);
  const auto answer = answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.proved);
  CHECK(answer.lines[1].pipe != "size 0");
  CHECK(answer.cost == Approx(cheapest_of_all(model, series)).epsilon(1e-9));
  SECTION("where all are, the model is refused") {
    model.outlets[0].opening = Length::metres(0.050);
    const auto refused = sizing::size(model);
    REQUIRE_FALSE(refused);
    CHECK(refused.findings[0].code == "opening-wider-than-pipe");
  }
}

TEST_CASE("what is drawn is sampled like what is asked, turn by turn") {
  Model asked = two_taps();
  Model drawn = asked;
  drawn.asks.clear();
  drawn.outlets[0].draws = {in_hours(2e-4, 6.0, 9.0)};
  drawn.outlets[1].draws = {in_hours(3e-4, 6.0, 9.0)};
  const sizing::Sizes sizes{3, 2, 1};
  const Model as_asked = sizing::laid(asked, sizes), as_drawn = sizing::laid(drawn, sizes);
  CHECK(sizing::places_asked(as_drawn) == sizing::places_asked(as_asked));
  const auto of_asks = sizing::margins_m(as_asked), of_draws = sizing::margins_m(as_drawn);
  REQUIRE(of_draws.size() == 2);
  CHECK(of_draws[0] == Approx(of_asks[0]));
  CHECK(of_draws[1] == Approx(of_asks[1]));
  SECTION("in turns each has the head that the other leaves it") {
    drawn.outlets[1].draws = {in_hours(3e-4, 17.0, 20.0)};
    const Model in_turns = sizing::laid(drawn, sizes);
    const auto apart = sizing::margins_m(in_turns);
    Model upper_alone = as_asked;
    upper_alone.asks.pop_back();
    CHECK(apart[0] == Approx(sizing::margins_m(upper_alone)[0]));
    CHECK(apart[0] > of_asks[0] + 0.1);
    for (const auto& chance : sizing::chances_of(in_turns, 1, 200)) {
      INFO(chance.place);
      CHECK(chance.chance > 0.0);
      CHECK(chance.margin_m < sizing::nothing_asked_m / 2.0);
    }
    const sizing::Sampler sampler(in_turns, sizing::unknowns_of(in_turns), 7, sizing::Sampler::Use::margins);
    sizing::SampleBlock block;
    sampler.run_margins(3, block);
    for (std::size_t lane = 0; lane < sizing::together; ++lane) {
      const auto one = sizing::margins_m(
          sizing::sampled(in_turns, sizing::unknowns_of(in_turns), 7, 3 * sizing::together + lane));
      for (std::size_t p = 0; p < one.size(); ++p)
        CHECK(block.margin_m[p * sizing::together + lane] == Approx(one[p]).margin(1e-9));
    }
  }
}
