#pragma once
// Random lines for property tests: drawn here, from nowhere else. Seeded by the caller.
#include <random>
#include <utility>
#include <vector>

#include "runnel/air/profile.h"

namespace runnel::test {

/// A falling line with 1 to 6 crests, 1 to 4 pieces a leg, bores that change from piece to piece.
inline air::Profile random_profile(std::mt19937& dice) {
  const auto draw = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(dice); };
  const auto pick = [&](int a, int b) { return std::uniform_int_distribution<int>(a, b)(dice); };
  std::vector<std::pair<double, double>> points;
  std::vector<double> bores_m;
  double station_m = 0.0, z = draw(80.0, 120.0);
  const auto point = [&] {
    points.emplace_back(station_m, z);
    bores_m.push_back(draw(0.02, 0.08));
  };
  point();
  const int crests = pick(1, 6);
  bool down = pick(0, 3) != 0;
  for (int turn = 0; turn < 2 * crests + pick(0, 1); ++turn, down = !down) {
    const double swing_m = down ? draw(1.0, 20.0) : draw(1.0, 15.0);
    const int pieces = pick(1, 4);
    for (int k = 0; k < pieces; ++k) {
      station_m += draw(5.0, 80.0);
      z += (down ? -1.0 : 1.0) * swing_m / pieces * draw(0.7, 1.0);
      point();
    }
  }
  bores_m.pop_back();  // nothing begins at the last point
  air::Profile profile = air::profile_of(points, bores_m);
  profile.pipelines = {"random"};
  return profile;
}

/// The same line with 1 to 3 more points on each leg.
inline air::Profile surveyed_finer(const air::Profile& profile, std::mt19937& dice) {
  std::vector<std::pair<double, double>> points;
  std::vector<double> bores_m;
  for (std::size_t i = 0; i + 1 < profile.points.size(); ++i) {
    const air::ProfilePoint a = profile.points[i], b = profile.points[i + 1];
    const int pieces = std::uniform_int_distribution<int>(2, 4)(dice);
    for (int k = 0; k < pieces; ++k) {
      points.emplace_back(a.station_m + (b.station_m - a.station_m) * k / pieces,
                          a.elevation_m + (b.elevation_m - a.elevation_m) * k / pieces);
      bores_m.push_back(a.bore_m);
    }
  }
  points.emplace_back(profile.points.back().station_m, profile.points.back().elevation_m);
  air::Profile finer = profile;
  finer.points = air::profile_of(points, bores_m).points;
  return finer;
}

inline air::Profile lifted(air::Profile profile, double by_m) {
  std::vector<network::Course> courses;
  for (const auto& leg : profile.points.passage().legs())
    courses.push_back(
        leg.course.moved([&](std::size_t i) { return leg.course.points()[i].elevation_m + by_m; }));
  profile.points = profile.points.relaid(courses);
  return profile;
}

}  // namespace runnel::test
