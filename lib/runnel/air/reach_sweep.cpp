#include "runnel/air/reach_sweep.h"

#include <algorithm>
#include <cmath>

#include "runnel/air/profile.h"

namespace runnel::air {
namespace {

bool within(double station_m, double a_m, double b_m) {
  return station_m >= std::min(a_m, b_m) && station_m <= std::max(a_m, b_m);
}

/// Full over all reaches that lie between two stations.
bool all_full(const steady::LineState& run, double a_m, double b_m) {
  return std::all_of(run.reaches.begin(), run.reaches.end(), [&](const steady::Reach& r) {
    return !within(0.5 * (r.from_m + r.to_m), a_m, b_m) || r.state == steady::ReachState::full;
  });
}

}  // namespace

std::optional<double> clearance_at_m(const steady::LineState& run, double station_m) {
  const auto& p = run.points;
  if (p.empty()) return std::nullopt;
  for (std::size_t i = 0; i + 1 < p.size(); ++i) {
    const steady::LinePoint &a = p[i], &b = p[i + 1];
    if (!within(station_m, a.station_m, b.station_m)) continue;
    const double width_m = b.station_m - a.station_m;
    if (station_m == a.station_m || width_m <= 0.0) return a.pressure_head_m;
    if (station_m == b.station_m) return b.pressure_head_m;
    if (!a.pressure_head_m || !b.pressure_head_m) return std::nullopt;
    const double share = (station_m - a.station_m) / width_m;
    return *a.pressure_head_m + share * (*b.pressure_head_m - *a.pressure_head_m);
  }
  return std::nullopt;
}

std::optional<double> least_clearance_m(const steady::LineState& run, double from_m, double to_m) {
  std::optional<double> least = clearance_at_m(run, from_m);
  const auto take = [&](const std::optional<double>& head) {
    if (head) least = std::min(least.value_or(*head), *head);
  };
  take(clearance_at_m(run, to_m));
  for (const steady::LinePoint& p : run.points)
    if (within(p.station_m, from_m, to_m)) take(p.pressure_head_m);
  return least;
}

std::vector<ReachSweep> sweep_reaches(const network::Line& line, const steady::LineState& run,
                                      const std::vector<CrestDescent>& descents, double clearance_m) {
  std::vector<ReachSweep> found;
  if (!(std::abs(run.flow_m3s) > 0.0)) return found;
  const Profile profile = profile_of({PathLeg{&line, run.flow_m3s < 0.0}});
  for (const StraightLeg& leg : straight_legs(profile)) {
    if (leg.rise_m >= 0.0) continue;
    const ProfilePoint& top = profile.points[static_cast<std::size_t>(leg.first)];
    ReachSweep reach;
    reach.from_m = top.own_station_m;
    reach.to_m = profile.points[static_cast<std::size_t>(leg.last)].own_station_m;
    const double middle_m = 0.5 * (reach.from_m + reach.to_m);
    reach.below_crest = std::any_of(descents.begin(), descents.end(), [&](const CrestDescent& d) {
      return d.top != Top::source && within(middle_m, d.from_m, d.to_m);
    });
    const auto least = least_clearance_m(run, reach.from_m, reach.to_m);
    reach.near_grade = least && *least < clearance_m;
    reach.runs_full = all_full(run, reach.from_m, reach.to_m);
    if (!reach.below_crest && !reach.near_grade && reach.runs_full) continue;
    reach.fall_m = -leg.rise_m;
    reach.down_angle_rad = down_angle_rad(reach.fall_m, leg.plan_m);
    reach.bore_m = top.bore_m;
    reach.velocity_ms = std::abs(run.flow_m3s) / top.area_m2;
    reach.sweep = sweep(reach.bore_m, reach.down_angle_rad, reach.velocity_ms);
    found.push_back(reach);
  }
  return found;
}

}  // namespace runnel::air
