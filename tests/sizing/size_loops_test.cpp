#include "runnel/sizing/size_loops.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "runnel/sizing/design_loops.h"
#include "runnel/sizing/frontier.h"
#include "runnel/sizing/loop_trials.h"
#include "runnel/sizing/split.h"
#include "runnel/verdict/answer.h"
#include "sizing/open_lines.h"

using namespace runnel;
using network::Model;
using open_lines::all_sizes, open_lines::answer_of, open_lines::ask, open_lines::cheapest_of_all;
using sizing::SizeOutcome;

namespace {

const open_lines::Series series{{0.0204, 0.0262, 0.0326, 0.0408}, {0.9, 1.35, 2.1, 3.2}};

void leave_open(Model& model, std::size_t line) { model.pipelines[line].choice = all_sizes(model, series); }

/// A ring from a spring, with a tap on either side of it.
Model ring(double upper_m3s = 3e-4, double lower_m3s = 4e-4) {
  Model model = small::empty();
  small::box(model, "spring", 1.2e-3, 100.0, 100.5);
  small::joint(model, "head", 92.0);
  small::joint(model, "left", 84.0);
  small::joint(model, "right", 86.0);
  small::outlet(model, "left tap", 80.0, 0.015, 4.0);
  small::outlet(model, "right tap", 82.0, 0.015, 4.0);
  small::line(model, "down", "spring", "head", 0.0408, {{0.0, 100.0}, {120.0, 92.0}});
  small::line(model, "left way", "head", "left", 0.0326, {{0.0, 92.0}, {150.0, 84.0}});
  small::line(model, "right way", "head", "right", 0.0326, {{0.0, 92.0}, {210.0, 86.0}});
  small::line(model, "across", "left", "right", 0.0326, {{0.0, 84.0}, {90.0, 86.0}});
  small::line(model, "to left tap", "left", "left tap", 0.0262, {{0.0, 84.0}, {30.0, 80.0}});
  small::line(model, "to right tap", "right", "right tap", 0.0262, {{0.0, 86.0}, {40.0, 82.0}});
  for (std::size_t l = 0; l < 4; ++l) leave_open(model, l);
  for (std::size_t l = 4; l < 6; ++l) model.pipelines[l].pipes[0].pipe.rating = Pressure::from_si(16e5);
  ask(model, "left tap", upper_m3s);
  ask(model, "right tap", lower_m3s);
  return model;
}

/// Two springs that meet at one trough.
Model two_springs() {
  Model model = small::empty();
  small::box(model, "near spring", 3e-4, 100.0, 100.5);
  small::box(model, "far spring", 6e-4, 104.0, 104.5);
  small::joint(model, "meeting", 88.0);
  small::outlet(model, "trough", 80.0);
  small::line(model, "near line", "near spring", "meeting", 0.0262, {{0.0, 100.0}, {100.0, 88.0}});
  small::line(model, "far line", "far spring", "meeting", 0.0262, {{0.0, 104.0}, {260.0, 88.0}});
  small::line(model, "last line", "meeting", "trough", 0.0262, {{0.0, 88.0}, {140.0, 80.0}});
  for (std::size_t l = 0; l < 3; ++l) leave_open(model, l);
  ask(model, "trough", 7e-4);
  return model;
}

void check_cheapest(const Model& model) {
  const double best = cheapest_of_all(model, series);
  REQUIRE(std::isfinite(best));
  const auto answer = answer_of(model);
  INFO(answer.trial.setting << ": " << answer.trial.reason);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.loops);
  CHECK(answer.proved);
  CHECK(answer.cost == Approx(best).epsilon(1e-9));
  CHECK(answer.bound <= answer.cost);
  CHECK(answer.trial.good);
  double sum = 0.0;
  for (const auto& line : answer.lines) sum += line.cost;
  CHECK(sum == Approx(answer.cost).epsilon(1e-12));
}

}  // namespace

