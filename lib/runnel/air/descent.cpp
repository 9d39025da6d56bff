#include "runnel/air/descent.h"

#include <algorithm>
#include <cstddef>

namespace runnel::air {
namespace {

std::vector<double> all_vents_m(const Profile& profile, const StartConditions& conditions) {
  std::vector<double> vents_m = conditions.vents_m;
  for (const ProfilePart& valve : profile.air_valves) vents_m.push_back(valve.station_m);
  return vents_m;
}

/// `before`: the low point before the crest (or the start), to include an air valve just before the crest.
Descent descent_of(const Profile& profile, int before, int crest, int low,
                   const std::vector<double>& vents_m) {
  const ProfilePoint top = point(profile, crest);
  double start_m = point(profile, low).elevation_m;
  bool vented = false;
  for (double vent_m : vents_m) {
    if (vent_m < point(profile, before).station_m || vent_m > point(profile, low).station_m) continue;
    const double z = elevation_at_m(profile, vent_m);
    if (z >= top.elevation_m - top.bore_m) vented = true;
    if (vent_m > top.station_m) start_m = std::max(start_m, z);
  }
  return {
      crest,   low, top.elevation_m, vented, LegAir(profile, crest, low, std::min(start_m, top.elevation_m)),
      &profile};
}

double highest_m(const Profile& profile, int from, int to) {
  double z = point(profile, from).elevation_m;
  for (int i = from; i <= to; ++i) z = std::max(z, point(profile, i).elevation_m);
  return z;
}

}  // namespace

LineShape shape_of(const Profile& profile, const StartConditions& conditions) {
  LineShape shape;
  shape.turns = turns(profile);
  const std::vector<double> vents_m = all_vents_m(profile, conditions);
  const int end = static_cast<int>(profile.points.size()) - 1;
  const double end_m = point(profile, end).elevation_m;
  const bool drowned = conditions.end_level_m && *conditions.end_level_m > end_m;
  int before = 0;  // the last low point, or the start
  int crest = -1;  // a crest whose descent is not closed yet
  for (const Turn& turn : shape.turns) {
    if (turn.crest) {
      crest = turn.point;
      shape.summits.push_back({crest, point(profile, crest).elevation_m});
      continue;
    }
    if (crest >= 0) shape.descents.push_back(descent_of(profile, before, crest, turn.point, vents_m));
    before = turn.point;
    crest = -1;
  }
  if (crest >= 0 && drowned) shape.descents.push_back(descent_of(profile, before, crest, end, vents_m));
  if (crest >= 0 && !drowned) {  // the last leg falls to a free end and stays open
    shape.end_column_m = point(profile, crest).elevation_m;
    return shape;
  }
  shape.summits.push_back({end, end_m});
  shape.end_column_m = end_m;
  if (drowned) shape.end_column_m = *conditions.end_level_m;
  if (crest < 0 && !shape.turns.empty())
    shape.end_column_m = std::max(shape.end_column_m, highest_m(profile, before, end));
  return shape;
}

Descent closed_descent(const Profile& profile, const StartConditions& conditions, double closed_from_m) {
  const std::vector<Turn> all = turns(profile);
  const int crest = all.back().point;
  const int before = all.size() > 1 ? all[all.size() - 2].point : 0;
  int last = static_cast<int>(profile.points.size()) - 1;
  while (last > crest + 1 && point(profile, last).station_m > closed_from_m + network::same_station_m) --last;
  return descent_of(profile, before, crest, last, all_vents_m(profile, conditions));
}

Pocket pocket_of(const Descent& descent) {
  const ProfilePoint crest = point(*descent.profile, descent.crest);
  const ProfilePoint low = point(*descent.profile, descent.low);
  Pocket pocket;
  pocket.crest = descent.crest;
  pocket.low = descent.low;
  pocket.crest_station_m = crest.station_m;
  pocket.crest_elevation_m = crest.elevation_m;
  pocket.low_station_m = low.station_m;
  pocket.low_elevation_m = low.elevation_m;
  pocket.vented = descent.vented;
  return pocket;
}

Pocket loaded_by(const Descent& descent, double atmospheric_head_m, Load beyond) {
  const double crest_m = descent.crest_m;
  Pocket pocket = pocket_of(descent);
  if (descent.vented) {
    pocket.interface_m = std::min(beyond.column_m, crest_m);
    pocket.head_at_crest_m = std::max(crest_m, beyond.column_m);
    return pocket;
  }
  const Loaded loaded = descent.air.under_column(atmospheric_head_m, beyond.column_m);
  pocket.volume_start_m3 = descent.air.start_volume_m3();
  pocket.volume_loaded_m3 = loaded.volume_m3;
  pocket.gauge_head_m = loaded.gauge_head_m;
  pocket.interface_m = std::min(loaded.interface_m, std::max(beyond.column_m, pocket.low_elevation_m));
  pocket.head_at_crest_m = loaded.head_at_crest_m;
  return pocket;
}

Load pass_back(const Descent& descent, double atmospheric_head_m, Load beyond) {
  const double crest_m = descent.crest_m;
  if (descent.vented) return {std::max(crest_m, beyond.column_m), std::max(crest_m, beyond.uncompressed_m)};
  const Loaded loaded = descent.air.under_column(atmospheric_head_m, beyond.column_m);
  return {loaded.head_at_crest_m, crest_m + std::max(0.0, beyond.uncompressed_m - descent.air.start_m())};
}

std::vector<Load> loads_under(const LineShape& shape, double atmospheric_head_m, double column_m) {
  std::vector<Load> loads(shape.descents.size() + 1, {column_m, column_m});
  for (std::size_t k = shape.descents.size(); k-- > 0;)
    loads[k] = pass_back(shape.descents[k], atmospheric_head_m, loads[k + 1]);
  return loads;
}

Front front_at(const LineShape& shape, double atmospheric_head_m, std::size_t count, double column_m) {
  Front front;
  front.pockets.resize(count);
  Load load{column_m, column_m};
  for (std::size_t k = count; k-- > 0;) {
    front.pockets[k] = loaded_by(shape.descents[k], atmospheric_head_m, load);
    load = pass_back(shape.descents[k], atmospheric_head_m, load);
  }
  front.required_level_m = load.column_m;
  front.uncompressed_level_m = load.uncompressed_m;
  return front;
}

}  // namespace runnel::air
