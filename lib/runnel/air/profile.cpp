#include "runnel/air/profile.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "runnel/base/constants.h"

namespace runnel::air {
namespace {

// Elevations nearer to each other than this are the same: far finer than any survey, far coarser than the
// rounding of interpolated points.
constexpr double same_elevation_m = 1e-9;

/// Whether stations on the leg that begins at a point are measured on the level or along the pipe.
network::Along along_at(const Profile& profile, std::size_t point) {
  const network::Passage& passage = profile.points.passage();
  return passage.leg_of(profile.points.on_passage(static_cast<int>(point))).course.along();
}

void add_parts(Profile& profile, const network::Line& line, const network::Passage::Leg& leg) {
  for (const network::Part& part : line.parts) {
    const double station_m = leg.along_m(part.at.metres());
    if (part.kind == network::PartKind::air_valve) profile.air_valves.push_back({station_m, part.name});
    if (part.kind == network::PartKind::washout) profile.washouts.push_back({station_m, part.name});
  }
}

/// The bore that water has to close at a point: the larger of those on either side.
double bore_around_m(const Profile& profile, int point) {
  const auto& p = profile.points;
  const auto i = static_cast<std::size_t>(point);
  return i == 0 ? p[i].bore_m : std::max(p[i].bore_m, p[i - 1].bore_m);
}

/// The highest (sign 1) or lowest (sign -1) point since the last turn; the last of several equal ones.
struct Extreme {
  double sign;
  int point = 0;
  double elevation_m = 0.0;

