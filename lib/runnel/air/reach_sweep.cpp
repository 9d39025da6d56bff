#include "runnel/air/reach_sweep.h"

#include <algorithm>
#include <cmath>

#include "runnel/air/descent_index.h"
#include "runnel/air/profile.h"

namespace runnel::air {
namespace {

double middle_m(const steady::Reach& reach) { return 0.5 * (reach.from_m + reach.to_m); }

/// Whether all reaches between two stations run full.
bool all_full(const steady::LineState& run, double a_m, double b_m) {
  const auto first = std::lower_bound(run.reaches.begin(), run.reaches.end(), std::min(a_m, b_m),
                                      [](const steady::Reach& r, double s) { return middle_m(r) < s; });
  for (auto r = first; r != run.reaches.end() && middle_m(*r) <= std::max(a_m, b_m); ++r)
    if (r->state != steady::ReachState::full) return false;
  return true;
}

/// The first point that lies at a station or behind it.
auto point_from(const steady::LineState& run, double station_m) {
  return std::lower_bound(run.points.begin(), run.points.end(), station_m,
                          [](const steady::LinePoint& p, double s) { return p.station_m < s; });
}

}  // namespace

std::optional<double> clearance_at_m(const steady::LineState& run, double station_m) {
  const auto behind = point_from(run, station_m);
  if (behind == run.points.end()) return std::nullopt;
  if (behind->station_m == station_m) return behind->pressure_head_m;
  if (behind == run.points.begin()) return std::nullopt;
  const steady::LinePoint &a = *(behind - 1), &b = *behind;
  if (!a.pressure_head_m || !b.pressure_head_m) return std::nullopt;
  const double share = (station_m - a.station_m) / (b.station_m - a.station_m);
  return *a.pressure_head_m + share * (*b.pressure_head_m - *a.pressure_head_m);
}

std::optional<double> least_clearance_m(const steady::LineState& run, double from_m, double to_m) {
  std::optional<double> least = clearance_at_m(run, from_m);
  const auto take = [&](const std::optional<double>& head) {
    if (head) least = std::min(least.value_or(*head), *head);
  };
  take(clearance_at_m(run, to_m));
  const double last_m = std::max(from_m, to_m);
  for (auto p = point_from(run, std::min(from_m, to_m)); p != run.points.end() && p->station_m <= last_m; ++p)
    take(p->pressure_head_m);
  return least;
}

LineLegs::LineLegs(const network::Line& line, const steady::LineState& run)
    : profile_(profile_of({PathLeg{&line, run.flow_m3s < 0.0}})), legs_(straight_legs(profile_)) {}

ReachSweep LineLegs::reach_of(const StraightLeg& leg, const steady::LineState& run,
                              double clearance_m) const {
  const ProfilePoint top = profile_.points[static_cast<std::size_t>(leg.first)];
  ReachSweep reach;
  reach.from_m = top.own_station_m;
  reach.to_m = profile_.points[static_cast<std::size_t>(leg.last)].own_station_m;
  reach.fall_m = -leg.rise_m;
  reach.down_angle_rad = down_angle_rad(reach.fall_m, leg.plan_m);
  reach.bore_m = top.bore_m;
  reach.velocity_ms = std::abs(run.flow_m3s) / top.area_m2;
  const auto least = least_clearance_m(run, reach.from_m, reach.to_m);
  reach.near_grade = least && *least < clearance_m;
  reach.runs_full = all_full(run, reach.from_m, reach.to_m);
  return reach;
}

std::optional<ReachSweep> LineLegs::hardest_below(const steady::LineState& run,
                                                  const CrestDescent& descent) const {
  // Legs are in the order of the flow: own stations rise along them, or fall if the water runs back.
  const bool back = run.flow_m3s < 0.0;
  const auto at_m = [&](const StraightLeg& leg) {
    const double a = profile_.points[static_cast<std::size_t>(leg.first)].own_station_m;
    const double b = profile_.points[static_cast<std::size_t>(leg.last)].own_station_m;
    return (back ? -0.5 : 0.5) * (a + b);
  };
  const double low_m = std::min(descent.from_m, descent.to_m),
               high_m = std::max(descent.from_m, descent.to_m);
  const auto first = std::lower_bound(legs_.begin(), legs_.end(), back ? -high_m : low_m,
                                      [&](const StraightLeg& leg, double s) { return at_m(leg) < s; });
  std::optional<ReachSweep> hardest;
  for (auto leg = first; leg != legs_.end() && at_m(*leg) <= (back ? -low_m : high_m); ++leg) {
    if (leg->rise_m >= 0.0) continue;
    ReachSweep reach = reach_of(*leg, run, 0.0);
    reach.below_crest = true;
    reach.sweep = sweep(reach.bore_m, reach.down_angle_rad, reach.velocity_ms);
    if (!hardest || reach.sweep.most_ms > hardest->sweep.most_ms) hardest = reach;
  }
  return hardest;
}

std::vector<ReachSweep> sweep_reaches(const network::Line& line, const steady::LineState& run,
                                      const std::vector<CrestDescent>& descents, double clearance_m) {
  std::vector<ReachSweep> found;
  if (!(std::abs(run.flow_m3s) > 0.0)) return found;
  const LineLegs legs(line, run);
  const DescentIndex below(descents);
  for (const StraightLeg& leg : legs.all()) {
    if (leg.rise_m >= 0.0) continue;
    ReachSweep reach = legs.reach_of(leg, run, clearance_m);
    const double middle_m = 0.5 * (reach.from_m + reach.to_m);
    reach.below_crest = below.covers(Top::bare_crest, middle_m) || below.covers(Top::vented_crest, middle_m);
    if (!reach.below_crest && !reach.near_grade && reach.runs_full) continue;
    reach.sweep = sweep(reach.bore_m, reach.down_angle_rad, reach.velocity_ms);
    found.push_back(reach);
  }
  return found;
}

}  // namespace runnel::air
