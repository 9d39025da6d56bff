#include "runnel/verdict/dug_points.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/course.h"
#include "runnel/verdict/air_flow.h"

namespace runnel::verdict {
namespace {

// A survey of no more points than somebody takes in a day is tried point by point; common practice, no
// source.
constexpr std::size_t short_survey = 24;
}  // namespace

std::optional<int> survey_point(const network::Line& line, double station_m) {
  for (std::size_t i = 1; i + 1 < line.survey.size(); ++i)
    if (std::abs(line.survey[i].station.metres() - station_m) < network::same_station_m)
      return static_cast<int>(i);
  return std::nullopt;
}

std::vector<int> holding_points(const network::Line& line, const steady::LineState& run,
                                const std::vector<double>& air_at_m) {
  std::vector<int> points;
  const auto add = [&](double station_m) {
    const auto point = survey_point(line, station_m);
    if (point && std::find(points.begin(), points.end(), *point) == points.end()) points.push_back(*point);
  };
  if (run.governed_by_station_m) add(*run.governed_by_station_m);
  for (const double station_m : air_at_m) add(station_m);
  // With air in it any point may matter; a short survey is tried whole.
  if (line.survey.size() <= short_survey)
    for (const network::SurveyPoint& point : line.survey) add(point.station.metres());
  return points;
}

DugStart start_of(const AirAnswer& air, const std::string& place) {
  if (!all_ways_blocked(air, place)) return DugStart::by_itself;
  const bool over = std::any_of(air.paths.begin(), air.paths.end(), [&](const PathAir& way) {
    return way.path.end == place && way.start.too_high;
  });
  return over ? DugStart::once_primed : DugStart::once_vented;
}

}  // namespace runnel::verdict
