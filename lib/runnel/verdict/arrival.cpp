#include "runnel/verdict/arrival.h"

#include <algorithm>
#include <cstddef>

#include "runnel/losses/part_full.h"

namespace runnel::verdict {
namespace {

const pipes::Pipe& pipe_under(const network::Line& line, double station_m) {
  const network::FittedPipe* pipe = &line.pipes.front();
  for (const network::FittedPipe& next : line.pipes)
    if (next.from.metres() <= station_m + network::same_station_m) pipe = &next;
  return pipe->pipe;
}

/// How fast the front of a flow may run down a leg at most: in the full bore, or part-full where that is
/// faster.
double fastest_ms(const network::System& system, const network::Line& line, const air::ProfilePoint& here,
                  double slope, double rate_m3s) {
  const double full_ms = rate_m3s / here.area_m2;
  if (!(slope > 0.0)) return full_ms;
  const pipes::Pipe& pipe = pipe_under(line, here.own_station_m);
  const auto trickle =
      losses::normal_flow(system.friction(), here.bore_m, pipe.roughness.metres(), pipe.hazen_c,
                          system.site().water.kinematic_viscosity_m2s, slope, rate_m3s);
  return trickle ? std::max(full_ms, trickle->velocity_ms) : full_ms;
}

/// The soonest that water can be at each point of a way [s].
std::vector<double> soonest_s(const network::System& system, const air::Way& way, double rate_m3s) {
  std::vector<double> all{0.0};
  const auto& points = way.profile.points;
  std::size_t leg = 0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    if (i > 0 && points[i].pipeline != points[i - 1].pipeline) ++leg;
    const double length_m = points[i + 1].distance_m - points[i].distance_m;
    const double slope =
        length_m > 0.0 ? (points[i].elevation_m - points[i + 1].elevation_m) / length_m : 0.0;
    const network::Line& line = *way.path.legs[std::min(leg, way.path.legs.size() - 1)].line;
    const double speed_ms = fastest_ms(system, line, points[i], slope, rate_m3s);
    all.push_back(all.back() + length_m / speed_ms);
  }
  return all;
}

// Each end that is followed costs a pass over the whole way. On a way of more lines than this, the ends
// between are read off from their neighbours, a thirtieth of the way apart.
constexpr std::size_t most_followed = 32;

/// The ends that are followed: all if they are few, evenly spread ones if many, and always the last.
std::vector<int> followed(const std::vector<int>& ends) {
  if (ends.size() <= most_followed) return ends;
  std::vector<int> some;
  for (std::size_t k = 1; k <= most_followed; ++k) some.push_back(ends[k * ends.size() / most_followed - 1]);
  return some;
}

/// All ends from those that were followed; the ones between by the volume of bore that is filled.
std::vector<air::FirstWater> between(const std::vector<air::FirstWater>& followed,
                                     const std::vector<int>& ends, const air::Profile& profile) {
  if (followed.size() == ends.size()) return followed;
  const std::vector<double> bore_m3 = air::bore_volume_to_points_m3(profile);
  std::vector<air::FirstWater> all;
  air::FirstWater before{.earliest_s = 0.0};
  std::size_t next = 0;
  for (const int point : ends) {
    const air::FirstWater& after = followed[next];
    const auto p = static_cast<std::size_t>(point);
    const double stretch_m3 = after.full_bore_volume_m3 - before.full_bore_volume_m3;
    const double share = stretch_m3 > 0.0 ? (bore_m3[p] - before.full_bore_volume_m3) / stretch_m3 : 1.0;
    air::FirstWater here{point, profile.points[p].station_m, bore_m3[p],
                         before.full_bore_s + share * (after.full_bore_s - before.full_bore_s), std::nullopt};
    if (before.earliest_s && after.earliest_s)
      here.earliest_s = *before.earliest_s + share * (*after.earliest_s - *before.earliest_s);
    all.push_back(point == after.point ? after : here);
    if (point != after.point) continue;
    before = after;
    ++next;
  }
  return all;
}

}  // namespace

std::optional<Arrival> arrival(const network::System& system, const air::Way& way, double rate_m3s) {
  if (way.start.verdict == air::StartVerdict::blocked || !(rate_m3s > 0.0)) return std::nullopt;
  const air::WetPart wet(system, way, rate_m3s);
  std::vector<int> ends;
  const auto& points = way.profile.points;
  // The last point repeats the pipeline of the leg before it.
  for (std::size_t i = 0; i + 2 < points.size(); ++i)
    if (points[i + 1].pipeline != points[i].pipeline) ends.push_back(static_cast<int>(i) + 1);
  ends.push_back(static_cast<int>(points.size()) - 1);
  Arrival found;
  found.rate_m3s = rate_m3s;
  found.line_limits = !wet.takes_all();
  found.ends = between(air::first_water(way.profile, way.conditions, rate_m3s, followed(ends), &wet), ends,
                       way.profile);
  const std::vector<double> runs_s = soonest_s(system, way, rate_m3s);
  for (air::FirstWater& end : found.ends)
    if (end.earliest_s)
      end.earliest_s =
          std::min(end.full_bore_s, std::max(*end.earliest_s, runs_s[static_cast<std::size_t>(end.point)]));
  return found;
}

}  // namespace runnel::verdict
