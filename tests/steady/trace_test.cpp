// The grade line along one line at a given flow, against the rule written out on the survey: from the end
// back, no lower than the pipe and the velocity head over it.
#include "runnel/steady/trace.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "steady/head_budget.h"
#include "steady/plain_network.h"
#include "steady/small_systems.h"

using namespace runnel;
using network::LineCondition;
using network::LineState;
using network::PartKind;
using network::ReachState;
using steady::LineEnds;
using test::per_square;

namespace {

constexpr double bore_m = 0.03;
using Survey = std::vector<std::pair<double, double>>;

/// A line by itself, ready to be traced: from a box to an open end, or between two joints.
struct Traced {
  network::System system;
  steady::LinePlan plan;
  const network::Line& line;
  explicit Traced(const network::Model& model)
      : system(support::resolved(model)),
        plan(steady::plan_line(system, system.lines()[0])),
        line(system.lines()[0]) {}
  LineState at(const LineEnds& ends) const { return steady::trace_line(system, line, plan, ends); }
  double per_metre(double q_m3s) const { return plan.friction[0].per_metre(q_m3s).head_m; }
};

network::Model to_the_air(const Survey& survey) {
  network::Model m = small::empty();
  small::box(m, "spring", 1e-3, survey.front().second, survey.front().second + 1.0);
  small::outlet(m, "end", survey.back().second);
  small::line(m, "main", "spring", "end", bore_m, survey);
  return m;
}

network::Model between_joints(const Survey& survey) {
  network::Model m = small::empty();
  small::box(m, "spring", 1e-3, 500.0, 501.0);
  small::joint(m, "a", survey.front().second);
  small::joint(m, "b", survey.back().second);
  small::line(m, "main", "a", "b", bore_m, survey);
  small::line(m, "feed", "spring", "a", bore_m, {{0, 500}, {100, survey.front().second}});
  return m;
}

Survey random_survey(plain::Dice& dice) {
  Survey survey{{0.0, 100.0}};
  for (int i = dice.whole(1, 8); i > 0; --i)
    survey.emplace_back(survey.back().first + dice.real(5.0, 80.0),
                        survey.back().second + dice.real(-12.0, 6.0));
  return survey;
}

double length(const Survey& survey, std::size_t reach) {
  return std::hypot(survey[reach + 1].first - survey[reach].first,
                    survey[reach + 1].second - survey[reach].second);
}

/// Grade at every point, by the definition; and what each reach loses in the air.
struct Rule {
  std::vector<double> grade_m, in_air_m;
  Rule(const Survey& survey, double per_metre, double velocity_head_m, double end_m) {
    const std::size_t n = survey.size();
    grade_m.resize(n);
    in_air_m.assign(n - 1, 0.0);
    grade_m[n - 1] = end_m;
    for (std::size_t i = n - 1; i-- > 0;) {
      const double full = grade_m[i + 1] + per_metre * length(survey, i);
      grade_m[i] = std::max(full, survey[i].second);
      in_air_m[i] = std::max(0.0, survey[i].second - full);
    }
    (void)velocity_head_m;  // one bore: it is the same everywhere and drops out of the grade
  }
};

}  // namespace

