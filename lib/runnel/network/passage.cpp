#include "runnel/network/passage.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace runnel::network {
namespace {

// Elevations closer than this are the same: far below any survey, far above rounding.
constexpr double same_elevation_m = 1e-9;

}  // namespace

void Passage::add(Course course, bool reversed, int first_pipe) {
  Leg leg;
  if (!met_.empty()) {
    const auto& points = course.points();
    const double joint_m = elevation_m(size() - 1);
    const double begins_m = reversed ? points.back().elevation_m : points.front().elevation_m;
    if (std::abs(begins_m - joint_m) > same_elevation_m) course = course.with_riser(reversed, joint_m);
    leg.start_m = station_m(size() - 1);
    met_.pop_back();
  }
  leg.origin_m = reversed ? course.last_m() : course.first_m();
  leg.course = std::move(course);
  leg.reversed = reversed;
  leg.first_pipe = first_pipe;
  append(std::move(leg));
}

void Passage::append(Leg leg) {
  const auto& points = leg.course.points();
  const std::size_t n = points.size();
  leg.first = met_.size();
  const int number = static_cast<int>(legs_.size());
  if (met_.empty()) met_.reserve(n);  // a room made to measure each time would copy all points for every leg
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t own = leg.reversed ? n - 1 - i : i;
    const std::size_t reach = leg.reversed && own > 0 ? own - 1 : own;
    met_.push_back({&points[own], &points[reach], number});
  }
  legs_.push_back(std::move(leg));
}

std::size_t Passage::first_at(double station_m) const {
  std::size_t low = 0, high = size();
  while (low < high) {
    const std::size_t middle = std::midpoint(low, high);
    if (this->station_m(middle) < station_m)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

double Passage::elevation_at(double station_m) const {
  const std::size_t after = first_at(station_m);
  if (after == 0 || after == size()) return elevation_m(after == 0 ? 0 : size() - 1);
  if (this->station_m(after) == station_m) return elevation_m(after);
  // The joint at the far end of a leg is a point of the next one; the leg's own course has it too.
  const Leg& leg = leg_of(after - 1);
  const CoursePoint* own = met_[after - 1].point;
  const double along_m = station_m - leg.start_m;
  return leg.reversed ? elevation_between(*(own - 1), *own, leg.origin_m - along_m)
                      : elevation_between(*own, *(own + 1), leg.origin_m + along_m);
}

std::size_t Passage::nearest(double station_m, double elevation_m) const {
  const auto away_m = [&](std::size_t i) {
    return std::hypot(this->station_m(i) - station_m, this->elevation_m(i) - elevation_m);
  };
  // Stations do not fall along a passage: a point that lies further along than the best does so altogether.
  const std::size_t from = first_at(station_m);
  std::size_t best = from == size() ? from - 1 : from;
  for (std::size_t i = from; i < size() && this->station_m(i) - station_m <= away_m(best); ++i)
    if (away_m(i) < away_m(best)) best = i;
  for (std::size_t i = from; i > 0 && station_m - this->station_m(i - 1) <= away_m(best); --i)
    if (away_m(i - 1) <= away_m(best)) best = i - 1;
  return best;
}

Passage Passage::from(std::size_t point) const {
  Passage rest = *this;
  rest.met_.erase(rest.met_.begin(), rest.met_.begin() + static_cast<std::ptrdiff_t>(point));
  for (Leg& leg : rest.legs_) leg.first = leg.first > point ? leg.first - point : 0;
  return rest;
}

Passage Passage::up_to(std::size_t reach, double share) const {
  Passage begun = *this;
  begun.met_.erase(begun.met_.begin() + static_cast<std::ptrdiff_t>(reach) + 2, begun.met_.end());
  if (share >= 1.0) return begun;
  const std::size_t own = own_index(reach);
  Leg& leg = begun.legs_[static_cast<std::size_t>(met_[reach].leg)];
  leg.course = leg.reversed ? leg.course.cut(own - 1, 1.0 - share) : leg.course.cut(own, share);
  const CoursePoint* points = leg.course.points().data();
  // Against the order of the course every point met so far is counted behind the new one.
  for (std::size_t i = leg.first; i <= reach; ++i) {
    const CoursePoint* here = points + own_index(i) + (leg.reversed ? 1 : 0);
    begun.met_[i].point = here;
    begun.met_[i].reach = leg.reversed ? here - 1 : here;
  }
  const CoursePoint* end = points + (leg.reversed ? own : own + 1);
  begun.met_.back() = {end, end, met_[reach].leg};
  return begun;
}

Passage Passage::relaid(std::vector<Course> courses) const {
  for (std::size_t l = courses.size(); l-- > 1;) {
    const auto &next = courses[l].points(), &here = courses[l - 1].points();
    const double joint_m = (legs_[l].reversed ? next.back() : next.front()).elevation_m;
    const std::size_t end = legs_[l - 1].reversed ? 0 : here.size() - 1;
    if (here[end].elevation_m != joint_m)
      courses[l - 1] =
          courses[l - 1].moved([&](std::size_t i) { return i == end ? joint_m : here[i].elevation_m; });
  }
  Passage changed;
  for (std::size_t l = 0; l < courses.size(); ++l)
    changed.add(std::move(courses[l]), legs_[l].reversed, legs_[l].first_pipe);
  return changed;
}

}  // namespace runnel::network