TEST_CASE("a ring gets the cheapest pipe of all that pass the full trial, proved") {
  check_cheapest(ring());
  SECTION("asked for less") { check_cheapest(ring(1e-4, 2e-4)); }
}

TEST_CASE("two springs that meet get the cheapest pipe of all that pass the full trial") {
  check_cheapest(two_springs());
}

TEST_CASE("a ring with a setting that draws more gets pipe that does there as well") {
  Model model = ring(2e-4, 2e-4);
  small::joint(model, "yard", 85.0);
  model.joints.back().draw = Flow::from_si(5e-5);
  small::line(model, "to yard", "right", "yard", 0.0262, {{0.0, 86.0}, {25.0, 85.0}});
  model.pipelines.back().pipes[0].pipe.rating = Pressure::from_si(16e5);
  const double before = answer_of(model).cost;
  network::Setting evening;
  evening.name = "evening";
  evening.draws = {{"yard", Flow::from_si(4e-4), {}}};
  model.settings.push_back(evening);
  const auto answer = answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.cost > before);
  const auto whole = verdict::answer_model(answer.trial.model);
  REQUIRE(whole);
  CHECK(whole.value->good());
  CHECK(whole.value->runs.size() == 2);
}

TEST_CASE("a search that may not go through all choices says so, and its bound stays below") {
  sizing::SizeLimits limits;
  int asked = 0;
  limits.stop = [&] { return ++asked > 40; };
  const auto answer = sizing::size(ring(), limits);
  REQUIRE(answer);
  CHECK_FALSE(answer.value->proved);
  CHECK(answer.value->stopped);
  if (answer.value->outcome == SizeOutcome::chosen) CHECK(answer.value->bound <= answer.value->cost);
}

TEST_CASE("a ring that no pipe can serve names the place and the head that is missing") {
  Model model = ring();
  network::Ask pressure;
  pressure.kind = network::AskKind::pressure;
  pressure.at = "left";
  pressure.pressure = Pressure::from_si(16.3 * model.site.specific_weight_nm3());
  model.asks.push_back(pressure);
  const auto answer = answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::out_of_reach);
  REQUIRE(answer.shortfalls.size() == 1);
  CHECK(answer.shortfalls[0].place == "left");
  CHECK(answer.shortfalls[0].short_m > 0.0);
}

TEST_CASE("a ring that no pipe can serve names the flow that the place could have instead") {
  Model model = ring();
  for (auto& outlet : model.outlets)
    if (outlet.name == "left tap") outlet.elevation = Length::metres(99.3);
  model.pipelines[4].survey.back().elevation = Length::metres(99.3);
  const auto answer = answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::out_of_reach);
  REQUIRE_FALSE(answer.shortfalls.empty());
  CHECK(answer.shortfalls[0].place == "left tap");
  REQUIRE(answer.shortfalls[0].flow_m3s.has_value());
  Model less = model;
  less.asks[0].flow = Flow::from_si(*answer.shortfalls[0].flow_m3s * 0.99);
  CHECK(answer_of(less).outcome != SizeOutcome::out_of_reach);
  less.asks[0].flow = Flow::from_si(*answer.shortfalls[0].flow_m3s * 1.02);
  CHECK(answer_of(less).outcome == SizeOutcome::out_of_reach);
}