TEST_CASE("grades, stretches in the air and refill points are those of the rule, on random lines") {
  int mixed = 0, part_full = 0, full = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    plain::Dice dice(seed);
    const Survey survey = random_survey(dice);
    const Traced traced(to_the_air(survey));
    const double q = std::pow(10.0, dice.real(-5.0, -2.7)), j = traced.per_metre(q);
    const LineState state = traced.at(
        {.flow_m3s = q, .start_head_m = 1e3, .end_head_m = survey.back().second, .end_in_air = true});
    const Rule rule(survey, j, per_square(1.0, bore_m) * q * q, survey.back().second);
    CAPTURE(seed);
    REQUIRE(state.points.size() == survey.size());
    int airy = 0, whole = 0;
    for (std::size_t i = 0; i < survey.size(); ++i) {
      // Sums of up to some hundred metres of head in doubles.
      CHECK(*state.points[i].grade_m == Approx(rule.grade_m[i]).margin(1e-10));
      CHECK(*state.points[i].pressure_head_m == Approx(rule.grade_m[i] - survey[i].second).margin(1e-10));
    }
    for (std::size_t r = 0; r + 1 < survey.size(); ++r) {
      const auto& reach = state.reaches[r];
      const double long_m = length(survey, r), lost = rule.in_air_m[r];
      CHECK(reach.loss_m == Approx(j * long_m).epsilon(1e-12));
      CHECK(reach.lost_in_air_m == Approx(lost).margin(1e-10));
      CHECK(reach.fall_m == Approx(survey[r].second - survey[r + 1].second).margin(1e-12));
      CHECK(reach.velocity_ms == Approx(q / (3.14159265358979323846 * bore_m * bore_m / 4.0)).epsilon(1e-12));
      if (lost < 1e-7) {
        CHECK(reach.state == ReachState::full);
        CHECK_FALSE(reach.refill_station_m);
        continue;
      }
      const double over = rule.grade_m[r + 1] - survey[r + 1].second;
      CHECK(reach.state == (over > 1e-7 ? ReachState::mixed : ReachState::part_full));
      ++airy, whole += reach.state == ReachState::part_full;
      if (!reach.refill_station_m) continue;
      // Where the pipe comes down to the grade line of the full pipe behind it.
      const double share =
          (*reach.refill_station_m - survey[r].first) / (survey[r + 1].first - survey[r].first);
      const double pipe_m = survey[r].second - share * (survey[r].second - survey[r + 1].second);
      CHECK(pipe_m == Approx(rule.grade_m[r + 1] + j * long_m * (1.0 - share)).margin(1e-8));
    }
    const int reaches = static_cast<int>(survey.size()) - 1;
    const LineCondition expected = airy == 0          ? LineCondition::full
                                   : whole == reaches ? LineCondition::part_full
                                                      : LineCondition::mixed;
    CHECK(state.condition == expected);
    (expected == LineCondition::full ? full : expected == LineCondition::mixed ? mixed : part_full) += 1;
  }
  CHECK(std::min({full, mixed, part_full}) > 20);  // all three are met
}

TEST_CASE("a line walked the other way tells the same story backwards") {
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    plain::Dice dice(seed);
    const Survey survey = random_survey(dice);
    Survey turned;
    for (auto p = survey.rbegin(); p != survey.rend(); ++p)
      turned.emplace_back(survey.back().first - p->first, p->second);
    const double q = std::pow(10.0, dice.real(-5.0, -3.0)), start = 300.0,
                 end = survey.back().second + dice.real(-1.0, 20.0);
    const LineState there =
        Traced(between_joints(survey)).at({.flow_m3s = q, .start_head_m = start, .end_head_m = end});
    const LineState back =
        Traced(between_joints(turned)).at({.flow_m3s = -q, .start_head_m = end, .end_head_m = start});
    CAPTURE(seed);
    const std::size_t n = survey.size();
    CHECK(back.flow_m3s == -there.flow_m3s);
    CHECK(back.condition == there.condition);
    for (std::size_t i = 0; i < n; ++i)
      CHECK(*back.points[n - 1 - i].grade_m == Approx(*there.points[i].grade_m).margin(1e-10));
    for (std::size_t r = 0; r + 1 < n; ++r) {
      const auto &a = there.reaches[r], &b = back.reaches[n - 2 - r];
      CHECK(b.state == a.state);
      CHECK(b.loss_m == Approx(a.loss_m).epsilon(1e-10));
      CHECK(b.lost_in_air_m == Approx(a.lost_in_air_m).margin(1e-10));
      CHECK(b.fall_m == Approx(-a.fall_m).margin(1e-10));
      CHECK(b.velocity_ms == -a.velocity_ms);
      CHECK(b.refill_station_m.has_value() == a.refill_station_m.has_value());
      if (a.refill_station_m)
        CHECK(*b.refill_station_m == Approx(survey.back().first - *a.refill_station_m).margin(1e-8));
    }
  }
}

TEST_CASE("an opening behind the end asks for its head before it") {
  const Survey survey{{0, 100}, {100, 70}};
  const Traced traced(to_the_air(survey));
  const double q = 5e-4, opening = per_square(2.5, 0.012);
  const LineState state = traced.at(
      {.flow_m3s = q, .start_head_m = 1e3, .end_head_m = 70.0, .end_in_air = true, .end_s2m5 = opening});
  // The line's own exit of a whole velocity head stands in this plan as well.
  CHECK(*state.points[1].pressure_head_m == Approx(opening * q * q).epsilon(1e-12));
}

