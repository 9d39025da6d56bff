// A filling under each setting of a model: which leads, what is due, and what it hangs on.
#include "runnel/verdict/fill_answer.h"

#include <catch2/catch.hpp>

#include "filling/systems.h"
#include "runnel/units/print.h"

using namespace filling_test;
namespace verdict = runnel::verdict;
using verdict::Ruling;

namespace {

constexpr double day_s = 86400.0;

/// A spring of half a litre fills a tank; a tap below takes some of it in the morning.
Model spring_and_tap() {
  Model s = with_water();
  s.boxes = {spring("spring", 5e-4, 60.0, 60.5)};
  s.tanks = {round_tank("tank", 40.0, 3.0, 3.0)};
  s.tanks[0].level = m(42.0);
  Outlet tap;
  tap.name = "tap";
  tap.elevation = m(20.0);
  tap.opening = m(0.012);
  tap.loss = 4.0;
  Draw draw;
  draw.flow = Flow::from_si(2e-5);
  draw.from_hour = 6;
  draw.to_hour = 9;
  tap.draws = {draw};
  s.outlets = {tap};
  s.pipelines = {line("feed", "spring", "tank", 120, 60.0, 43.0, 0.04),
                 line("out", "tank", "tap", 150, 40.0, 20.0, 0.04)};
  // Walked and rated, so that nothing but the filling is left to judge.
  for (auto& drawn : s.pipelines) {
    drawn.surveyed = true;
    drawn.pipes[0].pipe.rating = runnel::Pressure::bar(16);
    const auto from = drawn.survey.front(), to = drawn.survey.back();
    drawn.survey.insert(drawn.survey.begin() + 1,
                        {(from.station + to.station) / 2.0, (from.elevation + to.elevation) / 2.0});
  }
  return s;
}

Setting named(const std::string& name) {
  Setting setting;
  setting.name = name;
  return setting;
}

verdict::FillAnswered filled(const Model& model, verdict::FillAsked asked = {}) {
  if (!std::isfinite(asked.options.duration_s)) asked.options.duration_s = 2.0 * day_s;
  auto answer = verdict::fill_model(model, asked);
  REQUIRE(answer);
  return std::move(*answer.value);
}

std::string said(const verdict::Sentence& s) {
  return runnel::units::render(s.text(), s.figures(), runnel::units::UnitSystem::si);
}

bool finds(const verdict::FillVerdict& verdict, const std::string& code) {
  for (const Finding& f : verdict.findings)
    if (f.code == code) return true;
  return false;
}

}  // namespace

TEST_CASE("every setting is filled, and the worst leads") {
  Model s = spring_and_tap();
  Setting drought = named("drought");
  drought.yields = {{"spring", Flow{}, {}}};
  drought.levels = {{"tank", m(40.02), {}}};
  s.settings = {named("mild"), drought};
  s.settings[0].yields = {{"spring", Flow::from_si(4e-4), {}}};
  const auto answer = filled(s);
  REQUIRE(answer.runs.size() == 3);
  CHECK(answer.runs[0].setting == "normal");
  CHECK(verdict::is_good(answer.runs[0].verdict.ruling));
  CHECK(verdict::is_good(answer.runs[1].verdict.ruling));
  CHECK(answer.leading().setting == "drought");
  CHECK(answer.ruling() == Ruling::fails);
  CHECK(said(answer.sentence).starts_with("Under the setting \"drought\": "));
  CHECK(finds(answer.leading().verdict, "draw-not-met"));
  // One named is the only one.
  CHECK(filled(s, {.setting = "mild"}).runs.size() == 1);
  CHECK_FALSE(verdict::fill_model(s, {.setting = "no such"}));
}

TEST_CASE("a tap is due only while people draw there, and not where the setting shuts it") {
  Model s = spring_and_tap();
  const auto drawn = filled(s);
  REQUIRE(drawn.leading().verdict.asks.size() == 1);  // what is drawn is a need
  CHECK(drawn.leading().verdict.asks[0].judged);
  CHECK(drawn.leading().verdict.asks[0].met);
  Setting shut = named("shut");
  shut.shut = {{"tap", {}}};
  s.settings = {shut};
  const auto answer = filled(s);
  CHECK(verdict::is_good(answer.ruling()));
  CHECK(answer.runs[1].verdict.asks[0].cut_off);
  // A night in which nobody draws judges nothing of it.
  verdict::FillAsked night;
  night.options.duration_s = 4 * 3600.0;
  CHECK(filled(s, night).runs[0].verdict.ruling == Ruling::cannot_be_said);
}

TEST_CASE("what fails only at the bad corner holds under a condition") {
  Model s = spring_and_tap();
  s.tanks[0].draws = {Draw{}};
  s.tanks[0].draws[0].flow = Flow::from_si(4.5e-4);
  // The mean of the buckets is enough and their low end is not.
  s.boxes[0].bucket_tests = BucketTests{
      Volume::cubic_metres(0.01), {Duration::seconds(18), Duration::seconds(20), Duration::seconds(22)}};
  s.boxes[0].yield = Flow::from_si(5e-4);
  s.tanks[0].level = m(40.05);
  const auto answer = filled(s);
  CHECK(answer.ruling() == Ruling::only_if);
  CHECK(finds(answer.leading().verdict, "need-met-only-if"));

  CHECK(said(answer.sentence).find("only if the spring gives no less than the mean of its bucket tests") !=
        std::string::npos);
  // Twice the spring leaves room for all of it.
  s.boxes[0].bucket_tests->volume = Volume::cubic_metres(0.03);
  s.boxes[0].yield = Flow::from_si(1.5e-3);
  CHECK(filled(s).ruling() == Ruling::holds);
}

TEST_CASE("without springs the clock starts with the first draws") {
  Model s = spring_and_tap();
  verdict::FillAsked asked;
  asked.springs_stop = true;
  const auto answer = filled(s, asked);
  CHECK(answer.leading().options.start_hour == 6.0);
  asked.start_hour = 2.0;
  CHECK(filled(s, asked).leading().options.start_hour == 2.0);
}

TEST_CASE("a run that is stopped is the last") {
  Model s = spring_and_tap();
  s.settings = {named("other")};
  verdict::FillAsked asked;
  asked.options.duration_s = 3000.0 * day_s;
  asked.options.progress = [](double) { return false; };
  const auto answer = filled(s, asked);
  CHECK(answer.runs.size() == 1);
  CHECK(answer.runs[0].history.outcome == runnel::filling::FillOutcome::stopped);
}
