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

/// No water is sooner at each point of a way than this [s].
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
  found.ends = air::first_water(way.profile, way.conditions, rate_m3s, ends, &wet);
  const std::vector<double> runs_s = soonest_s(system, way, rate_m3s);
  for (air::FirstWater& end : found.ends)
    if (end.earliest_s)
      end.earliest_s =
          std::min(end.full_bore_s, std::max(*end.earliest_s, runs_s[static_cast<std::size_t>(end.point)]));
  return found;
}

}  // namespace runnel::verdict
