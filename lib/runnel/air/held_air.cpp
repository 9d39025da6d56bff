#include "runnel/air/held_air.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace runnel::air {
namespace {

/// The end of a pipeline in the direction of flow, which on a profile is the first point of the next one.
network::SurveyPoint far_end(const PathLeg& leg) {
  return leg.reversed ? leg.line->survey.front() : leg.line->survey.back();
}

class HeldBodies {
 public:
  explicit HeldBodies(const network::System& system) : system_(system) {}

  void add(const Way& way) {
    for (const Pocket& pocket : way.start.pockets)
      if (!pocket.vented && pocket.volume_start_m3 > 0.0) add_pocket(way, pocket);
  }

  std::vector<HeldAir> run() {
    std::sort(held_.begin(), held_.end(), [](const HeldAir& a, const HeldAir& b) {
      const auto along = [](const HeldAir& h) { return h.reversed ? -h.crest_station_m : h.crest_station_m; };
      return std::make_tuple(a.line, a.reversed, along(a), -a.crest_elevation_m) <
             std::make_tuple(b.line, b.reversed, along(b), -b.crest_elevation_m);
    });
    std::vector<HeldAir> once;
    for (const HeldAir& air : held_)
      if (once.empty() || !join(once.back(), air)) once.push_back(air);
    return once;
  }

 private:
  void add_pocket(const Way& way, const Pocket& pocket) {
    const std::vector<double> volume_m3 = bore_volume_to_points_m3(way.profile);
    const auto volume = [&](int i) { return volume_m3[static_cast<std::size_t>(i)]; };
    int body = -1;
    for (int i = pocket.crest; i < pocket.low;) {
      const int on = point(way.profile, i).pipeline;
      int end = i + 1;
      while (end < pocket.low && point(way.profile, end).pipeline == on) ++end;
      const PathLeg& leg = way.path.legs[static_cast<std::size_t>(on)];
      const ProfilePoint top = point(way.profile, i), low = point(way.profile, end);
      HeldAir air{.line = static_cast<std::size_t>(leg.line - system_.lines().data()),
                  .reversed = leg.reversed,
                  .crest_station_m = top.own_station_m,
                  .crest_elevation_m = top.elevation_m,
                  .low_station_m = low.own_station_m,
                  .low_elevation_m = low.elevation_m,
                  .start_volume_m3 = pocket.volume_start_m3,
                  .before_m3 = volume(i) - volume(pocket.crest)};
      if (low.pipeline != on) {
        air.low_station_m = far_end(leg).station.metres();
        air.low_elevation_m = far_end(leg).elevation.metres();
      }
      if (body < 0) body = number_of(air);
      air.body = body;
      held_.push_back(air);
      i = end;
    }
  }

  /// A body is identified by where it begins, whichever way it is found on.
  int number_of(const HeldAir& top) {
    const auto next = static_cast<int>(numbers_.size());
    return numbers_.emplace(std::make_tuple(top.line, top.reversed, top.crest_station_m), next).first->second;
  }

  /// Whether `air` is the same as the one before it or overlaps it; if so it is merged into that one.
  static bool join(HeldAir& last, const HeldAir& air) {
    if (air.line != last.line || air.reversed != last.reversed) return false;
    const double sign = air.reversed ? -1.0 : 1.0;
    const bool same = air.crest_station_m == last.crest_station_m;
    if (!same && sign * (air.crest_station_m - last.low_station_m) >= 0.0) return false;
    if (sign * (air.low_station_m - last.low_station_m) > 0.0) {
      last.low_station_m = air.low_station_m;
      last.low_elevation_m = air.low_elevation_m;
    }
    // Two crests so close together that ways differ about them hold all the air of both.
    last.start_volume_m3 = same ? std::max(last.start_volume_m3, air.start_volume_m3)
                                : last.start_volume_m3 + air.start_volume_m3;
    last.before_m3 = std::min(last.before_m3, air.before_m3);
    return true;
  }

  const network::System& system_;
  std::vector<HeldAir> held_;
  std::map<std::tuple<std::size_t, bool, double>, int> numbers_;
};

}  // namespace

std::vector<HeldAir> held_air(const network::System& system, const std::vector<Way>& ways) {
  HeldBodies bodies(system);
  for (const Way& way : ways)
    if (!way.start.too_high) bodies.add(way);
  return bodies.run();
}

}  // namespace runnel::air
