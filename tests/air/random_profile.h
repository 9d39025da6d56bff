#pragma once
// Random lines for property tests: drawn here, from nowhere else. Seeded by the caller.
#include <random>
#include <vector>

#include "runnel/air/profile.h"

namespace runnel::test {

/// A falling line with 1 to 6 crests, 1 to 4 pieces a leg, bores that change from piece to piece.
inline air::Profile random_profile(std::mt19937& dice) {
  const auto draw = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(dice); };
  const auto pick = [&](int a, int b) { return std::uniform_int_distribution<int>(a, b)(dice); };
  air::Profile profile;
  profile.pipelines.emplace_back("random");
  double station_m = 0.0, z = draw(80.0, 120.0);
  const auto point = [&] {
    profile.points.push_back({station_m, z, 0.0, draw(0.02, 0.08), 0.0, 0, station_m});
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
  restore(profile);
  return profile;
}

/// The same line with 1 to 3 more points on each leg.
inline air::Profile surveyed_finer(const air::Profile& profile, std::mt19937& dice) {
  air::Profile finer = profile;
  finer.points.clear();
  for (std::size_t i = 0; i + 1 < profile.points.size(); ++i) {
    const air::ProfilePoint& a = profile.points[i];
    const air::ProfilePoint& b = profile.points[i + 1];
    const int pieces = std::uniform_int_distribution<int>(2, 4)(dice);
    for (int k = 0; k < pieces; ++k) {
      air::ProfilePoint p = a;
      p.station_m = p.own_station_m = a.station_m + (b.station_m - a.station_m) * k / pieces;
      p.elevation_m = a.elevation_m + (b.elevation_m - a.elevation_m) * k / pieces;
      finer.points.push_back(p);
    }
  }
  finer.points.push_back(profile.points.back());
  restore(finer);
  return finer;
}

inline air::Profile lifted(air::Profile profile, double by_m) {
  for (air::ProfilePoint& p : profile.points) p.elevation_m += by_m;
  restore(profile);
  return profile;
}

}  // namespace runnel::test
