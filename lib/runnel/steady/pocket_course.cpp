#include "runnel/steady/pocket_course.h"

#include <algorithm>
#include <stdexcept>

namespace runnel::steady {

namespace {

PocketCourse passed(const PassedPlan& way, double atmospheric_head_m, double end_s2m5) {
  PocketCourse course;
  course.passage = way.passage;
  course.pipes = way.plan.friction;
  course.entrance_s2m5 = way.entrance_s2m5();
  course.exit_s2m5 = way.exit_s2m5() + end_s2m5;
  course.atmospheric_head_m = atmospheric_head_m;
  for (std::size_t i = 0; i <= way.last(); ++i)
    course.points.push_back({way.local_s2m5(i), way.vertex(i).floor_m});
  return course;
}

}  // namespace

PocketCourse course_of(const LinePlan& plan, double atmospheric_head_m, double end_s2m5) {
  return passed(PassedPlan(plan, true), atmospheric_head_m, end_s2m5);
}

PocketCourse course_back(const LinePlan& plan, double atmospheric_head_m) {
  return passed(PassedPlan(plan, false), atmospheric_head_m, 0.0);
}

PocketCourse course_from(const PocketCourse& course, int point) {
  PocketCourse rest = course;
  rest.passage = course.passage.from(static_cast<std::size_t>(point));
  rest.points.erase(rest.points.begin(), rest.points.begin() + point);
  rest.points.front().local_s2m5 = rest.entrance_s2m5 = rest.mouth_m = 0.0;
  std::erase_if(rest.pockets, [&](const ShutAir& air) { return air.crest < point; });
  for (ShutAir& air : rest.pockets) air.crest -= point, air.low -= point;
  return rest;
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
  require(course.passage.size() == course.points.size(), "every point of a course lies somewhere");
  for (std::size_t i = 0; i + 1 < course.passage.size(); ++i) {
    require(course.passage.length_m(i) >= 0.0, "a reach is at least 0 m long");
    require(course.passage.pipe(i) >= 0 && course.passage.pipe(i) < pipes,
            "a reach names a pipe of its course");
  }
  require(course.mouth_m >= 0.0, "a reach is at least 0 m long");
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
