#include "runnel/sizing/sureness.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <thread>

#include "runnel/sizing/size.h"
#include "steady/small_systems.h"

using namespace runnel;
using network::Model;

namespace {

/// A line with a high point that nearly governs, its levels known to half a metre.
Model line_over_a_crest(double flow_m3s = 3e-4) {
  Model model = small::empty();
  small::box(model, "spring", 1e-3, 100.0, 100.5);
  small::outlet(model, "end", 80.0);
  auto& line = small::line(model, "line", "spring", "end", 0.0262,
                           {{0.0, 100.0}, {120.0, 90.0}, {200.0, 96.5}, {300.0, 80.0}});
  line.survey_error = Length::metres(1.0);
  network::Ask ask;
  ask.at = "end";
  ask.flow = Flow::from_si(flow_m3s);
  model.asks.push_back(ask);
  return model;
}

void share_among_three(std::size_t count, const std::function<void(std::size_t)>& work) {
  std::vector<std::thread> threads;
  for (std::size_t t = 0; t < 3; ++t)
    threads.emplace_back([&, t] {
      for (std::size_t i = t; i < count; i += 3) work(i);
    });
  for (auto& thread : threads) thread.join();
}

}  // namespace

TEST_CASE("the figures are the same bytes however the work is shared") {
  const Model model = line_over_a_crest();
  const auto alone = sizing::sureness(model, model, 11, 1000);
  const auto shared = sizing::sureness(model, model, 11, 1000, share_among_three);
  REQUIRE(alone.places.size() == 1);
  CHECK(alone.places[0].chance.chance == shared.places[0].chance.chance);
  CHECK(alone.places[0].chance.margin_m == shared.places[0].chance.margin_m);
  CHECK(alone.places[0].low_m3s == shared.places[0].low_m3s);
  CHECK(alone.places[0].high_m3s == shared.places[0].high_m3s);
  for (std::size_t i = 0; i < alone.next.size(); ++i)
    CHECK(alone.next[i].influence.share == shared.next[i].influence.share);
  CHECK(sizing::sureness(model, model, 12, 1000).places[0].chance.margin_m !=
        alone.places[0].chance.margin_m);
}

TEST_CASE("the high point to level again is named with its station") {
  const Model model = line_over_a_crest();
  const auto sure = sizing::sureness(model, model, 1, 1000);
  REQUIRE_FALSE(sure.next.empty());
  CHECK(sure.next[0].influence.unknown.kind == sizing::Unknown::Kind::survey);
  CHECK(sure.next[0].point == sizing::Binding{0, 200.0});
}

TEST_CASE("the corners stand on either side of what is sampled, and a good bad corner is certain") {
  for (const double flow : {1e-4, 3e-4, 4e-4}) {
    const Model model = line_over_a_crest(flow);
    const auto sure = sizing::sureness(model, model, 3, 2000);
    const auto& place = sure.places[0];
    INFO(flow);
    CHECK(place.bad_margin_m < place.chance.margin_m);
    CHECK(place.chance.margin_m < place.good_margin_m);
    CHECK(place.low_m3s <= place.high_m3s);
    if (place.certain()) CHECK(place.chance.chance > 0.95);
  }
  CHECK(sizing::sureness(line_over_a_crest(1e-4), line_over_a_crest(1e-4), 3, 500).places[0].certain());
}

TEST_CASE("what is chosen to be sure is the cheapest that is") {
  Model model = line_over_a_crest(2.5e-4);
  network::PipeChoice choice;
  for (const double bore_m : {0.0204, 0.0262, 0.0326, 0.0408}) {
    pipes::Pipe pipe = small::pipe(bore_m);
    pipe.name = "bore " + std::to_string(static_cast<int>(std::round(1e4 * bore_m)));
    pipe.rating = Pressure::from_si(16e5);
    choice.among.push_back(pipe);
    model.prices.push_back({pipe.name, 100.0 * bore_m, true, {}});
  }
  model.pipelines[0].choice = choice;
  double before = 0.0;
  for (const double wanted : {0.0, 0.5, 0.9, 0.99}) {
    sizing::SizeLimits limits;
    const auto sure = [&](const Model& laid) {
      return sizing::chances_of(laid, 1, 500).at(0).chance >= wanted;
    };
    limits.accept = sure;
    const auto answer = sizing::size(model, limits);
    INFO(wanted);
    REQUIRE(answer);
    REQUIRE(answer.value->outcome == sizing::SizeOutcome::chosen);
    CHECK(answer.value->proved);
    CHECK(sure(answer.value->laid));
    CHECK(answer.value->cost >= before);
    before = answer.value->cost;
    // Each narrower pipe fails its trial, or is not sure enough.
    for (int k = 0; k < 4; ++k) {
      const Model other = sizing::laid(model, {k});
      if (100.0 * choice.among[static_cast<std::size_t>(k)].bore.metres() * answer.value->lines[0].length_m <
          answer.value->cost * (1.0 - 1e-9))
        CHECK((!sure(other) || !sizing::try_out(other).good));
    }
  }
}

TEST_CASE("a place of which only a time is asked is not said to be certain") {
  Model model = line_over_a_crest();
  model.outlets.clear();
  small::tank(model, "end", 80.0, 79.0);
  network::Ask& ask = model.asks.front();
  ask.kind = network::AskKind::full_within;
  ask.flow = Flow{};
  ask.within = Duration::from_si(86400.0);
  const auto sure = sizing::sureness(model, model, 1, 200);
  REQUIRE(sure.places.size() == 1);
  CHECK_FALSE(sure.places[0].sampled());
  CHECK_FALSE(sure.places[0].certain());
  CHECK(sure.full_within);
  const auto of_flow = sizing::sureness(line_over_a_crest(), line_over_a_crest(), 1, 200);
  REQUIRE(of_flow.places.size() == 1);
  CHECK(of_flow.places[0].sampled());
}
