#include "runnel/network/course.h"

#include <algorithm>
#include <cmath>

namespace runnel::network {

double elevation_between(const CoursePoint& a, const CoursePoint& b, double station_m) {
  const double run_m = b.station_m - a.station_m;
  const double share = run_m > 0.0 ? std::clamp((station_m - a.station_m) / run_m, 0.0, 1.0) : 1.0;
  return a.elevation_m + share * (b.elevation_m - a.elevation_m);
}

double slope_length_m(Along along, double stations_m, double rise_m) {
  return along == Along::pipe ? stations_m : std::hypot(stations_m, rise_m);
}

double level_run_m(Along along, double stations_m, double rise_m) {
  if (along == Along::level) return stations_m;
  return std::sqrt(std::max(0.0, (stations_m - rise_m) * (stations_m + rise_m)));
}

Course::Course() {
  static const auto nothing = std::make_shared<const Laid>();
  laid_ = nothing;
}

Course::Course(const std::vector<SurveyPoint>& survey, const std::vector<Part>& parts,
               const std::vector<LaidPipe>& pipes, Along along) {
  std::vector<double> cuts;
  cuts.reserve(parts.size() + pipes.size());
  for (const Part& part : parts) cuts.push_back(part.at.metres());
  for (const LaidPipe& laid : pipes) cuts.push_back(laid.from.metres());

  std::vector<CoursePoint> surveyed;
  surveyed.reserve(survey.size());
  for (const SurveyPoint& point : survey)
    surveyed.push_back({.station_m = point.station.metres(), .elevation_m = point.elevation.metres()});
  const double first_m = surveyed.front().station_m, last_m = surveyed.back().station_m;
  for (double& cut : cuts) cut = std::clamp(cut, first_m, last_m);
  std::sort(cuts.begin(), cuts.end());

  Laid laid;
  laid.along = along;
  laid.pipe_from_m.reserve(pipes.size());
  for (const LaidPipe& pipe : pipes) laid.pipe_from_m.push_back(pipe.from.metres());
  laid.points.reserve(surveyed.size() + cuts.size());
  std::size_t next = 0;
  for (std::size_t i = 0; i < surveyed.size(); ++i) {
    const double here_m = surveyed[i].station_m;
    for (; next < cuts.size() && cuts[next] < here_m - same_station_m; ++next) {
      if (!laid.points.empty() && cuts[next] <= laid.points.back().station_m + same_station_m) continue;
      laid.points.push_back({.station_m = cuts[next],
                             .elevation_m = elevation_between(surveyed[i - 1], surveyed[i], cuts[next]),
                             .survey_point = false});
    }
    laid.points.push_back(surveyed[i]);
  }
  laid.measure();
  auto& points = laid.points;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) points[i].pipe = laid.pipe_at(points[i].station_m);
  if (points.size() > 1) points.back().pipe = points[points.size() - 2].pipe;
  laid_ = std::make_shared<const Laid>(std::move(laid));
}

Course::Course(std::vector<CoursePoint> points, Along along) {
  Laid laid{std::move(points), {}, along};
  for (const CoursePoint& point : laid.points)
    while (static_cast<int>(laid.pipe_from_m.size()) <= point.pipe)
      laid.pipe_from_m.push_back(point.station_m);
  laid_ = std::make_shared<const Laid>(std::move(laid));
}

void Course::Laid::measure() {
  // A drop or rise at one station (a vertical riser) has slope length too.
  for (std::size_t i = 0; i + 1 < points.size(); ++i)
    points[i].length_m = slope_length_m(along, points[i + 1].station_m - points[i].station_m,
                                        points[i + 1].elevation_m - points[i].elevation_m);
}

int Course::Laid::pipe_at(double station_m) const {
  const auto after = std::upper_bound(pipe_from_m.begin() + 1, pipe_from_m.end(), station_m + same_station_m);
  return static_cast<int>(after - pipe_from_m.begin()) - 1;
}

