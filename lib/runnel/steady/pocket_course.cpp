#include "runnel/steady/pocket_course.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace runnel::steady {

PocketCourse course_of(const LinePlan& plan, double atmospheric_head_m, double end_s2m5) {
  PocketCourse course;
  course.pipes = plan.friction;
  course.entrance_s2m5 = plan.entrance_s2m5;
  course.exit_s2m5 = plan.exit_s2m5 + end_s2m5;
  course.atmospheric_head_m = atmospheric_head_m;
  for (const Vertex& v : plan.vertices) {
    course.points.push_back({v.station_m, v.elevation_m, v.local_forward_s2m5, v.floor_m});
    course.reaches.push_back({v.length_m, v.pipe});
  }
  course.reaches.pop_back();
  return course;
}

PocketCourse course_from(const PocketCourse& course, int point) {
  PocketCourse rest = course;
  rest.points.erase(rest.points.begin(), rest.points.begin() + point);
  rest.reaches.erase(rest.reaches.begin(), rest.reaches.begin() + point);
  rest.points.front().local_s2m5 = rest.entrance_s2m5 = 0.0;
  std::erase_if(rest.pockets, [&](const ShutAir& air) { return air.crest < point; });
  for (ShutAir& air : rest.pockets) air.crest -= point, air.low -= point;
  return rest;
}

PocketCourse course_back(const LinePlan& plan, double atmospheric_head_m) {
  PocketCourse course;
  course.pipes = plan.friction;
  course.entrance_s2m5 = plan.back_entrance_s2m5;
  course.exit_s2m5 = plan.back_exit_s2m5;
  course.atmospheric_head_m = atmospheric_head_m;
  const double last_m = plan.vertices.back().station_m;
  for (std::size_t i = plan.vertices.size(); i-- > 0;) {
    const Vertex& v = plan.vertices[i];
    course.points.push_back({last_m - v.station_m, v.elevation_m, v.local_backward_s2m5, v.floor_m});
    if (i > 0) course.reaches.push_back({plan.vertices[i - 1].length_m, plan.vertices[i - 1].pipe});
  }
  return course;
}

int point_at(const PocketCourse& course, double station_m, double elevation_m) {
  const auto away_m = [&](const CoursePoint& p) {
    return std::hypot(p.station_m - station_m, p.elevation_m - elevation_m);
  };
  // Stations never fall along a course, so the search ends where the station alone is further off than the
  // nearest point so far.
  const auto& all = course.points;
  const auto from = std::lower_bound(all.begin(), all.end(), station_m,
                                     [](const CoursePoint& p, double s) { return p.station_m < s; });
  auto nearest = from == all.end() ? from - 1 : from;
  for (auto p = from; p != all.end() && p->station_m - station_m <= away_m(*nearest); ++p)
    if (away_m(*p) < away_m(*nearest)) nearest = p;
  for (auto p = from; p != all.begin() && station_m - (p - 1)->station_m <= away_m(*nearest); --p)
    if (away_m(*(p - 1)) <= away_m(*nearest)) nearest = p - 1;
  return static_cast<int>(nearest - all.begin());
}

PocketCourse without_pockets(const PocketCourse& course, const std::vector<int>& gone) {
  std::vector<bool> stays(course.pockets.size(), true);
  for (const int k : gone) stays[static_cast<std::size_t>(k)] = false;
  PocketCourse rest = course;
  rest.pockets.clear();
  for (std::size_t k = 0; k < stays.size(); ++k)
    if (stays[k]) rest.pockets.push_back(course.pockets[k]);
  return rest;
}

void require_sound(const PocketCourse& course) {
  const auto require = [](bool holds, const char* what) {
    if (!holds) throw std::invalid_argument(what);
  };
  const int points = static_cast<int>(course.points.size()), pipes = static_cast<int>(course.pipes.size());
  require(points >= 2, "a course needs two points");
  require(course.reaches.size() + 1 == course.points.size(), "a course needs one reach between two points");
  for (const CourseReach& reach : course.reaches) {
    require(reach.length_m >= 0.0, "a reach is at least 0 m long");
    require(reach.pipe >= 0 && reach.pipe < pipes, "a reach names a pipe of its course");
  }
  require(course.atmospheric_head_m > 0.0, "the air must have a pressure");
  int free_from = 0;
  for (const ShutAir& air : course.pockets) {
    require(air.crest >= free_from && air.crest < air.low && air.low < points,
            "pockets lie one after the other on their course");
    require(!air.volume_m3 || *air.volume_m3 >= 0.0, "air has a volume of at least 0 m3");
    require(air.before_m3 >= 0.0, "a leg holds at least 0 m3 on the line before");
    free_from = air.low;
  }
}

}  // namespace runnel::steady
