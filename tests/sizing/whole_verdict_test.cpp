// What no sum over the lines expresses, and the whole verdict finds: the candidates fail it one after the
// other, until one does not.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/pipes/catalogue.h"
#include "runnel/sizing/size.h"
#include "sizing/open_lines.h"

using namespace runnel;
using network::Model;
using sizing::SizeOutcome;

namespace {

bool has(const std::vector<std::string>& codes, const std::string& code) {
  return std::find(codes.begin(), codes.end(), code) != codes.end();
}

/// A spring of 1 L/s, and a tank 38 m below that takes 6.3 m3.
Model spring_and_tank() {
  Model model = small::empty();
  small::box(model, "spring", 1e-3, 100.0, 100.5);
  small::tank(model, "tank", 62.0, 60.5);
  small::line(model, "line", "spring", "tank", 0.0262, {{0.0, 100.0}, {300.0, 80.0}, {500.0, 62.0}});
  model.pipelines[0].choice = open_lines::all_sizes(model, open_lines::five_sizes);
  return model;
}

/// A tap 95 m below a spring, in pipe of the catalogue that is rated little above that.
Model spring_and_tap(const std::vector<std::string>& pipes) {
  Model model = small::empty();
  small::box(model, "spring", 3e-3, 100.0, 102.0);
  small::outlet(model, "tap", 5.0, 0.010, 3.0);
  small::line(model, "line", "spring", "tap", 0.0262, {{0.0, 100.0}, {250.0, 5.0}});
  network::PipeChoice choice;
  double price = 1.0;
  for (const std::string& name : pipes) {
    choice.among.push_back(*pipes::standard_catalogue().find(name));
    model.prices.push_back({name, price, true, {}});
    price *= 1.5;
  }
  model.pipelines[0].choice = choice;
  open_lines::ask(model, "tap", 2e-4);
  return model;
}

}  // namespace

TEST_CASE("pipe is chosen so that a tank is full in time") {
  Model model = spring_and_tank();
  network::Ask ask;
  ask.kind = network::AskKind::full_within;
  ask.at = "tank";
  ask.within = Duration::from_si(4.0 * 3600.0);
  model.asks.push_back(ask);
  const auto answer = open_lines::answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.proved);
  CHECK(answer.tried > 1);
  CHECK(has(answer.failed, "ask-not-met"));
  CHECK(answer.cost == Approx(open_lines::cheapest_of_all(model, open_lines::five_sizes)).epsilon(1e-9));
}

TEST_CASE("a need that is the mean of a day does not throttle a tap below what is drawn in its hours") {
  Model model = small::empty();
  small::box(model, "spring", 2e-3, 102.5, 103.0);
  small::outlet(model, "tap", 90.0, 0.015, 2.0);
  small::outlet(model, "other", 90.0, 0.015, 2.0);
  small::line(model, "line", "spring", "tap", 0.0262, {{0.0, 102.5}, {200.0, 90.0}});
  small::line(model, "second", "spring", "other", 0.0408, {{0.0, 102.5}, {200.0, 90.0}});
  model.pipelines[1].pipes[0].pipe.rating = Pressure::from_si(16e5);
  model.pipelines[0].choice = open_lines::all_sizes(model, open_lines::five_sizes);
  // 4 m3 a day in two hours are 0.56 L/s.
  const double mean_m3s = 4.0 / 86400.0;
  for (auto& outlet : model.outlets) {
    outlet.draws = {{"", Flow::from_si(mean_m3s), 6.0, 8.0}};
    open_lines::ask(model, outlet.name, mean_m3s);
  }
  const auto answer = open_lines::answer_of(model);
  INFO(answer.trial.sentence.text());
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.trial.throttles.empty());
  CHECK(answer.cost == Approx(open_lines::cheapest_of_all(model, open_lines::five_sizes)).epsilon(1e-9));
  // What fails says where.
  for (auto& line : model.pipelines)
    if (line.choice) line.choice->among.resize(1);
  const auto narrow = open_lines::answer_of(model);
  REQUIRE(narrow.outcome != SizeOutcome::chosen);
  CHECK(narrow.trial.at == "tap");
}

TEST_CASE("no pipe does where the year has a month with too little water") {
  Model model = spring_and_tank();
  open_lines::ask(model, "tank", 3e-4);
  CHECK(open_lines::answer_of(model).outcome == SizeOutcome::chosen);
  network::Year year;
  network::Year::Row yields;
  yields.place = "spring";
  for (int month = 0; month < 12; ++month) yields.flows.push_back(Flow::from_si(month == 8 ? 2e-4 : 1e-3));
  year.yields.push_back(yields);
  model.year = year;
  const auto answer = open_lines::answer_of(model);
  CHECK(answer.outcome == SizeOutcome::none_does);
  CHECK(has(answer.failed, "need-fails-in-dry-season"));
}

TEST_CASE("pipe is chosen that stands a tap which snaps shut, if there is any") {
  const std::vector<std::string> both{"PE100 SDR17 32 mm", "PE100 SDR17 50 mm"};
  const Model model = spring_and_tap(both);
  const sizing::Trial narrow = sizing::try_out(sizing::laid(model, {0}));
  const sizing::Trial wide = sizing::try_out(sizing::laid(model, {1}));
  INFO(narrow.reason << " / " << wide.reason);
  REQUIRE(narrow.good);
  REQUIRE(narrow.surge);
  REQUIRE(wide.good);
  REQUIRE_FALSE(wide.surge);
  const auto answer = open_lines::answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.proved);
  CHECK(answer.lines[0].pipe == both[1]);
  CHECK(has(answer.failed, "surge-above-rating"));
  CHECK(answer.remarks.empty());
  SECTION("where none stands it, the cheapest that delivers is taken, and the blow is told") {
    const auto only = open_lines::answer_of(spring_and_tap({both[0]}));
    REQUIRE(only.outcome == SizeOutcome::chosen);
    CHECK(only.lines[0].pipe == both[0]);
    REQUIRE(only.remarks.size() == 1);
    CHECK(only.remarks[0].code == "surge-above-rating");
  }
}
