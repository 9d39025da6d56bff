#include "runnel/air/first_water.h"

#include <algorithm>
#include <cstddef>

#include "runnel/air/descent.h"

namespace runnel::air {
namespace {

/// Where the front stands: `closed` pockets behind it, rising from point `low` towards `point`.
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
  // The first descent stands open to the source: it fills to the level asked for at the source.
  if (!shape.turns.empty() && !shape.turns.front().crest) {
    const int low = shape.turns.front().point;
    const LegAir first(profile, 0, low, profile.points[static_cast<std::size_t>(low)].elevation_m);
    volume_m3 += bore_between(0, low) - first.volume_above_m3(front.required_level_m);
  }
  return volume_m3;
}

/// Earliest arrival at a summit-ward point; none if the source cannot push the front there.
std::optional<double> earliest_s(const Profile& profile, const StartConditions& conditions,
                                 const LineShape& shape, const std::vector<double>& bore_m3,
                                 const Stand& stand, int point, double yield_m3s) {
  const Front front = front_at(shape, conditions.atmospheric_head_m, stand.closed, stand.column_m);
  if (front.required_level_m >= conditions.source_level_m) return std::nullopt;
  return standing_m3(profile, shape, front, bore_m3, stand, point) / yield_m3s;
}

}  // namespace

std::vector<FirstWater> first_water(const Profile& profile, const StartConditions& conditions,
                                    double yield_m3s) {
  const LineShape shape = shape_of(profile, conditions);
  const std::vector<double> bore_m3 = bore_volume_to_points_m3(profile);
  std::vector<FirstWater> all;
  Stand stand;
  bool rising = shape.turns.empty() ? profile.points.back().elevation_m > profile.points.front().elevation_m
                                    : shape.turns.front().crest;
  std::optional<double> last_s = 0.0;  // a descent is passed in no time
  std::size_t next_turn = 0;
  bool crest_seen = false;
  stand.column_m = profile.points.front().elevation_m;
  for (int i = 0; i < static_cast<int>(profile.points.size()); ++i) {
    const ProfilePoint& p = profile.points[static_cast<std::size_t>(i)];
    stand.column_m = std::max(stand.column_m, p.elevation_m);
    if (rising && last_s && i > 0)
      last_s = earliest_s(profile, conditions, shape, bore_m3, stand, i, yield_m3s);
    const double volume_m3 = bore_m3[static_cast<std::size_t>(i)];
    all.push_back({i, p.station_m, volume_m3, volume_m3 / yield_m3s, last_s});
    if (next_turn == shape.turns.size() || shape.turns[next_turn].point != i) continue;
    const bool crest = shape.turns[next_turn++].crest;
    rising = !crest;
    if (!crest) {
      stand.low = i;
      stand.column_m = p.elevation_m;
      if (crest_seen) ++stand.closed;
    }
    crest_seen = crest_seen || crest;
  }
  return all;
}

}  // namespace runnel::air
