#include "runnel/air/remedy.h"

#include <algorithm>
#include <cstddef>
#include <limits>

#include "runnel/air/descent.h"
#include "runnel/air/restart.h"

namespace runnel::air {
namespace {

constexpr double dig_step_m = 1e-3;                   // nobody digs a trench to within a millimetre
constexpr std::size_t most_tried_under_water = 60;    // each computes the whole start-up again
constexpr std::size_t most_points_tried = 2'000'000;  // about a second

bool reaches(const StartLevels& result, StartVerdict wanted) { return result.verdict <= wanted; }

int last_point(const Profile& profile) { return static_cast<int>(profile.points.size()) - 1; }

/// The low points (or ends) on both sides of a crest.
std::pair<int, int> mound(const Profile& profile, int crest) {
  std::pair<int, int> ends{0, last_point(profile)};
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

/// What a load before some crest asks for at the source if no pocket gives way: the greatest of `floor_m` and
/// the load raised by `fall_m`. Descents in a row are one such law again.
struct Raised {
  double floor_m = -std::numeric_limits<double>::infinity(), fall_m = 0.0;

  double of(double load_m) const { return std::max(floor_m, load_m + fall_m); }
  Raised before(const Descent& next) const {
    const double own_m = next.vented ? 0.0 : next.crest_m - next.air.start_m();
    return {std::max(floor_m, next.crest_m + fall_m), fall_m + own_m};
  }
};

/// A line whose crests are given air valves one after the other.
class Venting {
 public:
  Venting(const Profile& profile, const StartConditions& conditions)
      : atmosphere_m_(conditions.atmospheric_head_m),
        shape_(shape_of(profile, conditions)),
        loads_(loads_under(shape_, atmosphere_m_, shape_.end_column_m)) {}

  LineShape& shape() { return shape_; }
  const Load& at_source() const { return loads_.front(); }
  void vent(std::size_t descent) {
    shape_.descents[descent].vented = true;
    loads_ = loads_under(shape_, atmosphere_m_, shape_.end_column_m);
  }

  /// The load at the source with an air valve at one more crest.
  Load with_vent(std::size_t descent, const Raised& upstream) const {
    Load load{vented(descent, loads_[descent + 1].column_m), 0.0};
    for (std::size_t k = descent; k-- > 0;) {
      load.column_m = pass_back(shape_.descents[k], atmosphere_m_, load).column_m;
      if (load.column_m == loads_[k].column_m) {  // from here on the air valve makes no difference
        load.column_m = loads_.front().column_m;
        break;
      }
    }
    load.uncompressed_m = uncompressed_with_vent_m(descent, upstream);
    return load;
  }
  double uncompressed_with_vent_m(std::size_t descent, const Raised& upstream) const {
    return upstream.of(vented(descent, loads_[descent + 1].uncompressed_m));
  }

  /// The descent for which an air valve lowers the uncompressed level most; of equals the first.
  std::optional<std::size_t> best_uncompressed() const {
    std::optional<std::size_t> best;
    double least_m = 0.0;
    Raised upstream;
    for (std::size_t k = 0; k < shape_.descents.size(); ++k) {
      const double level_m = uncompressed_with_vent_m(k, upstream);
      const bool better = !best || level_m < least_m - same_level_m;
      if (!shape_.descents[k].vented && better) best = k, least_m = level_m;
      upstream = upstream.before(shape_.descents[k]);
    }
    return best;
  }

 private:
  // Sums of many falls are rounded, and nobody levels to a nanometre.
  static constexpr double same_level_m = 1e-9;

  double vented(std::size_t descent, double beyond_m) const {
    return std::max(shape_.descents[descent].crest_m, beyond_m);
  }

  double atmosphere_m_;
  LineShape shape_;
  std::vector<Load> loads_;
};

}  // namespace

VentAdvice vent_advice(const Profile& profile, const StartConditions& conditions) {
  Venting line(profile, conditions);
  const bool too_high = start_up(profile, conditions).too_high.has_value();
  const bool under_water =
      line.shape().descents.size() <= most_tried_under_water && restart(profile, conditions).has_value();
  const Load before = line.at_source();
  VentAdvice advice;
  Raised upstream;
  for (std::size_t k = 0; k < line.shape().descents.size(); ++k) {
    const Descent& descent = line.shape().descents[k];
    if (!descent.vented) {
      const Load after = line.with_vent(k, upstream);
      const double station_m = point(profile, descent.crest).station_m;
      advice.single.push_back(
          {descent.crest, station_m, descent.crest_m, levels_of(after, conditions.source_level_m, too_high),
           before.column_m - after.column_m, before.uncompressed_m - after.uncompressed_m});
      if (under_water) {
        StartConditions with = conditions;
        with.vents_m.push_back(station_m);
        StartVerdict& verdict = advice.single.back().after.verdict;
        verdict = std::max(verdict, harder_start(profile, with).verdict);
      }
    }
    upstream = upstream.before(descent);
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
  VentPlan plan{{}, harder_start(profile, with)};
  if (reaches(plan.after, wanted)) return plan;
  if (plan.after.too_high) return std::nullopt;  // an air valve does not make a point lower
  Venting line(profile, conditions);
  const auto best = [&]() -> std::optional<std::size_t> {
    // For `starts` it is the uncompressed level that has to come down.
    if (wanted == StartVerdict::starts) return line.best_uncompressed();
    const VentAdvice advice = vent_advice(profile, with);
    if (!advice.best) return std::nullopt;
    const auto& all = line.shape().descents;
    const int crest = advice.single[*advice.best].crest;
    const auto at = std::find_if(all.begin(), all.end(), [&](const Descent& d) { return d.crest == crest; });
    return static_cast<std::size_t>(at - all.begin());
  };
  const auto add = [&](std::size_t descent) {
    const int crest = line.shape().descents[descent].crest;
    plan.crests.push_back(crest);
    with.vents_m.push_back(point(profile, crest).station_m);
    line.vent(descent);
  };
  while (!reaches(levels_of(line.at_source(), conditions.source_level_m, false), wanted)) {
    const auto next = best();
    if (!next) return std::nullopt;
    add(*next);
  }
  plan.after = harder_start(profile, with);
  // Against air trapped by the water of a tank, the air valve nearest to the tank does most, since all air
  // before it can leave.
  while (!reaches(plan.after, wanted)) {
    std::size_t last = line.shape().descents.size();
    while (last > 0 && line.shape().descents[last - 1].vented) --last;
    if (last == 0) return std::nullopt;
    add(last - 1);
    plan.after = harder_start(profile, with);
  }
  return plan;
}

Profile dug_to(const Profile& profile, const Trench& trench) {
  const network::Passage& passage = profile.points.passage();
  const std::size_t first = profile.points.on_passage(trench.first);
  const std::size_t last = profile.points.on_passage(trench.last);
  std::vector<network::Course> courses;
  for (const network::Passage::Leg& leg : passage.legs()) {
    courses.push_back(leg.course);
    const std::size_t points = leg.course.points().size();
    // The last point of a leg is the first one of the next, which moves or stays with that.
    const bool goes_on = &leg != &passage.legs().back();
    if (last < leg.first || first >= leg.first + points - (goes_on ? 1 : 0)) continue;
    const std::size_t from = std::max(first, leg.first) - leg.first;
    const std::size_t to = std::min(last - leg.first, points - 1);
    const bool from_stays = first >= leg.first && trench.first_stays;
    const bool to_stays = (goes_on && to == points - 1) || (last == leg.first + to && trench.last_stays);
    courses.back() = leg.reversed ? leg.course.dug(points - 1 - to, points - 1 - from, trench.floor_m,
                                                   to_stays, from_stays)
                                  : leg.course.dug(from, to, trench.floor_m, from_stays, to_stays);
  }
  Profile dug = profile;
  dug.points = profile.points.relaid(std::move(courses));
  return dug;
}

Profile dug_down(const Profile& profile, int crest, double depth_m) {
  const auto [first, last] = mound(profile, crest);
  return dug_to(profile, {first, last, point(profile, crest).elevation_m - depth_m});
}

bool dig_could_start(const Profile& profile, const StartLevels& before, double depth_m) {
  double bore_m = 0.0;
  for (const ProfilePoint p : profile.points) bore_m = std::max(bore_m, p.bore_m);
  // A bore on either side: a crest that stands less than that over its low point is none any more.
  return before.uncompressed_margin_m + depth_m + 2.0 * bore_m > 0.0;
}

namespace {

/// How deep a crest can be dug down at most: to the higher of the low points (or ends) beside it. Zero or
/// less where an end beside the crest is as high as the crest or higher.
double deepest_dig_m(const Profile& profile, int crest, std::pair<int, int> mound) {
  return point(profile, crest).elevation_m -
         std::max(point(profile, mound.first).elevation_m, point(profile, mound.second).elevation_m);
}

/// The shallowest depth that works, found upwards from `works_m`; none if that does not work.
std::optional<DigEffect> dig_up_from(const Profile& profile, const StartConditions& conditions, int crest,
                                     StartVerdict wanted, double works_m) {
  const ProfilePoint top = point(profile, crest);
  DigEffect effect{crest, top.station_m, top.elevation_m, works_m,
                   harder_start(dug_down(profile, crest, works_m), conditions)};
  if (!reaches(effect.after, wanted)) return std::nullopt;
  double short_m = 0.0;
  while (works_m - short_m > dig_step_m) {
    const double middle_m = 0.5 * (works_m + short_m);
    StartUp tried = harder_start(dug_down(profile, crest, middle_m), conditions);
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

}  // namespace

std::optional<DigEffect> dig_until(const Profile& profile, const StartConditions& conditions, int crest,
                                   StartVerdict wanted) {
  StartUp undug = harder_start(profile, conditions);
  const ProfilePoint top = point(profile, crest);
  if (reaches(undug, wanted)) return DigEffect{crest, top.station_m, top.elevation_m, 0.0, std::move(undug)};
  const double works_m = deepest_dig_m(profile, crest, mound(profile, crest));
  if (works_m <= 0.0) return std::nullopt;
  return dig_up_from(profile, conditions, crest, wanted, works_m);
}

std::optional<DigEffect> best_dig(const Profile& profile, const StartConditions& conditions,
                                  StartVerdict wanted) {
  const StartUp undug = harder_start(profile, conditions);
  const std::vector<Turn> all = turns(profile);
  std::optional<DigEffect> best;
  std::size_t left = most_points_tried;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!all[i].crest) continue;
    const int crest = all[i].point;
    if (reaches(undug, wanted)) return dig_until(profile, conditions, crest, wanted);
    const std::pair<int, int> beside{i > 0 ? all[i - 1].point : 0,
                                     i + 1 < all.size() ? all[i + 1].point : last_point(profile)};
    const double deepest_m = deepest_dig_m(profile, crest, beside);
    if (deepest_m <= 0.0) continue;
    if (wanted == StartVerdict::starts && i > 0 && !conditions.end_level_m &&
        !dig_could_start(profile, undug, deepest_m))
      continue;
    if (left < profile.points.size()) break;
    left -= profile.points.size();
    // If the best depth so far is not enough at this crest, it cannot be the shallowest.
    if (best && best->depth_m < deepest_m &&
        !reaches(harder_start(dug_down(profile, crest, best->depth_m), conditions), wanted))
      continue;
    auto effect = dig_up_from(profile, conditions, crest, wanted, deepest_m);
    if (effect && (!best || effect->depth_m < best->depth_m)) best = std::move(effect);
  }
  return best;
}

}  // namespace runnel::air
