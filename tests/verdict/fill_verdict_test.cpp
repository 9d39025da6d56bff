// What a filling is said to come to.
#include "runnel/verdict/fill_verdict.h"

#include <catch2/catch.hpp>

#include "air/slow_front.h"
#include "filling/systems.h"
#include "runnel/units/print.h"
#include "support/rooms.h"

using namespace filling_test;
namespace filling = runnel::filling;
namespace verdict = runnel::verdict;

namespace {

constexpr double day_s = 86400.0;

struct Judged {
  network::System system;
  verdict::FillWatch watch;
  filling::FillHistory history;
  verdict::FillVerdict verdict;

  explicit Judged(const Model& model, filling::FillOptions options = {.duration_s = day_s})
      : system(support::resolved(model)), watch(system, 0.0, options.from_empty) {
    options.look = [this](double time_s, const auto& state) { watch.look(time_s, state); };
    history = filling::fill(system, options);
    verdict = verdict::judge_fill(system, history, {}, {&watch, options.from_empty});
  }
  std::string sentence() const {
    return runnel::units::render(verdict.sentence.text(), verdict.sentence.figures(),
                                 runnel::units::System::si);
  }
  const Finding* finding(const std::string& code) const {
    for (const Finding& f : verdict.findings)
      if (f.code == code) return &f;
    return nullptr;
  }
};

Ask flow_ask(const std::string& at, double m3s) {
  Ask ask;
  ask.at = at;
  ask.flow = Flow::from_si(m3s);
  return ask;
}

Ask full_ask(const std::string& at, double seconds) {
  Ask ask;
  ask.kind = AskKind::full_within;
  ask.at = at;
  ask.within = Duration::seconds(seconds);
  return ask;
}

/// A tank that runs down: a weak spring above it, a tap below.
Model running_down() {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 2e-5, 29.0, 30.0));
  Tank tank = round_tank("tank", 10.0, 2.0, 1.5);
  tank.level = m(11.9);
  s.tanks.push_back(tank);
  s.pipelines.push_back(line("main", "spring", "tank", 200.0, 29.0, 12.0, 0.0266));
  Outlet tap;
  tap.name = "tap";
  tap.elevation = m(8.0);
  tap.opening = m(0.004);
  tap.loss = 2.5;
  s.outlets.push_back(tap);
  s.pipelines.push_back(line("out", "tank", "tap", 60.0, 10.0, 8.0, 0.0266));
  return s;
}

/// Full of water it runs; from empty the air behind two high points holds it.
Model air_locked() {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 2e-4, 99.0, 100.0));
  s.tanks.push_back(round_tank("tank", 84.0, 2.0, 2.0));
  Pipeline main = line("main", "spring", "tank", 700.0, 99.0, 86.0, 0.0352);
  main.survey = {{m(0), m(99)},   {m(100), m(80)}, {m(200), m(95)}, {m(300), m(60)},
                 {m(400), m(92)}, {m(500), m(50)}, {m(650), m(86)}};
  s.pipelines.push_back(main);
  return s;
}

}  // namespace

TEST_CASE("a flow that is asked for is judged where it is least") {
  Model s = running_down();
  const Judged freely(s);
  REQUIRE(freely.history.places.size() >= 1);
  const double first = freely.history.places[0].series.front().flow_m3s;
  const double least = freely.history.places[0].least_m3s;
  REQUIRE(least < 0.8 * first);

  SECTION("met at the start only") {
    s.asks = {flow_ask("tap", 0.5 * (first + least))};
    const Judged judged(s);
    CHECK_FALSE(judged.verdict.good());
    REQUIRE(judged.verdict.asks[0].judged);
    CHECK_FALSE(judged.verdict.asks[0].met);
    CHECK(judged.verdict.least_at_s[0] > 0.0);
    // The state is shown at the ends of steps: the least of all stages is one of them, or lies beside.
    CHECK(judged.verdict.asks[0].got->si == Approx(least).epsilon(0.02));
    CHECK(judged.finding("ask-not-met"));
  }
  SECTION("met to the end") {
    s.asks = {flow_ask("tap", 0.9 * least)};
    const Judged judged(s);
    CHECK(judged.verdict.good());
    CHECK_THAT(judged.sentence(), Catch::Contains("All that is asked comes at every instant"));
  }
}

TEST_CASE("what is not judged is never called good") {
  Model s = running_down();
  s.asks = {flow_ask("tap", 1e-7)};
  const network::System system = support::resolved(s);
  const filling::FillHistory history = filling::fill(system, {.duration_s = day_s});
  verdict::FillVerdict verdict = verdict::judge_fill(system, history);  // nobody looked on
  CHECK_FALSE(verdict.good());
  CHECK_THAT(verdict.sentence.text(), Catch::Contains("cannot be said, because"));

  s.asks = {full_ask("tank", 30.0 * day_s)};  // it empties; the run ends before that
  const Judged judged(s, {.duration_s = 3600.0});
  CHECK_FALSE(judged.verdict.good());
  CHECK(judged.finding("ask-not-judged"));
  CHECK_THAT(judged.sentence(), Catch::Contains("cannot be said, because"));
}

TEST_CASE("a line that air locks from empty fills no tank") {
  Model s = air_locked();
  s.asks = {full_ask("tank", 30.0 * day_s)};
  const Judged judged(s, {.until_full = true});
  REQUIRE(judged.watch.blocked("tank"));
  CHECK_FALSE(judged.verdict.good());
  CHECK_FALSE(judged.verdict.asks[0].met);
  CHECK(judged.finding("air-start-blocked"));
  CHECK_THAT(judged.sentence(), Catch::StartsWith("No water reaches tank through lines that start empty"));
  for (SurveyPoint& point : s.pipelines[0].survey)  // the same with an even fall
    point.elevation = m(99.0 - 13.0 * point.station.metres() / 650.0);
  const Judged even(s, {.until_full = true});
  CHECK_FALSE(even.watch.blocked("tank"));
  CHECK(even.verdict.good());
}