Course Course::measured(Laid laid) {
  laid.measure();
  Course course;
  course.laid_ = std::make_shared<const Laid>(std::move(laid));
  return course;
}

std::size_t Course::point_at(double station_m) const {
  const auto at = std::lower_bound(points().begin(), points().end(), station_m - same_station_m,
                                   [](const CoursePoint& p, double s) { return p.station_m < s; });
  return at == points().end() ? points().size() - 1 : static_cast<std::size_t>(at - points().begin());
}

double Course::elevation_at(double station_m) const {
  const auto after = std::lower_bound(points().begin() + 1, points().end() - 1, station_m,
                                      [](const CoursePoint& p, double s) { return p.station_m < s; });
  return elevation_between(*(after - 1), *after, station_m);
}

Course Course::cut(std::size_t reach, double share) const {
  Laid laid = *laid_;
  CoursePoint& from = laid.points[reach];
  const CoursePoint& to = laid.points[reach + 1];
  CoursePoint between = from;
  between.station_m = from.station_m + share * (to.station_m - from.station_m);
  between.elevation_m = from.elevation_m + share * (to.elevation_m - from.elevation_m);
  between.length_m = (1.0 - share) * from.length_m;
  between.survey_point = false;
  from.length_m *= share;
  laid.points.insert(laid.points.begin() + static_cast<std::ptrdiff_t>(reach) + 1, between);
  Course course;
  course.laid_ = std::make_shared<const Laid>(std::move(laid));
  return course;
}

Course Course::moved(const std::function<double(std::size_t)>& elevation_m) const {
  Laid laid = *laid_;
  for (std::size_t i = 0; i < laid.points.size(); ++i) laid.points[i].elevation_m = elevation_m(i);
  return measured(std::move(laid));
}

Course Course::with_ends_above(double first_m, double last_m) const {
  if (points().front().elevation_m >= first_m && points().back().elevation_m >= last_m) return *this;
  Laid laid = *laid_;
  laid.points.front().elevation_m = std::max(laid.points.front().elevation_m, first_m);
  laid.points.back().elevation_m = std::max(laid.points.back().elevation_m, last_m);
  Course course;
  course.laid_ = std::make_shared<const Laid>(std::move(laid));
  return course;
}

Course Course::dug(std::size_t first, std::size_t last, double floor_m, bool first_stays,
                   bool last_stays) const {
  Laid laid{{}, laid_->pipe_from_m, laid_->along};
  for (std::size_t i = 0; i < points().size(); ++i) {
    const CoursePoint& here = points()[i];
    const bool stays = (i == first && first_stays) || (i == last && last_stays);
    laid.points.push_back(here);
    if (i >= first && i <= last && !stays)
      laid.points.back().elevation_m = std::min(here.elevation_m, floor_m);
    if (here.elevation_m == floor_m) laid.points.back().survey_point = true;
    if (i < first || i >= last) continue;
    const CoursePoint& next = points()[i + 1];
    if ((here.elevation_m - floor_m) * (next.elevation_m - floor_m) >= 0.0) continue;
    CoursePoint crossing = here;
    const double share = (floor_m - here.elevation_m) / (next.elevation_m - here.elevation_m);
    crossing.station_m = here.station_m + share * (next.station_m - here.station_m);
    crossing.elevation_m = floor_m;
    crossing.survey_point = true;
    laid.points.push_back(crossing);
  }
  return measured(std::move(laid));
}

Course Course::with_riser(bool at_end, double elevation_m) const {
  Laid laid = *laid_;
  CoursePoint riser = at_end ? laid.points.back() : laid.points.front();
  riser.elevation_m = elevation_m;
  riser.survey_point = true;
  laid.points.insert(at_end ? laid.points.end() : laid.points.begin(), riser);
  return measured(std::move(laid));
}

}  // namespace runnel::network
