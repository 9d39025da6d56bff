#include "runnel/network/course.h"

#include <algorithm>
#include <cmath>

namespace runnel::network {
namespace {

double elevation_between(const CoursePoint& a, const CoursePoint& b, double station_m) {
  const double run_m = b.station_m - a.station_m;
  const double share = run_m > 0.0 ? std::clamp((station_m - a.station_m) / run_m, 0.0, 1.0) : 1.0;
  return a.elevation_m + share * (b.elevation_m - a.elevation_m);
}

}  // namespace

double slope_length_m(Along along, double stations_m, double rise_m) {
  return along == Along::pipe ? stations_m : std::hypot(stations_m, rise_m);
}

double level_run_m(Along along, double stations_m, double rise_m) {
  if (along == Along::level) return stations_m;
  return std::sqrt(std::max(0.0, (stations_m - rise_m) * (stations_m + rise_m)));
}

Course::Course(const std::vector<SurveyPoint>& survey, const std::vector<Part>& parts,
               const std::vector<LaidPipe>& pipes, Along along) {
  std::vector<double> cuts;
  cuts.reserve(parts.size() + pipes.size());
  for (const Part& part : parts) cuts.push_back(part.at.metres());
  for (const LaidPipe& laid : pipes) cuts.push_back(laid.from.metres());
  pipe_from_m_.reserve(pipes.size());
  for (const LaidPipe& laid : pipes) pipe_from_m_.push_back(laid.from.metres());

  std::vector<CoursePoint> surveyed;
  surveyed.reserve(survey.size());
  for (const SurveyPoint& point : survey)
    surveyed.push_back({.station_m = point.station.metres(), .elevation_m = point.elevation.metres()});
  const double first_m = surveyed.front().station_m, last_m = surveyed.back().station_m;
  for (double& cut : cuts) cut = std::clamp(cut, first_m, last_m);
  std::sort(cuts.begin(), cuts.end());

  points_.reserve(surveyed.size() + cuts.size());
  std::size_t next = 0;
  for (std::size_t i = 0; i < surveyed.size(); ++i) {
    const double here_m = surveyed[i].station_m;
    for (; next < cuts.size() && cuts[next] < here_m - same_station_m; ++next) {
      if (!points_.empty() && cuts[next] <= points_.back().station_m + same_station_m) continue;
      points_.push_back({.station_m = cuts[next],
                         .elevation_m = elevation_between(surveyed[i - 1], surveyed[i], cuts[next]),
                         .survey_point = false});
    }
    points_.push_back(surveyed[i]);
  }
  // A drop or rise at one station (a vertical riser) has slope length too.
  for (std::size_t i = 0; i + 1 < points_.size(); ++i) {
    points_[i].length_m = slope_length_m(along, points_[i + 1].station_m - points_[i].station_m,
                                         points_[i + 1].elevation_m - points_[i].elevation_m);
    points_[i].pipe = pipe_at(points_[i].station_m);
  }
  if (points_.size() > 1) points_.back().pipe = points_[points_.size() - 2].pipe;
}

std::size_t Course::point_at(double station_m) const {
  const auto at = std::lower_bound(points_.begin(), points_.end(), station_m - same_station_m,
                                   [](const CoursePoint& p, double s) { return p.station_m < s; });
  return at == points_.end() ? points_.size() - 1 : static_cast<std::size_t>(at - points_.begin());
}

double Course::elevation_at(double station_m) const {
  const auto after = std::lower_bound(points_.begin() + 1, points_.end() - 1, station_m,
                                      [](const CoursePoint& p, double s) { return p.station_m < s; });
  return elevation_between(*(after - 1), *after, station_m);
}

int Course::pipe_at(double station_m) const {
  const auto after =
      std::upper_bound(pipe_from_m_.begin() + 1, pipe_from_m_.end(), station_m + same_station_m);
  return static_cast<int>(after - pipe_from_m_.begin()) - 1;
}

}  // namespace runnel::network
