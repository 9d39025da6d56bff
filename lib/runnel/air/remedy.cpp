#include "runnel/air/remedy.h"

#include <algorithm>
#include <cstddef>

namespace runnel::air {
namespace {

constexpr double dig_step_m = 1e-3;  // a trench is not dug finer

const ProfilePoint& point(const Profile& profile, int i) {
  return profile.points[static_cast<std::size_t>(i)];
}

bool reaches(const StartUp& result, StartVerdict wanted) { return result.verdict <= wanted; }

/// The low points (or ends) on both sides of a crest.
std::pair<int, int> mound(const Profile& profile, int crest) {
  std::pair<int, int> ends{0, static_cast<int>(profile.points.size()) - 1};
  for (const Turn& turn : turns(profile)) {
    if (turn.crest) continue;
    if (turn.point < crest) ends.first = turn.point;
    if (turn.point > crest) {
      ends.second = turn.point;
      break;
    }
  }
  return ends;
}

/// Where a leg crosses a level, a point of its own.
ProfilePoint crossing(const ProfilePoint& a, const ProfilePoint& b, double level_m, const ProfilePoint& leg) {
  const double share = (level_m - a.elevation_m) / (b.elevation_m - a.elevation_m);
  ProfilePoint p = leg;
  p.station_m = a.station_m + share * (b.station_m - a.station_m);
  p.elevation_m = level_m;
  p.own_station_m = a.pipeline == b.pipeline ? a.own_station_m + share * (b.own_station_m - a.own_station_m)
                                             : a.own_station_m;
  return p;
}

}  // namespace

VentAdvice vent_advice(const Profile& profile, const StartConditions& conditions) {
  const StartUp before = start_up(profile, conditions);
  VentAdvice advice;
  for (const Pocket& pocket : before.pockets) {
    if (pocket.vented) continue;
    StartConditions with = conditions;
    with.vents_m.push_back(pocket.crest_station_m);
    VentEffect effect{pocket.crest, pocket.crest_station_m, pocket.crest_elevation_m,
                      start_up(profile, with)};
    effect.gain_m = before.required_level_m - effect.after.required_level_m;
    effect.uncompressed_gain_m = before.uncompressed_level_m - effect.after.uncompressed_level_m;
    advice.single.push_back(std::move(effect));
  }
  for (std::size_t i = 0; i < advice.single.size(); ++i) {
    const VentEffect& e = advice.single[i];
    if (!advice.best) advice.best = i;
    const VentEffect& best = advice.single[*advice.best];
    const bool equal = e.gain_m == best.gain_m;
    if (e.gain_m > best.gain_m || (equal && e.uncompressed_gain_m > best.uncompressed_gain_m))
      advice.best = i;
  }
  return advice;
}

std::optional<VentPlan> vents_until(const Profile& profile, const StartConditions& conditions,
                                    StartVerdict wanted) {
  StartConditions with = conditions;
  VentPlan plan{{}, start_up(profile, with)};
  while (!reaches(plan.after, wanted)) {
    const VentAdvice advice = vent_advice(profile, with);
    if (!advice.best) return std::nullopt;
    // Toward `starts` it is the uncompressed level that has to come down.
    auto best = advice.single.begin() + static_cast<std::ptrdiff_t>(*advice.best);
    if (wanted == StartVerdict::starts)
      best = std::max_element(advice.single.begin(), advice.single.end(), [](const auto& a, const auto& b) {
        return a.uncompressed_gain_m < b.uncompressed_gain_m;
      });
    plan.crests.push_back(best->crest);
    with.vents_m.push_back(best->station_m);
    plan.after = best->after;
  }
  return plan;
}

Profile dug_down(const Profile& profile, int crest, double depth_m) {
  const auto [first, last] = mound(profile, crest);
  const double floor_m = point(profile, crest).elevation_m - depth_m;
  Profile dug = profile;
  dug.points.clear();
  for (int i = 0; i < static_cast<int>(profile.points.size()); ++i) {
    const ProfilePoint& here = point(profile, i);
    const bool inside = i >= first && i <= last;
    ProfilePoint lowered = here;
    if (inside) lowered.elevation_m = std::min(here.elevation_m, floor_m);
    dug.points.push_back(lowered);
    if (i < first || i >= last) continue;
    const ProfilePoint& next = point(profile, i + 1);
    const bool crosses = (here.elevation_m > floor_m) != (next.elevation_m > floor_m);
    if (crosses && here.elevation_m != floor_m && next.elevation_m != floor_m)
      dug.points.push_back(crossing(here, next, floor_m, here));
  }
  restore(dug);
  return dug;
}

std::optional<DigEffect> dig_until(const Profile& profile, const StartConditions& conditions, int crest,
                                   StartVerdict wanted) {
  const ProfilePoint& top = point(profile, crest);
  StartUp undug = start_up(profile, conditions);
  if (reaches(undug, wanted)) return DigEffect{crest, top.station_m, top.elevation_m, 0.0, std::move(undug)};
  const auto [first, last] = mound(profile, crest);
  double works_m =
      top.elevation_m - std::max(point(profile, first).elevation_m, point(profile, last).elevation_m);
  // A crest on the way down to a free end, or beyond the last low point, has an end for a neighbour
  // that may stand higher than itself.
  if (works_m <= 0.0) return std::nullopt;
  DigEffect effect{crest, top.station_m, top.elevation_m, works_m,
                   start_up(dug_down(profile, crest, works_m), conditions)};
  if (!reaches(effect.after, wanted)) return std::nullopt;
  double short_m = 0.0;
  while (works_m - short_m > dig_step_m) {
    const double middle_m = 0.5 * (works_m + short_m);
    StartUp tried = start_up(dug_down(profile, crest, middle_m), conditions);
    if (!reaches(tried, wanted)) {
      short_m = middle_m;
      continue;
    }
    works_m = middle_m;
    effect.depth_m = middle_m;
    effect.after = std::move(tried);
  }
  return effect;
}

std::optional<DigEffect> best_dig(const Profile& profile, const StartConditions& conditions,
                                  StartVerdict wanted) {
  std::optional<DigEffect> best;
  for (const Turn& turn : turns(profile)) {
    if (!turn.crest) continue;
    auto effect = dig_until(profile, conditions, turn.point, wanted);
    if (effect && (!best || effect->depth_m < best->depth_m)) best = std::move(effect);
  }
  return best;
}

}  // namespace runnel::air