TEST_CASE("from empty the lines have to fill as well") {
  Model s = air_locked();
  for (SurveyPoint& point : s.pipelines[0].survey)
    point.elevation = m(99.0 - 13.0 * point.station.metres() / 650.0);
  const Judged first(s, {.until_full = true, .from_empty = true});
  const double tank_s = *first.history.storages[0].full_after_s;
  const auto lines_s = first.watch.first_water_s("tank");
  REQUIRE(lines_s);
  // The bore over the yield: 650 m of plan and 13 m of fall.
  const double bore_m3 = 3.14159265358979 / 4.0 * 0.0352 * 0.0352 * std::hypot(650.0, 13.0);
  CHECK(*lines_s == Approx(bore_m3 / 2e-4).epsilon(1e-6));
  s.asks = {full_ask("tank", tank_s + 0.5 * *lines_s)};
  CHECK_FALSE(Judged(s, {.until_full = true, .from_empty = true}).verdict.good());
  s.asks = {full_ask("tank", tank_s + 1.01 * *lines_s)};
  CHECK(Judged(s, {.until_full = true, .from_empty = true}).verdict.good());
}

TEST_CASE("from empty a need counts from when water first meets it") {
  Model s = air_locked();
  for (SurveyPoint& point : s.pipelines[0].survey)
    point.elevation = m(99.0 - 13.0 * point.station.metres() / 650.0);
  s.boxes[0].floor = m(98.5);
  s.boxes[0].plan_length = s.boxes[0].plan_width = m(2.0);  // it has to fill before anything leaves it
  s.asks = {flow_ask("tank", 1.9e-4)};
  const filling::FillOptions from_empty{.until_full = true, .from_empty = true};
  const Judged judged(s, from_empty);
  CHECK(judged.verdict.good());
  CHECK(judged.watch.asks()[0].reached);
  CHECK(judged.watch.asks()[0].least.got->si >= 1.9e-4);
  // One that is never met is missed by the best it gets.
  s.asks = {flow_ask("tank", 3e-4)};
  const Judged missed(s, from_empty);
  CHECK_FALSE(missed.verdict.good());
  CHECK_FALSE(missed.watch.asks()[0].reached);
  CHECK(missed.watch.asks()[0].least.got->si == Approx(2e-4).epsilon(1e-6));
}

TEST_CASE("a draw at a joint that is short for a while is told with how much is missing") {
  Model s = running_down();
  Joint yard;
  yard.name = "yard";
  yard.elevation = m(9.0);
  yard.draw = Flow::from_si(6e-5);
  s.joints.push_back(yard);
  s.pipelines[1] = line("out", "tank", "yard", 60.0, 10.0, 9.0, 0.0266, 0.5, 0.0);
  s.pipelines.push_back(line("end", "yard", "tap", 20.0, 9.0, 8.0, 0.0266, 0.0, 1.0));
  const Judged judged(s, {.duration_s = 4.0 * day_s});
  const Finding* finding = judged.finding("draw-not-met");
  REQUIRE(finding);
  CHECK_FALSE(judged.verdict.good());
  CHECK(finding->figure->si < finding->limit->si);
  CHECK(finding->limit->si == Approx(6e-5 * 4.0 * day_s));
}

TEST_CASE("a run whose check failed says nothing of what it found") {
  Judged judged(running_down());
  REQUIRE(judged.verdict.good());
  judged.history.proof.consistent = false;
  const verdict::FillVerdict verdict =
      verdict::judge_fill(judged.system, judged.history, {}, {&judged.watch});
  CHECK_FALSE(verdict.good());
  CHECK(verdict.ruling == verdict::Ruling::unproved);
  REQUIRE(verdict.findings.size() == 1);
  CHECK(verdict.findings[0].code == "check-failed");
  CHECK_THAT(verdict.sentence.text(), Catch::Contains("did not pass its check"));
}

TEST_CASE("from empty a tank is full when a fine integration of the front and of the filling has it full") {
  // A steep line that takes all, gentle ones that do not, one with a pocket behind its crest.
  const std::vector<runnel::test::Dry> lines = {
      {{{0, 100}, {300, 60}}, 100.5, 3e-4, 0.03},
      {{{0, 100}, {2000, 96}}, 100.5, 2e-3, 0.03},
      {{{0, 100}, {500, 90}, {1500, 97}, {1900, 80}}, 100.5, 1e-3, 0.026},
  };
  for (const runnel::test::Dry& dry : lines) {
    CAPTURE(dry.points.size(), dry.yield_m3s);
    Model model = dry.model();
    const double end_m = dry.points.back().second;
    model.outlets.clear();
    model.tanks = {round_tank("trough", end_m - 1.0, 1.0, 1.0)};
    model.asks = {full_ask("trough", 30.0 * day_s)};
    const Judged judged(model, {.until_full = true, .from_empty = true});
    REQUIRE(judged.history.outcome == filling::FillOutcome::done);
    REQUIRE(judged.verdict.asks.at(0).got);
    // The front fills the bore; from then on the line carries what it carries full, into a tank whose inlet
    // stands over the water to the last.
    const double runs_m3s = steady::solve(model).line("main")->flow_m3s;
    const double fine_s =
        runnel::test::SlowFront(dry, judged.system).seconds(4000) + 0.25 * 3.14159265358979323846 / runs_m3s;
    CHECK(judged.verdict.asks[0].got->si == Approx(fine_s).epsilon(0.01));
  }
}
