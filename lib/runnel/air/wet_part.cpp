#include "runnel/air/wet_part.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/base/constants.h"
#include "runnel/steady/pocket_law.h"

namespace runnel::air {
namespace {

constexpr double close_enough = 2e-3;  // error of the time of a stretch, as a share of it
constexpr int most_halvings = 14;      // where the rate jumps, as when a leg closes, no halving is enough

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

WetPart::WetPart(const network::System& system, const Way& way, double most_m3s)
    : source_m_(way.path.source_level_m), most_m3s_(most_m3s) {
  for (const PathLeg& leg : way.path.legs) add_line(system, leg);
  course_.atmospheric_head_m = way.conditions.atmospheric_head_m;
  length_m_.assign(course_.points.size(), 0.0);
  volume_m3_ = length_m_;
  for (std::size_t i = 0; i < course_.reaches.size(); ++i) {
    const steady::CourseReach& reach = course_.reaches[i];
    length_m_[i + 1] = length_m_[i] + reach.length_m;
    volume_m3_[i + 1] = volume_m3_[i] + reach.length_m * course_.pipes[at(reach.pipe)].area_m2();
  }
  for (const ProfilePoint& p : way.profile.points)
    point_of_.push_back(point_at(course_, p.station_m, p.elevation_m));
  add_pockets(way);
  end_rate_m3s_ = rate_m3s(length_m_.back());
}

/// Adds one pipeline in the direction of flow. Its end is the beginning of the next.
void WetPart::add_line(const network::System& system, const PathLeg& leg) {
  const steady::LinePlan plan = steady::plan_line(system, *leg.line);
  const steady::PocketCourse line =
      leg.reversed ? steady::course_back(plan, 1.0) : steady::course_of(plan, 1.0);
  const int pipes = static_cast<int>(course_.pipes.size());
  const double first_m = line.points.front().station_m;
  double start_m = 0.0, carried_s2m5 = 0.0;
  if (course_.points.empty()) {
    course_.entrance_s2m5 = line.entrance_s2m5;
  } else {
    start_m = course_.points.back().station_m;
    carried_s2m5 = course_.points.back().local_s2m5 + course_.exit_s2m5 + line.entrance_s2m5;
    course_.points.pop_back();
  }
  for (steady::CoursePoint point : line.points) {
    point.station_m += start_m - first_m;
    point.local_s2m5 += carried_s2m5;
    carried_s2m5 = 0.0;
    point.floor_m = point.elevation_m;  // there is air everywhere in an empty line
    course_.points.push_back(point);
  }
  for (steady::CourseReach reach : line.reaches) {
    reach.pipe += pipes;
    course_.reaches.push_back(reach);
  }
  course_.pipes.insert(course_.pipes.end(), line.pipes.begin(), line.pipes.end());
  course_.exit_s2m5 = line.exit_s2m5;
}

void WetPart::add_pockets(const Way& way) {
  for (const Pocket& pocket : way.start.pockets) {
    if (pocket.vented || pocket.volume_start_m3 <= 0.0) continue;
    const int crest = point_of_[at(pocket.crest)], low = point_of_[at(pocket.low)];
    if (crest < low) course_.pockets.push_back({crest, low, pocket.volume_start_m3, 0.0});
  }
}

double WetPart::length_to_m(int profile_point) const { return length_m_[at(point_of_[at(profile_point)])]; }

double WetPart::volume_m3(double length_m) const {
  const auto after = std::lower_bound(length_m_.begin() + 1, length_m_.end() - 1, length_m);
  const auto i = static_cast<std::size_t>(after - length_m_.begin());
  const double run_m = length_m_[i] - length_m_[i - 1];
  const double share = run_m > 0.0 ? std::clamp((length_m - length_m_[i - 1]) / run_m, 0.0, 1.0) : 1.0;
  return volume_m3_[i - 1] + share * (volume_m3_[i] - volume_m3_[i - 1]);
}

double WetPart::rate_m3s(double length_m, double most_m3s) const {
  if (takes_all()) return most_m3s_;
  const auto after = std::lower_bound(length_m_.begin() + 1, length_m_.end() - 1, length_m);
  const auto last = static_cast<std::size_t>(after - length_m_.begin());
  const double run_m = length_m_[last] - length_m_[last - 1];
  const double share = run_m > 0.0 ? std::clamp((length_m - length_m_[last - 1]) / run_m, 0.0, 1.0) : 1.0;
  if (last == 1 && share <= 0.0) return most_m3s;  // nothing yet holds the flow back
  steady::PocketCourse wet = course_;
  wet.points.resize(last + 1);
  wet.reaches.resize(last);
  wet.reaches.back().length_m *= share;
  steady::CoursePoint &front = wet.points.back(), &before = wet.points[last - 1];
  front.elevation_m = before.elevation_m + share * (front.elevation_m - before.elevation_m);
  front.station_m = before.station_m + share * (front.station_m - before.station_m);
  const double front_m = front.floor_m = front.elevation_m;
  if (share < 1.0) front.local_s2m5 = 0.0;
  std::erase_if(wet.pockets, [&](const steady::ShutAir& air) {
    return at(air.low) > last || (at(air.low) == last && share < 1.0);
  });
  const double area_m2 = wet.pipes[at(wet.reaches.back().pipe)].area_m2();
  wet.exit_s2m5 = 1.0 / (2.0 * gravity_ms2 * area_m2 * area_m2);
  return steady::PocketLaw(std::move(wet)).flow_m3s(source_m_, front_m, most_m3s);
}

/// `most_m3s`: the rate further back, which the rate here does not exceed.
WetPart::Front WetPart::front_at(double length_m, double most_m3s) const {
  return {length_m, volume_m3(length_m), rate_m3s(length_m, most_m3s)};
}

double WetPart::advance(Front& front, double to_m) const {
  const Front from = front;
  front = front_at(to_m, from.rate_m3s);
  if (front.rate_m3s <= 0.0) return std::numeric_limits<double>::infinity();
  const double filled_m3 = front.volume_m3 - from.volume_m3;
  return seconds(from, front, close_enough * filled_m3 / from.rate_m3s, most_halvings);
}

double WetPart::seconds(const Front& from, const Front& to, double close_s, int depth) const {
  const double volume_m3 = to.volume_m3 - from.volume_m3;
  const double least_s = volume_m3 / from.rate_m3s, most_s = volume_m3 / to.rate_m3s;
  if (most_s - least_s <= close_s || depth == 0) return 0.5 * (least_s + most_s);
  const Front middle = front_at(0.5 * (from.length_m + to.length_m), from.rate_m3s);
  return seconds(from, middle, 0.5 * close_s, depth - 1) + seconds(middle, to, 0.5 * close_s, depth - 1);
}

}  // namespace runnel::air