TEST_CASE("water that stands reaches as far as its level, and no farther than a crest") {
  const Survey survey{{0, 100}, {50, 90}, {100, 98}, {150, 80}};
  const Traced traced(to_the_air(survey));
  LineState state = traced.at({.start_head_m = 97.0, .end_head_m = 80.0, .end_in_air = true});
  // Below the inlet of the line itself: no water comes in.
  CHECK(state.condition == LineCondition::dry);
  for (const auto& point : state.points) CHECK_FALSE(point.grade_m);
  for (const auto& reach : state.reaches) CHECK(reach.state == ReachState::dry);

  const Survey over{{0, 100}, {50, 90}, {100, 101.5}, {150, 80}};
  state = Traced(to_the_air(over)).at({.start_head_m = 101.0, .end_head_m = 80.0, .end_in_air = true});
  CHECK(state.condition == LineCondition::blocked);
  CHECK(*state.points[0].grade_m == 101.0);
  CHECK(*state.points[1].pressure_head_m == 11.0);
  CHECK_FALSE(state.points[3].grade_m);
  CHECK(state.reaches[0].state == ReachState::still);
  CHECK(state.reaches[2].state == ReachState::dry);
}

TEST_CASE("where water stands from both ends the higher level is told, but for what a valve keeps apart") {
  const Survey survey{{0, 50}, {50, 40}, {100, 45}};
  LineState state = Traced(between_joints(survey)).at({.start_head_m = 60.0, .end_head_m = 62.0});
  CHECK(state.condition == LineCondition::still);
  for (const auto& point : state.points) CHECK(*point.grade_m == 62.0);

  network::Model m = between_joints(survey);
  auto gate = small::part(PartKind::valve, "gate", 50.0, 0.2);
  gate.open = 0.0;
  m.pipelines[0].parts = {gate};
  state = Traced(m).at({.start_head_m = 60.0, .end_head_m = 62.0});
  CHECK(state.condition == LineCondition::shut);
  CHECK(*state.points[0].grade_m == 60.0);
  CHECK(*state.points[1].grade_m == 60.0);  // at the valve: what stands before it
  CHECK(*state.points[2].grade_m == 62.0);
}

TEST_CASE(
    "head left over at the source is taken by a reducing valve, above which the line stands at its source") {
  const Survey survey{{0, 150}, {200, 60}, {400, 30}};
  network::Model m = to_the_air(survey);
  auto valve = small::part(PartKind::reducing_valve, "R", 200.0, 0.0);
  const double set_m = 8.0;
  valve.set_pressure = Pressure::pascals(set_m * m.site.specific_weight_nm3());
  m.pipelines[0].parts = {valve};
  const Traced traced(m);
  // The flow that the valve's head drives through the lower half.
  double low = 0.0, high = 0.1;
  for (int i = 0; i < 200; ++i) {
    const double q = 0.5 * (low + high);
    const double asked = traced.per_metre(q) * length(survey, 1) + per_square(1.0, bore_m) * q * q;
    (asked < 30.0 + set_m ? low : high) = q;
  }
  const double q = low, vh = per_square(1.0, bore_m) * q * q, entrance = per_square(0.5, bore_m) * q * q;
  const LineEnds ends{.flow_m3s = q, .start_head_m = 150.8, .end_head_m = 30.0, .end_in_air = true};
  LineState state = traced.at(ends);
  CHECK(state.reducing_valve_active);
  CHECK(*state.points[0].grade_m == Approx(150.8 - entrance - vh).margin(1e-9));
  CHECK(*state.points[1].grade_m ==
        Approx(150.8 - entrance - vh - traced.per_metre(q) * length(survey, 0)).margin(1e-9));
  CHECK(*state.points[2].grade_m == Approx(30.0).margin(1e-9));

  LineEnds mouth = ends;  // then it is lost at the mouth, and nothing is left for the valve
  mouth.mouth_governs = true;
  state = traced.at(mouth);
  CHECK_FALSE(state.reducing_valve_active);
  CHECK(*state.points[0].grade_m ==
        Approx(150.0).margin(1e-9));  // it begins in the air, at the pipe's own height
}

TEST_CASE("depths of part-full stretches lie within the pipe and are left out where nobody asks") {
  const Survey survey{{0, 100}, {100, 60}};
  const Traced traced(to_the_air(survey));
  LineEnds ends{.flow_m3s = 1e-4, .start_head_m = 100.1, .end_head_m = 60.0, .end_in_air = true};
  const auto deep = traced.at(ends).reaches[0];
  REQUIRE(deep.state == ReachState::part_full);
  REQUIRE(deep.normal_depth_m);
  CHECK(*deep.normal_depth_m > 0.0);
  CHECK(*deep.normal_depth_m < bore_m);
  CHECK(*deep.part_full_velocity_ms > deep.velocity_ms);  // the same flow through less of the bore
  ends.depths = false;
  const auto flat = traced.at(ends).reaches[0];
  CHECK(flat.state == ReachState::part_full);
  CHECK_FALSE(flat.normal_depth_m);
}
