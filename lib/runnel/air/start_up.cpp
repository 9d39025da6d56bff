#include "runnel/air/start_up.h"

#include <algorithm>
#include <cstddef>

#include "runnel/air/descent.h"

namespace runnel::air {
namespace {

Stage stage_at(const Profile& profile, int point, const Front& front) {
  const ProfilePoint& p = profile.points[static_cast<std::size_t>(point)];
  return {point, p.station_m, p.elevation_m, front.required_level_m, front.uncompressed_level_m};
}

/// The highest point, if the source does not reach over it. A point on the way down from the source may
/// stand level with it; a crest may not.
std::optional<int> point_too_high(const Profile& profile, const std::vector<Turn>& all_turns,
                                  double source_level_m) {
  const auto& p = profile.points;
  const auto highest = std::max_element(
      p.begin(), p.end(), [](const auto& a, const auto& b) { return a.elevation_m < b.elevation_m; });
  if (highest->elevation_m > source_level_m) return static_cast<int>(highest - p.begin());
  for (const Turn& turn : all_turns)
    if (turn.crest && p[static_cast<std::size_t>(turn.point)].elevation_m >= source_level_m)
      return turn.point;
  return std::nullopt;
}

void judge(StartUp& result, const Profile& profile, const LineShape& shape, double source_level_m) {
  result.margin_m = source_level_m - result.required_level_m;
  result.uncompressed_margin_m = source_level_m - result.uncompressed_level_m;
  result.too_high = point_too_high(profile, shape.turns, source_level_m);
  const bool starts = result.margin_m > 0.0 && !result.too_high;
  if (starts) {
    const bool surely = result.uncompressed_margin_m > 0.0;
    result.verdict = surely ? StartVerdict::starts : StartVerdict::doubtful;
    result.reason = surely ? StartReason::none : StartReason::compression_needed;
    return;
  }
  result.verdict = StartVerdict::blocked;
  const int end = static_cast<int>(profile.points.size()) - 1;
  if (shape.end_column_m >= source_level_m && (!result.too_high || *result.too_high == end))
    result.reason = StartReason::end_above_source;
  else
    result.reason = result.too_high ? StartReason::crest_above_source : StartReason::air;
}

}  // namespace

StartUp start_up(const Profile& profile, const StartConditions& conditions) {
  const LineShape shape = shape_of(profile, conditions);
  StartUp result;
  for (std::size_t k = 0; k < shape.summits.size(); ++k) {
    const bool last = k + 1 == shape.summits.size();
    const double column_m = last ? shape.end_column_m : shape.summits[k].elevation_m;
    Front front =
        front_at(shape, conditions.atmospheric_head_m, std::min(k, shape.descents.size()), column_m);
    result.stages.push_back(stage_at(profile, shape.summits[k].point, front));
    const Stage& governing = result.stages[static_cast<std::size_t>(result.governing_stage)];
    if (front.required_level_m > governing.required_level_m) result.governing_stage = static_cast<int>(k);
    if (last) result.pockets = std::move(front.pockets);
  }
  const Stage& last = result.stages.back();
  result.required_level_m = last.required_level_m;
  result.uncompressed_level_m = last.uncompressed_level_m;
  judge(result, profile, shape, conditions.source_level_m);
  return result;
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