TEST_CASE("a system in numbers has the heads that the whole answer has where taps give what is asked") {
  const Model model = ring();
  const auto answer = answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  const auto loops = sizing::design_loops(model, sizing::PriceList(model));
  REQUIRE(loops);
  std::vector<int> options;
  for (std::size_t r = 0; r < loops.value->lines.size(); ++r) {
    const std::string& pipe = answer.lines[static_cast<std::size_t>(loops.value->lines[r])].pipe;
    const auto& among = model.pipelines[static_cast<std::size_t>(loops.value->lines[r])].choice->among;
    for (std::size_t k = 0; k < loops.value->sizes[r].size(); ++k)
      if (among[static_cast<std::size_t>(loops.value->sizes[r][k])].name == pipe)
        options.push_back(static_cast<int>(k));
  }
  sizing::LoopTrials trials(loops.value->choice);
  CHECK(trials.margin_m(options) >= 0.0);
  const auto system = network::resolve(answer.trial.model);
  REQUIRE(system);
  const auto state = steady::solve(*system.value);
  for (std::size_t v = 0; v < loops.value->places.size(); ++v) {
    const auto& name = loops.value->places[v];
    for (std::size_t j = 0; j < model.joints.size(); ++j)
      if (model.joints[j].name == name) {
        // The throttles of the chosen model are rounded down, so that its taps give a little more than is
        // asked and its heads lie a little lower, by no more than some centimetres.
        CHECK(*state.joints[j].grade_m < trials.state().head_m[v] + 1e-3);
        CHECK(*state.joints[j].grade_m > trials.state().head_m[v] - 0.05);
      }
  }
}

TEST_CASE("the lines of a ring may change size, which costs less and passes the same trial") {
  Model model = ring();
  for (std::size_t l = 0; l < 4; ++l) model.pipelines[l].choice->sizes = 2;
  const auto whole = answer_of(model);
  REQUIRE(whole.outcome == SizeOutcome::chosen);
  const auto split = sizing::split(model, whole);
  REQUIRE(split);
  CHECK(split->cost < whole.cost);
  CHECK(split->trial.good);
  CHECK_FALSE(split->bound.has_value());
  std::map<std::string, double> length_m;
  double cost = 0.0;
  for (const auto& piece : split->pieces) {
    length_m[piece.line] += piece.length_m;
    cost += piece.cost;
  }
  CHECK(cost == Approx(split->cost).epsilon(1e-12));
  for (std::size_t l = 0; l < 4; ++l)
    CHECK(length_m[whole.lines[l].line] == Approx(whole.lines[l].length_m).epsilon(1e-9));
  SECTION("what may not be split stays as it was chosen") {
    model.pipelines[0].choice->sizes = 1;
    const auto less = sizing::split(model, whole);
    if (less) {
      for (const auto& piece : less->pieces)
        if (piece.line == "down") CHECK(piece.pipe == whole.lines[0].pipe);
      CHECK(less->cost >= split->cost * (1.0 - 1e-6));
    }
  }
  SECTION("a search that is stopped gives nothing rather than something half done") {
    CHECK_FALSE(sizing::split(model, whole, [] { return true; }));
  }
}

TEST_CASE("the trade-off of a ring holds the choice, what is laid now, and dearer pipe for more water") {
  const Model model = ring();
  const auto answer = answer_of(model);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  const Model now = sizing::laid(model, {3, 3, 3, 3, 0, 0});
  const auto rows = sizing::frontier(model, answer, sizing::sizes_laid(model, now));
  int chosen = 0, present = 0;
  const sizing::FrontierRow* last = nullptr;
  for (const auto& row : rows) {
    chosen += row.chosen;
    present += row.present;
    CHECK(row.fails.empty() == sizing::try_out(sizing::laid(model, row.sizes)).good);
    if (row.present) continue;  // it may be beaten
    if (last) CHECK(row.flow_m3s >= last->flow_m3s);
    last = &row;
  }
  CHECK(chosen == 1);
  CHECK(present == 1);
  CHECK(rows.size() >= 3);
}

TEST_CASE("a ring with a bound on the velocity gets the cheapest pipe of all that keep it") {
  Model model = ring();
  network::VelocityAsk ask;
  ask.at_most = Velocity::metres_per_second(0.8);
  model.velocity_asks.push_back(ask);
  const double free_cost = answer_of(ring()).cost;
  check_cheapest(model);
  CHECK(answer_of(model).cost > free_cost);
}
