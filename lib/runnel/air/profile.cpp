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
  const auto index = static_cast<std::size_t>(profile.points[point].pipeline);
  return index < profile.along.size() ? profile.along[index] : network::Along::level;
}

struct Piece {
  double from_m, to_m;  // own stations
  double from_elevation_m, to_elevation_m;
  double bore_m;
};

/// The course cut at survey points and changes of pipe only, since a line does not bend at its parts.
std::vector<Piece> pieces_of(const network::Line& line) {
  const auto& course = line.course.points();
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i + 1 < course.size(); ++i) {
    const network::CoursePoint &here = course[i], &next = course[i + 1];
    if (i > 0 && !here.survey_point && here.pipe == course[i - 1].pipe) {
      pieces.back().to_m = next.station_m;
      pieces.back().to_elevation_m = next.elevation_m;
      continue;
    }
    const double bore_m = line.pipes[static_cast<std::size_t>(here.pipe)].pipe.bore.metres();
    pieces.push_back({here.station_m, next.station_m, here.elevation_m, next.elevation_m, bore_m});
  }
  return pieces;
}

void add_parts(Profile& profile, const PathLeg& leg, double start_m) {
  const double first_m = leg.line->survey.front().station.metres();
  const double last_m = leg.line->survey.back().station.metres();
  for (const network::Part& part : leg.line->parts) {
    const double own_m = part.at.metres();
    const double along_m = leg.reversed ? last_m - own_m : own_m - first_m;
    if (part.kind == network::PartKind::air_valve)
      profile.air_valves.push_back({start_m + along_m, part.name});
    if (part.kind == network::PartKind::washout) profile.washouts.push_back({start_m + along_m, part.name});
  }
}

void add_line(Profile& profile, const PathLeg& leg) {
  const int index = static_cast<int>(profile.pipelines.size());
  profile.pipelines.push_back(leg.line->name);
  profile.along.push_back(leg.line->along);
  std::vector<Piece> pieces = pieces_of(*leg.line);
  if (leg.reversed) {
    std::reverse(pieces.begin(), pieces.end());
    for (Piece& p : pieces) {
      std::swap(p.from_m, p.to_m);
      std::swap(p.from_elevation_m, p.to_elevation_m);
    }
  }
  auto& points = profile.points;
  double station_m = points.empty() ? 0.0 : points.back().station_m;
  add_parts(profile, leg, station_m);
  if (!points.empty()) {
    const double step_m = pieces.front().from_elevation_m - points.back().elevation_m;
    if (std::abs(step_m) <= same_elevation_m)
      points.pop_back();  // the next leg begins at the joint itself
    else
      points.back().bore_m = pieces.front().bore_m;
  }
  for (const Piece& p : pieces) {
    points.push_back({station_m, p.from_elevation_m, 0.0, p.bore_m, 0.0, index, p.from_m});
    station_m += std::abs(p.to_m - p.from_m);
  }
  const Piece& end = pieces.back();
  points.push_back({station_m, end.to_elevation_m, 0.0, end.bore_m, 0.0, index, end.to_m});
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

Profile profile_of(const std::vector<PathLeg>& path) {
  Profile profile;
  for (const PathLeg& leg : path) add_line(profile, leg);
  restore(profile);
  return profile;
}

Profile profile_of(const network::Line& line) { return profile_of({PathLeg{&line, false}}); }

Profile profile_of(const std::vector<std::pair<double, double>>& station_elevation_m, double bore_m) {
  Profile profile;
  profile.pipelines.emplace_back();
  for (const auto& [s, z] : station_elevation_m) profile.points.push_back({s, z, 0.0, bore_m, 0.0, 0, s});
  restore(profile);
  return profile;
}

void restore(Profile& profile) {
  auto& p = profile.points;
  if (p.size() > 1) p.back().bore_m = p[p.size() - 2].bore_m;
  double distance_m = 0.0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    if (i > 0)
      distance_m += network::slope_length_m(along_at(profile, i - 1), p[i].station_m - p[i - 1].station_m,
                                            p[i].elevation_m - p[i - 1].elevation_m);
    p[i].distance_m = distance_m;
    p[i].area_m2 = 0.25 * pi * p[i].bore_m * p[i].bore_m;
  }
}

double elevation_at_m(const Profile& profile, double station_m) {
  const auto& p = profile.points;
  auto after = std::lower_bound(p.begin(), p.end(), station_m,
                                [](const ProfilePoint& a, double s) { return a.station_m < s; });
  if (after == p.begin()) return p.front().elevation_m;
  if (after == p.end()) return p.back().elevation_m;
  const auto before = after - 1;
  const double share = (station_m - before->station_m) / (after->station_m - before->station_m);
  return before->elevation_m + share * (after->elevation_m - before->elevation_m);
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
