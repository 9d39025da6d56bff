#include "runnel/air/start_up.h"

#include <algorithm>
#include <cstddef>

#include "runnel/air/descent.h"

namespace runnel::air {
namespace {

Stage stage_at(const Profile& profile, int point, const Front& front) {
  const ProfilePoint p = profile.points[static_cast<std::size_t>(point)];
  return {point, p.station_m, p.elevation_m, front.required_level_m, front.uncompressed_level_m};
}

/// The highest point, if the source does not reach over it. A point on the way down from the source may be
/// level with the source; a crest may not.
std::optional<int> point_too_high(const Profile& profile, const std::vector<Turn>& all_turns,
                                  double source_level_m) {
  const auto& p = profile.points;
  std::size_t highest = 0;
  for (std::size_t i = 1; i < p.size(); ++i)
    if (p[i].elevation_m > p[highest].elevation_m) highest = i;
  if (p[highest].elevation_m > source_level_m) return static_cast<int>(highest);
  for (const Turn& turn : all_turns)
    if (turn.crest && p[static_cast<std::size_t>(turn.point)].elevation_m >= source_level_m)
      return turn.point;
  return std::nullopt;
}

StartReason reason_of(const StartUp& result, const Profile& profile, const LineShape& shape,
                      double source_level_m) {
  if (result.verdict == StartVerdict::starts) return StartReason::none;
  if (result.verdict == StartVerdict::doubtful) return StartReason::compression_needed;
  const int end = static_cast<int>(profile.points.size()) - 1;
  if (shape.end_column_m >= source_level_m && (!result.too_high || *result.too_high == end))
    return StartReason::end_above_source;
  return result.too_high ? StartReason::crest_above_source : StartReason::air;
}

/// The first stage that needs as much as the last: where the water beyond a crest needs no more than the
/// crest itself, the stage at which it stands at that crest already needs all that is to come.
int governing_stage(const LineShape& shape, const std::vector<Load>& loads) {
  const std::size_t last = shape.summits.size() - 1;
  for (std::size_t k = 0; k < std::min(last, loads.size()); ++k)
    if (loads[k].column_m <= shape.summits[k].elevation_m) return static_cast<int>(k);
  return static_cast<int>(last);
}

}  // namespace

StartLevels levels_of(const Load& at_source, double source_level_m, bool too_high) {
  StartLevels levels;
  levels.required_level_m = at_source.column_m;
  levels.uncompressed_level_m = at_source.uncompressed_m;
  levels.margin_m = source_level_m - levels.required_level_m;
  levels.uncompressed_margin_m = source_level_m - levels.uncompressed_level_m;
  if (levels.margin_m > 0.0 && !too_high)
    levels.verdict = levels.uncompressed_margin_m > 0.0 ? StartVerdict::starts : StartVerdict::doubtful;
  else
    levels.verdict = StartVerdict::blocked;
  return levels;
}

StartUp start_up(const Profile& profile, const StartConditions& conditions) {
  const LineShape shape = shape_of(profile, conditions);
  const std::vector<Load> loads = loads_under(shape, conditions.atmospheric_head_m, shape.end_column_m);
  StartUp result;
  result.too_high = point_too_high(profile, shape.turns, conditions.source_level_m);
  static_cast<StartLevels&>(result) =
      levels_of(loads.front(), conditions.source_level_m, result.too_high.has_value());
  result.reason = reason_of(result, profile, shape, conditions.source_level_m);
  result.governing_stage = governing_stage(shape, loads);
  for (std::size_t k = 0; k < shape.descents.size(); ++k)
    result.pockets.push_back(loaded_by(shape.descents[k], conditions.atmospheric_head_m, loads[k + 1]));
  return result;
}

std::vector<Stage> filling_stages(const Profile& profile, const StartConditions& conditions) {
  const LineShape shape = shape_of(profile, conditions);
  std::vector<Stage> stages;
  for (std::size_t k = 0; k < shape.summits.size(); ++k) {
    const bool last = k + 1 == shape.summits.size();
    const double column_m = last ? shape.end_column_m : shape.summits[k].elevation_m;
    const Front front =
        front_at(shape, conditions.atmospheric_head_m, std::min(k, shape.descents.size()), column_m);
    stages.push_back(stage_at(profile, shape.summits[k].point, front));
  }
  return stages;
}

std::vector<Regained> regained_levels(const Profile& profile, const StartConditions& conditions) {
  const LineShape shape = shape_of(profile, conditions);
  std::vector<Regained> regained;
  double level_m = conditions.source_level_m;
  for (const Descent& descent : shape.descents) {
    const double gauge_head_m = level_m - descent.crest_m;
    if (gauge_head_m < 0.0) break;
    Regained step;
    step.pocket = pocket_of(descent);
    step.pocket.head_at_crest_m = level_m;
    step.pocket.interface_m = descent.crest_m;
    if (!descent.vented) {
      const Loaded loaded = descent.air.under_gauge(conditions.atmospheric_head_m, gauge_head_m);
      step.pocket.gauge_head_m = gauge_head_m;
      step.pocket.interface_m = loaded.interface_m;
      step.pocket.volume_start_m3 = descent.air.start_volume_m3();
      step.pocket.volume_loaded_m3 = loaded.volume_m3;
      level_m = loaded.interface_m + gauge_head_m;
    }
    step.level_m = level_m;
    regained.push_back(step);
  }
  return regained;
}

}  // namespace runnel::air
