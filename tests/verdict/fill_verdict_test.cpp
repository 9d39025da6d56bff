// What a filling is said to come to.
#include "runnel/verdict/fill_verdict.h"

#include <catch2/catch.hpp>

#include "air/slow_front.h"
#include "filling/systems.h"
#include "runnel/base/constants.h"
#include "runnel/losses/friction.h"
#include "runnel/losses/mouth.h"
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
                                 runnel::units::UnitSystem::si);
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

/// A spring, a tank, and a tank that only the first one feeds, all by straight lines.
struct InARow {
  double yield_m3s = 3e-4, bore_m = 0.0408, first_m = 300.0, second_m = 900.0;
  static constexpr double roughness_m = 7e-6, mouth_m = 60.2, end_m = 50.0, tank_m2 = 0.25 * runnel::pi;

  Model model() const {
    Model s = with_water();
    s.boxes.push_back(spring("spring", yield_m3s, 99.0, 100.0));
    s.tanks = {round_tank("upper", 60.0, 2.0, 1.0), round_tank("lower", end_m - 2.0, 2.0, 1.0)};
    s.pipelines = {line("down", "spring", "upper", first_m, 99.0, 62.0, bore_m),
                   line("on", "upper", "lower", second_m, mouth_m, end_m, bore_m)};
    s.asks = {full_ask("lower", 30.0 * day_s)};
    return s;
  }

  /// Second by second: the first line fills, the upper tank rises to its mouth and over it, the front runs
  /// down the second line, the lower tank fills. Rates by bisection from the front back, and what the mouth
  /// lets in.
  double fine_s(const network::System& system) const {
    const runnel::losses::PipeFriction pipe(system.friction(), bore_m, roughness_m, 140.0,
                                            system.site().water.kinematic_viscosity_m2s);
    const double fall = (mouth_m - end_m) / second_m, area_m2 = pipe.area_m2();
    const runnel::losses::Mouth mouth(runnel::losses::MouthEdge::square_in_wall, bore_m,
                                      fall / std::sqrt(1.0 - fall * fall));
    const auto rate_m3s = [&](double level_m, double front_m) {
      const auto needs_m = [&](double q) {
        const double velocity_m = std::pow(q / area_m2, 2) / (2.0 * runnel::gravity_ms2);
        const double full_m = 1.5 * velocity_m - fall * front_m + pipe.per_metre(q).head_m * front_m;
        return std::max({full_m, 1.5 * velocity_m, mouth.over_axis(q).head_m});
      };
      double low = 0.0, high = 1e-2;
      for (int k = 0; k < 40; ++k) {
        const double q = 0.5 * (low + high);
        (needs_m(q) <= level_m - mouth_m ? low : high) = q;
      }
      return low;
    };
    const double step_s = 2.0, whole_m3 = area_m2 * second_m;
    double level_m = 60.0, in_line_m3 = 0.0, in_tank_m3 = 0.0;
    double time_s = area_m2 * first_m / yield_m3s;
    for (; in_tank_m3 < 2.0 * tank_m2; time_s += step_s) {
      const double q = level_m > mouth_m ? rate_m3s(level_m, in_line_m3 / area_m2) : 0.0;
      (in_line_m3 < whole_m3 ? in_line_m3 : in_tank_m3) += q * step_s;
      level_m = std::min(62.0, level_m + (yield_m3s - q) * step_s / tank_m2);
    }
    return time_s;
  }
};

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
  REQUIRE(first.watch.air());
  const auto& water = first.watch.air()->paths.at(0).first_water;
  REQUIRE(water);
  const double lines_s = water->at_end().full_bore_s;
  // The bore over the yield: 650 m of plan and 13 m of fall.
  const double bore_m3 = 3.14159265358979 / 4.0 * 0.0352 * 0.0352 * std::hypot(650.0, 13.0);
  CHECK(lines_s == Approx(bore_m3 / 2e-4).epsilon(1e-6));
  s.asks = {full_ask("tank", tank_s + 0.5 * lines_s)};
  CHECK_FALSE(Judged(s, {.until_full = true, .from_empty = true}).verdict.good());
  s.asks = {full_ask("tank", tank_s + 1.01 * lines_s)};
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

TEST_CASE("from empty a tank behind another is full when a fine integration has it full") {
  const InARow takes_all;
  const Judged judged(takes_all.model(), {.until_full = true, .from_empty = true});
  REQUIRE(judged.history.outcome == filling::FillOutcome::done);
  REQUIRE(judged.verdict.asks.at(0).got);
  const double fine_s = takes_all.fine_s(judged.system);
  CHECK(judged.verdict.asks[0].got->si == Approx(fine_s).epsilon(0.01));
  CHECK(fine_s > *judged.history.storage("lower")->full_after_s + 3600.0);  // the lines count
  // Where the second line carries less than comes it fills faster than it runs on: the bound is on the late
  // side.
  InARow narrow;
  narrow.bore_m = 0.026;
  const Judged limited(narrow.model(), {.until_full = true, .from_empty = true});
  REQUIRE(limited.verdict.asks.at(0).got);
  const double slow_s = narrow.fine_s(limited.system);
  CHECK(limited.verdict.asks[0].got->si >= slow_s * (1.0 - 0.01));
  CHECK(limited.verdict.asks[0].got->si <= slow_s * 1.25);
}

TEST_CASE("from empty what is not known about the lines is not judged") {
  SECTION("air of the start holds the line between two tanks back") {
    Model model = InARow{}.model();
    model.pipelines[1].survey = {{m(0.0), m(60.2)},
                                 {m(200.0), m(40.0)},
                                 {m(400.0), m(59.0)},
                                 {m(600.0), m(35.0)},
                                 {m(900.0), m(50.0)}};
    const Judged judged(model, {.until_full = true, .from_empty = true});
    CHECK_FALSE(judged.verdict.good());
    CHECK_THAT(judged.sentence(), Catch::Contains("air of the start") || Catch::Contains("No water"));
  }
  SECTION("of two springs the line of one is blocked by air") {
    Model model = air_locked();
    model.boxes.push_back(spring("second", 1e-4, 99.0, 100.0));
    model.pipelines.push_back(line("straight", "second", "tank", 300.0, 99.0, 86.0, 0.0352));
    model.asks = {full_ask("tank", 30.0 * day_s)};
    const Judged judged(model, {.until_full = true, .from_empty = true});
    CHECK_FALSE(judged.verdict.good());
    CHECK_THAT(judged.sentence(), Catch::Contains("does not start from empty"));
  }
  SECTION("the pipe above a break-pressure box fills too") {
    Model model = with_water();
    model.boxes = {spring("spring", 2e-4, 99.0, 100.0), spring("break", 0.0, 79.0, 80.0)};
    model.tanks = {round_tank("tank", 60.0, 2.0, 1.0)};
    model.pipelines = {line("above", "spring", "break", 500.0, 99.0, 80.0, 0.0352),
                       line("below", "break", "tank", 100.0, 79.0, 62.0, 0.0352)};
    model.asks = {full_ask("tank", 30.0 * day_s)};
    const Judged judged(model, {.until_full = true, .from_empty = true});
    REQUIRE(judged.verdict.asks.at(0).got);
    const double bore_m3 = 600.0 * 0.25 * runnel::pi * 0.0352 * 0.0352;
    CHECK(judged.verdict.asks[0].got->si ==
          Approx(*judged.history.storage("tank")->full_after_s + bore_m3 / 2e-4).epsilon(1e-4));
  }
}
