#include "runnel/air/changed.h"

#include <algorithm>

#include "runnel/air/profile.h"

namespace runnel::air {
namespace {

using network::Pipeline;
using network::SurveyPoint;

Pipeline& line_in(network::System& system, const std::string& name) {
  return *std::find_if(system.pipelines.begin(), system.pipelines.end(),
                       [&](const Pipeline& l) { return l.name == name; });
}

SurveyPoint at(double station_m, double elevation_m) {
  return {Length::metres(station_m), Length::metres(elevation_m)};
}

/// Where the leg between two points crosses a level.
SurveyPoint crossing(const SurveyPoint& a, const SurveyPoint& b, double level_m) {
  const double share = (level_m - a.elevation.metres()) / (b.elevation.metres() - a.elevation.metres());
  return at(a.station.metres() + share * (b.station.metres() - a.station.metres()), level_m);
}

/// The pipe that is laid at a station.
network::LaidPipe laid_at(const Pipeline& line, double station_m) {
  network::LaidPipe found = line.pipes.front();
  for (const network::LaidPipe& laid : line.pipes)
    if (laid.from.metres() <= station_m) found = laid;
  return found;
}

}  // namespace

network::System with_air_valve(const network::System& system, const std::string& line, double station_m) {
  network::System changed = system;
  auto& parts = line_in(changed, line).parts;
  network::Part valve;
  valve.kind = network::PartKind::air_valve;
  valve.type = "air_valve";
  valve.name = "air valve tried";
  valve.at = Length::metres(station_m);
  const auto after = std::find_if(parts.begin(), parts.end(),
                                  [&](const network::Part& p) { return p.at.metres() > station_m; });
  parts.insert(after, valve);
  return changed;
}

network::System with_trench(const network::System& system, const std::string& line, Stretch stretch,
                            double floor_m) {
  network::System changed = system;
  auto& survey = line_in(changed, line).survey;
  std::vector<SurveyPoint> dug;
  for (std::size_t i = 0; i < survey.size(); ++i) {
    const double station_m = survey[i].station.metres(), elevation_m = survey[i].elevation.metres();
    const bool end = i == 0 || i + 1 == survey.size();
    const bool inside = station_m >= stretch.from_m && station_m <= stretch.to_m;
    dug.push_back(inside && !end ? at(station_m, std::min(elevation_m, floor_m)) : survey[i]);
    if (i + 1 == survey.size()) break;
    const double next_m = survey[i + 1].elevation.metres();
    const bool covered = station_m >= stretch.from_m && survey[i + 1].station.metres() <= stretch.to_m;
    const bool crosses = (elevation_m - floor_m) * (next_m - floor_m) < 0.0;
    if (covered && crosses) dug.push_back(crossing(survey[i], survey[i + 1], floor_m));
  }
  survey = std::move(dug);
  return changed;
}

network::System with_pipe(const network::System& system, const std::string& line, Stretch stretch,
                          const pipes::Pipe& pipe) {
  network::System changed = system;
  Pipeline& l = line_in(changed, line);
  const double first_m = l.survey.front().station.metres(), last_m = l.survey.back().station.metres();
  network::LaidPipe after = laid_at(l, stretch.to_m);
  after.from = Length::metres(stretch.to_m);
  after.entry_loss.reset();
  std::vector<network::LaidPipe> laid;
  for (const network::LaidPipe& p : l.pipes)
    if (p.from.metres() < stretch.from_m) laid.push_back(p);
  const bool whole = laid.empty() || stretch.from_m <= first_m;
  if (whole) laid.clear();
  laid.push_back({pipe, Length::metres(whole ? first_m : stretch.from_m), std::nullopt, {}});
  if (stretch.to_m < last_m) laid.push_back(after);
  for (const network::LaidPipe& p : l.pipes)
    if (p.from.metres() > stretch.to_m) laid.push_back(p);
  l.pipes = std::move(laid);
  return changed;
}

Stretch mound_around(const network::Pipeline& line, double station_m) {
  const Profile profile = profile_of(line);
  Stretch mound{profile.points.front().own_station_m, profile.points.back().own_station_m};
  for (const Turn& turn : turns(profile)) {
    const double here_m = profile.points[static_cast<std::size_t>(turn.point)].own_station_m;
    if (turn.crest) continue;
    if (here_m < station_m) mound.from_m = here_m;
    if (here_m > station_m) {
      mound.to_m = here_m;
      break;
    }
  }
  return mound;
}

}  // namespace runnel::air