  void start(int i, double z) { point = i, elevation_m = z; }
  void follow(int i, double z) {
    if (sign * (z - elevation_m) < -same_elevation_m) return;
    point = i;
    elevation_m = sign > 0 ? std::max(z, elevation_m) : std::min(z, elevation_m);
  }
  bool left_behind(const Profile& profile, double z) const {
    return sign * (elevation_m - z) >= std::max(bore_around_m(profile, point), same_elevation_m);
  }
};

}  // namespace

ProfilePoints::ProfilePoints(network::Passage passage, std::vector<double> bores_m)
    : passage_(std::move(passage)), bores_m_(std::move(bores_m)) {
  double distance_m = 0.0;
  const std::size_t last = passage_.size() - 1;
  for (std::size_t i = 0; i <= last; ++i) {
    const bool ends = i == 0 || i == last || passage_.leg(i) != passage_.leg(i - 1);
    if (!ends && !passage_.point(i).survey_point && passage_.pipe(i) == passage_.pipe(i - 1)) continue;
    if (!bends_.empty()) {
      const std::size_t from = bends_.back().met;
      distance_m += network::slope_length_m(passage_.leg_of(from).course.along(),
                                            passage_.station_m(i) - passage_.station_m(from),
                                            passage_.elevation_m(i) - passage_.elevation_m(from));
    }
    const double bore_m = bores_m_[static_cast<std::size_t>(passage_.pipe(i == last ? i - 1 : i))];
    bends_.push_back({i, distance_m, bore_m, 0.25 * pi * bore_m * bore_m});
  }
}

Profile profile_of(const std::vector<PathLeg>& path) {
  Profile profile;
  network::Passage passage;
  std::vector<double> bores_m;
  for (const PathLeg& leg : path) {
    passage.add(leg.line->course, leg.reversed, static_cast<int>(bores_m.size()));
    for (const auto& laid : leg.line->pipes) bores_m.push_back(laid.pipe.bore.metres());
    profile.pipelines.push_back(leg.line->name);
    add_parts(profile, *leg.line, passage.legs().back());
  }
  profile.points = ProfilePoints(std::move(passage), std::move(bores_m));
  return profile;
}

Profile profile_of(const network::Line& line) { return profile_of({PathLeg{&line, false}}); }

Profile profile_of(const std::vector<std::pair<double, double>>& station_elevation_m, double bore_m) {
  return profile_of(station_elevation_m, std::vector<double>(station_elevation_m.size() - 1, bore_m));
}

Profile profile_of(const std::vector<std::pair<double, double>>& station_elevation_m,
                   std::vector<double> bores_m) {
  std::vector<network::CoursePoint> points;
  for (const auto& [s, z] : station_elevation_m)
    points.push_back(
        {.station_m = s,
         .elevation_m = z,
         .pipe = std::min(static_cast<int>(points.size()), static_cast<int>(bores_m.size()) - 1)});
  for (std::size_t i = 0; i + 1 < points.size(); ++i)
    points[i].length_m =
        network::slope_length_m(network::Along::level, points[i + 1].station_m - points[i].station_m,
                                points[i + 1].elevation_m - points[i].elevation_m);
  Profile profile;
  profile.pipelines.emplace_back();
  profile.points = ProfilePoints(network::Passage(network::Course(std::move(points))), std::move(bores_m));
  return profile;
}

double elevation_at_m(const Profile& profile, double station_m) {
  return profile.points.passage().elevation_at(station_m);
}

std::vector<double> bore_volume_to_points_m3(const Profile& profile) {
  const auto& p = profile.points;
  std::vector<double> volume_m3(p.size(), 0.0);
  for (std::size_t i = 1; i < p.size(); ++i)
    volume_m3[i] = volume_m3[i - 1] + p[i - 1].area_m2 * (p[i].distance_m - p[i - 1].distance_m);
  return volume_m3;
}

std::vector<Turn> turns(const Profile& profile) {
  std::vector<Turn> found;
  Extreme high{1.0}, low{-1.0};
  high.start(0, profile.points.front().elevation_m);
  low.start(0, profile.points.front().elevation_m);
  enum { unknown, rising, falling } way = unknown;
  for (std::size_t k = 1; k < profile.points.size(); ++k) {
    const int i = static_cast<int>(k);
    const double z = profile.points[k].elevation_m;
    if (way != falling) high.follow(i, z);
    if (way != rising) low.follow(i, z);
    if (way != falling && high.left_behind(profile, z)) {
      if (way == rising) found.push_back({true, high.point});
      way = falling;
      low.start(i, z);
    } else if (way != rising && low.left_behind(profile, z)) {
      if (way == falling) found.push_back({false, low.point});
      way = rising;
      high.start(i, z);
    }
  }
  return found;
}

network::Stretch mound_around(const Profile& profile, const std::vector<Turn>& turns, double own_station_m) {
  const auto station_m = [&](const Turn& t) {
    return profile.points[static_cast<std::size_t>(t.point)].own_station_m;
  };
  network::Stretch mound{profile.points.front().own_station_m, profile.points.back().own_station_m};
  // Crests and low points alternate, so on each side the first or second turn is a low point.
  const auto from = std::partition_point(turns.begin(), turns.end(),
                                         [&](const Turn& t) { return station_m(t) < own_station_m; });
  const auto to =
      std::partition_point(from, turns.end(), [&](const Turn& t) { return station_m(t) <= own_station_m; });
  for (auto t = from; t != turns.begin(); --t)
    if (!(t - 1)->crest) {
      mound.from_m = station_m(*(t - 1));
      break;
    }
  const auto low = std::find_if(to, turns.end(), [](const Turn& t) { return !t.crest; });
  if (low != turns.end()) mound.to_m = station_m(*low);
  return mound;
}

network::Stretch mound_around(const network::Line& line, double station_m) {
  const Profile profile = profile_of(line);
  return mound_around(profile, turns(profile), station_m);
}

std::vector<StraightLeg> straight_legs(const Profile& profile) {
  const auto& p = profile.points;
  std::vector<StraightLeg> legs;
  for (std::size_t i = 0; i + 1 < p.size(); ++i) {
    const double rise_m = p[i + 1].elevation_m - p[i].elevation_m;
    const double plan_m =
        network::level_run_m(along_at(profile, i), p[i + 1].station_m - p[i].station_m, rise_m);
    if (!legs.empty()) {
      StraightLeg& last = legs.back();
      // The leg goes straight on if its slope, carried over the new piece, misses its end by rounding only.
      const double miss_m = last.plan_m > 0.0 ? rise_m - last.rise_m / last.plan_m * plan_m : rise_m;
      const bool same_bore = p[static_cast<std::size_t>(last.first)].bore_m == p[i].bore_m;
      if (same_bore && std::abs(miss_m) <= same_elevation_m) {
        last.last = static_cast<int>(i) + 1;
        last.rise_m += rise_m;
        last.plan_m += plan_m;
        continue;
      }
    }
    legs.push_back({static_cast<int>(i), static_cast<int>(i) + 1, rise_m, plan_m});
  }
  return legs;
}

}  // namespace runnel::air
