// A line has one geometry, its course: what a plan, the order of the flow and a profile say of stations,
// heights and bores is what the course says.
#include <catch2/catch.hpp>
#include <random>

#include "runnel/air/profile.h"
#include "runnel/steady/pocket_course.h"
#include "steady/small_systems.h"

using namespace runnel;

namespace {

/// Up and down, steep at times, three pipes and parts here and there.
network::Model random_line(std::mt19937& random) {
  const auto real = [&](double low, double high) {
    return std::uniform_real_distribution<>(low, high)(random);
  };
  network::Model s = small::empty();
  std::vector<std::pair<double, double>> survey{{0.0, 100.0}};
  const int points = 3 + static_cast<int>(random() % 8);
  for (int i = 0; i < points; ++i) {
    const double run_m = real(0.01, 80.0);
    survey.emplace_back(survey.back().first + run_m, survey.back().second + real(-12.0, 8.0));
  }
  survey.emplace_back(survey.back().first + 10.0, survey.back().second - 1.0);
  small::box(s, "spring", 1e-3, 100.0, 100.5);
  small::outlet(s, "end", survey.back().second);
  auto& line = small::line(s, "main", "spring", "end", 0.03, survey);
  const double last_m = survey.back().first;
  for (const double bore_m : {0.02, 0.04})
    line.pipes.push_back({small::pipe(bore_m), Length::metres(0.0), {}, {}});
  line.pipes[1].from = Length::metres(real(0.1, 0.4) * last_m);
  line.pipes[2].from = Length::metres(real(0.5, 0.9) * last_m);
  for (int i = 0; i < 3; ++i)
    line.parts.push_back(small::part(network::PartKind::fitting, "", real(0.0, 1.0) * last_m, 0.5));
  std::sort(line.parts.begin(), line.parts.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
  return s;
}

}  // namespace

TEST_CASE("plans, courses of the flow and profiles lie where the line's course lies") {
  std::mt19937 random(2024);
  for (int n = 0; n < 200; ++n) {
    CAPTURE(n);
    const network::System system = support::resolved(random_line(random));
    const network::Line& line = system.lines()[0];
    const auto& points = line.course.points();
    const steady::LinePlan plan = steady::plan_line(system, line);
    const steady::PocketCourse there = steady::course_of(plan, 9.0), back = steady::course_back(plan, 9.0);
    CHECK(plan.course.points().data() == points.data());  // not a copy: the very points
    REQUIRE(plan.vertices.size() == points.size());
    REQUIRE(there.passage.size() == points.size());
    REQUIRE(back.passage.size() == points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
      CHECK(&there.passage.point(i) == &points[i]);
      CHECK(&back.passage.point(points.size() - 1 - i) == &points[i]);
      CHECK(there.passage.station_m(i) == points[i].station_m);
      if (i + 1 == points.size()) break;
      CHECK(there.passage.length_m(i) == points[i].length_m);
      CHECK(back.passage.length_m(points.size() - 2 - i) == points[i].length_m);
      CHECK(there.passage.pipe(i) == points[i].pipe);
      CHECK(back.passage.pipe(points.size() - 2 - i) == points[i].pipe);
    }
    const air::Profile profile = air::profile_of(line);
    for (std::size_t i = 0; i < profile.points.size(); ++i) {
      const air::ProfilePoint p = profile.points[i];
      CHECK(profile.points.passage().point(profile.points.on_passage(static_cast<int>(i))).elevation_m ==
            p.elevation_m);
      const double bore_m =
          line.pipes[static_cast<std::size_t>(line.course.pipe_at(p.own_station_m))].pipe.bore.metres();
      if (i + 1 < profile.points.size()) CHECK(p.bore_m == bore_m);
    }
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      const double middle_m = 0.5 * (points[i].station_m + points[i + 1].station_m);
      CHECK(air::elevation_at_m(profile, middle_m) ==
            Approx(line.course.elevation_at(middle_m)).margin(1e-9));
    }
    CHECK(profile.points.back().distance_m == Approx([&] {
                                                double sum_m = 0.0;
                                                for (const auto& p : points) sum_m += p.length_m;
                                                return sum_m;
                                              }())
                                                  .epsilon(1e-12));
  }
}
