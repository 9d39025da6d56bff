#include <algorithm>

#include "runnel/air/restart.h"
#include "runnel/air/tried_remedies.h"

namespace runnel::air {
namespace {

constexpr double finest_dig_m = 0.01;     // nobody digs a trench finer than a centimetre
constexpr double head_rounding_m = 1e-6;  // the solver closes heads to 1e-9 m

/// Whether a crest holds the first pocket, whose air may be open to the source once the crest is dug down.
bool is_first_pocket(const Way& way, const Crest& crest) {
  return !way.start.pockets.empty() && way.start.pockets.front().crest == crest.point;
}

/// What a trench achieves, and whether that is enough.
struct Tried {
  TriedDig dig;
  bool enough = false;
};

class Digging {
 public:
  Digging(Trials& trials, const Way& way, const Crest& crest, DigGoal goal)
      : trials_(trials), way_(way), crest_(crest), goal_(goal) {
    line_ = trials.system().line(crest.pipeline);
    mound_ = trials.mound_around(trials.line(crest.pipeline), crest.station_m);
  }

  /// How deep the trench can be: down to the higher of the low points beside the crest, since below that the
  /// crest would be elsewhere. An end of the line is no limit, because the trench may fall away from it,
  /// unless both sides are ends.
  double deepest_m() const {
    const Profile& profile = trials_.profile(trials_.line(crest_.pipeline));
    const double first_m = profile.points.front().own_station_m, last_m = profile.points.back().own_station_m;
    const double from_m = elevation_at_m(profile, mound_.from_m - first_m);
    const double to_m = elevation_at_m(profile, mound_.to_m - first_m);
    const bool from_end = mound_.from_m <= first_m, to_end = mound_.to_m >= last_m;
    double limit_m = std::max(from_m, to_m);
    if (from_end && to_end) limit_m = std::min(from_m, to_m);
    if (from_end && !to_end) limit_m = to_m;
    if (!from_end && to_end) limit_m = from_m;
    return crest_.elevation_m - limit_m;
  }

  std::optional<Tried> at(double depth_m) {
    Tried tried;
    tried.dig.goal = goal_;
    tried.dig.trench = mound_;
    tried.dig.depth_m = depth_m;
    tried.dig.floor_m = crest_.elevation_m - depth_m;
    if (goal_ == DigGoal::water_starts) {
      tried.dig.start_after = start_with(tried.dig.floor_m);
      tried.enough = tried.dig.start_after.verdict == StartVerdict::starts;
      return tried;
    }
    const auto built =
        network::with_trench(trials_.system(), trials_.line(crest_.pipeline), mound_, tried.dig.floor_m);
    if (!built) return std::nullopt;
    const network::System& changed = *built.value;
    tried.dig.start_after = start_with(tried.dig.floor_m);
    if (!run(changed, tried.dig)) return std::nullopt;
    tried.enough = goal_ == DigGoal::asks_met
                       ? tried.dig.after.missing_m3s <= 0.0
                       : tried.dig.after.clearance_m &&
                             *tried.dig.after.clearance_m >= crest_.wanted_clearance_m - head_rounding_m;
    return tried;
  }

  /// Solves the changed system; returns false if that was not possible.
  bool run(const network::System& changed, TriedDig& dig) {
    const auto state = trials_.solve(changed);
    if (state) dig.after = running(changed, *state, crest_.pipeline, floor_of(changed, dig.floor_m));
    return state.has_value();
  }

 private:
  /// The start-up of the way with this trench; where its ends are the pipeline's own, they stay.
  StartLevels start_with(double floor_m) const {
    const auto& points = way_.profile.points;
    const double first_m = line_->survey.front().station.metres();
    const double last_m = line_->survey.back().station.metres();
    const int own = points[static_cast<std::size_t>(crest_.point)].pipeline;
    const auto in_mound = [&](int i) {
      const ProfilePoint p = points[static_cast<std::size_t>(i)];
      return p.pipeline == own && p.own_station_m >= mound_.from_m && p.own_station_m <= mound_.to_m;
    };
    const int end = static_cast<int>(points.size()) - 1;
    Trench trench{crest_.point, crest_.point, floor_m};
    while (trench.first > 0 && in_mound(trench.first - 1)) --trench.first;
    while (trench.last < end && in_mound(trench.last + 1)) ++trench.last;
    // On a profile the end of a pipeline is the first point of the next.
    const bool back = way_.path.legs[static_cast<std::size_t>(own)].reversed;
    const bool to_the_end = back ? mound_.from_m <= first_m : mound_.to_m >= last_m;
    if (to_the_end && trench.last < end) ++trench.last;
    const auto stays = [&](int i) {
      const ProfilePoint p = points[static_cast<std::size_t>(i)];
      return p.pipeline != own || p.own_station_m <= first_m || p.own_station_m >= last_m;
    };
    trench.first_stays = stays(trench.first);
    trench.last_stays = stays(trench.last);
    return harder_start(dug_to(way_.profile, trench), way_.conditions);
  }

  /// The stretch from the first to the last point on the trench's floor; the crest itself if there is none.
  network::Stretch floor_of(const network::System& changed, double floor_m) const {
    network::Stretch floor{crest_.station_m, crest_.station_m};
    for (const network::SurveyPoint& p : changed.line(crest_.pipeline)->survey) {
      const double s = p.station.metres();
      if (s < mound_.from_m || s > mound_.to_m || p.elevation.metres() < floor_m - 1e-9) continue;
      floor.from_m = std::min(floor.from_m, s);
      floor.to_m = std::max(floor.to_m, s);
    }
    return floor;
  }

  Trials& trials_;
  const Way& way_;
  const Crest& crest_;
  DigGoal goal_;
  const network::Line* line_ = nullptr;
  network::Stretch mound_;
};

}  // namespace

std::optional<TriedDig> try_dig(Trials& trials, const Way& way, const Crest& crest, DigGoal goal) {
  Digging digging(trials, way, crest, goal);
  double short_m = 0.0, works_m = digging.deepest_m();
  if (works_m <= finest_dig_m) return std::nullopt;
  const bool could = goal != DigGoal::water_starts || way.conditions.end_level_m ||
                     is_first_pocket(way, crest) || dig_could_start(way.profile, way.start, works_m);
  if (!could) return std::nullopt;
  auto best = digging.at(works_m);
  if (!best || !best->enough) return std::nullopt;
  while (works_m - short_m > finest_dig_m) {
    const double middle_m = 0.5 * (works_m + short_m);
    auto tried = digging.at(middle_m);
    if (!tried) return std::nullopt;
    (tried->enough ? works_m : short_m) = middle_m;
    if (tried->enough) best = std::move(tried);
  }
  if (goal == DigGoal::water_starts) {
    const auto changed = network::with_trench(trials.system(), trials.line(crest.pipeline), best->dig.trench,
                                              best->dig.floor_m);
    if (!changed || !digging.run(*changed.value, best->dig)) return std::nullopt;
  }
  return best->dig;
}

}  // namespace runnel::air
