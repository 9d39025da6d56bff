#include "runnel/air/first_water.h"

#include <algorithm>
#include <cstddef>
#include <numeric>

#include "runnel/air/descent.h"

namespace runnel::air {
namespace {

/// Where the front stands: it rises from point `low`, with `closed` pockets behind it.
struct Stand {
  std::size_t closed = 0;
  int low = 0;
  double column_m = 0.0;  ///< highest elevation since `low`
};

/// Water at rest behind the front [m3].
double standing_m3(const Profile& profile, const LineShape& shape, const Front& front,
                   const std::vector<double>& bore_m3, const Stand& stand, int point) {
  const auto bore_between = [&](int a, int b) {
    return bore_m3[static_cast<std::size_t>(b)] - bore_m3[static_cast<std::size_t>(a)];
  };
  double volume_m3 = bore_between(stand.low, point);  // the rise the front is on
  int low_before = 0;
  for (std::size_t k = 0; k < stand.closed; ++k) {
    const Descent& d = shape.descents[k];
    if (k > 0)
      low_before = shape.descents[k - 1].low;
    else if (!shape.turns.front().crest)
      low_before = shape.turns.front().point;
    volume_m3 += bore_between(low_before, d.crest);
    volume_m3 += bore_between(d.crest, d.low) - d.air.volume_above_m3(front.pockets[k].interface_m);
  }
  // The first descent is open to the source, so it fills to the level needed at the source.
  if (!shape.turns.empty() && !shape.turns.front().crest) {
    const int low = shape.turns.front().point;
    const LegAir first(profile, 0, low, profile.points[static_cast<std::size_t>(low)].elevation_m);
    volume_m3 += bore_between(0, low) - first.volume_above_m3(front.required_level_m);
  }
  return volume_m3;
}

/// Where the front stands when it has come to a point; on the way down from a crest that is the crest, since
/// the time for the descent is left out. None before the first rise.
struct Reached {
  Stand stand;
  int point = 0;
};
std::optional<Reached> reached_at(const Profile& profile, const LineShape& shape, int point) {
  Reached reached{.stand = {}, .point = point};
  bool rising = shape.turns.empty() ? profile.points.back().elevation_m > profile.points.front().elevation_m
                                    : shape.turns.front().crest;
  bool crest_seen = false;
  for (const Turn& turn : shape.turns) {
    if (turn.point >= point) break;
    rising = !turn.crest;
    if (turn.crest) {
      crest_seen = true;
      reached.point = turn.point;
      continue;
    }
    reached.point = point;
    reached.stand.low = turn.point;
    if (crest_seen) ++reached.stand.closed;
  }
  if (rising)
    reached.point = point;
  else if (!crest_seen)
    return std::nullopt;
  for (int i = reached.stand.low; i <= reached.point; ++i) {
    const double here_m = profile.points[static_cast<std::size_t>(i)].elevation_m;
    reached.stand.column_m = i == reached.stand.low ? here_m : std::max(reached.stand.column_m, here_m);
  }
  return reached;
}

/// Water at rest behind the front when it has come to a point [m3]; none if the source cannot push it there.
std::optional<double> standing_at(const Profile& profile, const StartConditions& conditions,
                                  const LineShape& shape, const std::vector<double>& bore_m3, int point) {
  const auto reached = reached_at(profile, shape, point);
  if (!reached || point == 0) return 0.0;
  const Front front =
      front_at(shape, conditions.atmospheric_head_m, reached->stand.closed, reached->stand.column_m);
  if (front.required_level_m >= conditions.source_level_m) return std::nullopt;
  return standing_m3(profile, shape, front, bore_m3, reached->stand, reached->point);
}

// Between so many stops the rate changes little, however many points the line has.
constexpr std::size_t enough_stops = 32, most_parts = 16;

/// The next point at which the standing water is computed, on the way to the next point wanted.
int next_stop(int from, int to, std::size_t wanted) {
  const auto parts = static_cast<int>(std::clamp<std::size_t>(enough_stops / wanted, 1, most_parts));
  return std::min(to, from + std::max(1, (to - from) / parts));
}

}  // namespace

std::vector<FirstWater> first_water(const Profile& profile, const StartConditions& conditions,
                                    double yield_m3s, const std::vector<int>& points, const WetPart* wet) {
  const LineShape shape = shape_of(profile, conditions);
  const std::vector<double> bore_m3 = bore_volume_to_points_m3(profile);
  const auto bore = [&](int i) { return bore_m3[static_cast<std::size_t>(i)]; };
  std::vector<FirstWater> all;
  double full_s = 0.0, standing_m3 = 0.0;
  std::optional<double> earliest_s = 0.0;
  WetPart::Front front = wet ? wet->start() : WetPart::Front{};
  int here = 0;
  const auto go_to = [&](int stop) {
    const double filled_m3 = bore(stop) - bore(here);
    const double step_s = wet ? wet->advance(front, wet->length_to_m(stop)) : filled_m3 / yield_m3s;
    const auto stands_m3 = earliest_s ? standing_at(profile, conditions, shape, bore_m3, stop) : std::nullopt;
    if (!stands_m3) {
      earliest_s.reset();
    } else if (filled_m3 > 0.0) {
      *earliest_s += std::max(0.0, *stands_m3 - standing_m3) * (step_s / filled_m3);
      standing_m3 = std::max(standing_m3, *stands_m3);
    }
    full_s += step_s;
    here = stop;
  };
  const bool one_rate = !wet || wet->takes_all();
  for (const int point : points) {
    while (here < point) go_to(one_rate ? point : next_stop(here, point, points.size()));
    // Standing water is added at the rate of the stretch where it is found, which may be slower than the rate
    // at which it came in; so the earliest time is capped by that of the full bore.
    if (earliest_s) earliest_s = std::min(*earliest_s, full_s);
    all.push_back(
        {point, profile.points[static_cast<std::size_t>(point)].station_m, bore(point), full_s, earliest_s});
  }
  return all;
}

std::vector<FirstWater> first_water(const Profile& profile, const StartConditions& conditions,
                                    double yield_m3s) {
  std::vector<int> all(profile.points.size());
  std::iota(all.begin(), all.end(), 0);
  return first_water(profile, conditions, yield_m3s, all);
}

}  // namespace runnel::air
