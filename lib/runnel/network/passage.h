#pragma once
// A course as the water meets it: to its end, back to its start, or several courses end to end. Nothing of
// their geometry is copied. What is met names a point of a course and the reach that leads on from it; the
// stations of a passage count from where it begins.
#include <cstddef>
#include <vector>

#include "runnel/network/course.h"

namespace runnel::network {

class Passage {
 public:
  /// One course of a passage.
  struct Leg {
    Course course;
    bool reversed = false;
    int first_pipe = 0;     ///< its pipes are counted on through the passage
    double start_m = 0.0;   ///< station of the passage where it begins
    double origin_m = 0.0;  ///< the course's own station there
    std::size_t first = 0;  ///< the first point of the passage that is one of its own

    double along_m(double own_m) const { return start_m + (reversed ? origin_m - own_m : own_m - origin_m); }
  };

  Passage() = default;
  explicit Passage(Course course, bool reversed = false) { add(std::move(course), reversed, 0); }
  /// Goes on along another course. Its first point stands for the joint between the two; where their surveys
  /// disagree about the elevation there, it begins with a vertical piece.
  void add(Course course, bool reversed, int first_pipe);

  const std::vector<Leg>& legs() const { return legs_; }
  std::size_t size() const { return met_.size(); }
  int leg(std::size_t i) const { return met_[i].leg; }
  const Leg& leg_of(std::size_t i) const { return legs_[static_cast<std::size_t>(met_[i].leg)]; }

  /// The point as its own course has it.
  const CoursePoint& point(std::size_t i) const { return *met_[i].point; }
  double elevation_m(std::size_t i) const { return met_[i].point->elevation_m; }
  double station_m(std::size_t i) const { return leg_of(i).along_m(met_[i].point->station_m); }
  /// Slope length and pipe of the reach from one point to the next (the last: the pipe that ends there).
  double length_m(std::size_t i) const { return met_[i].reach->length_m; }
  int pipe(std::size_t i) const { return leg_of(i).first_pipe + met_[i].reach->pipe; }
  /// The point by its number on its own course.
  std::size_t own_index(std::size_t i) const {
    return static_cast<std::size_t>(met_[i].point - leg_of(i).course.points().data());
  }

  /// Straight between its points; the ends beyond the ends. Of a drop at one station its beginning.
  double elevation_at(double station_m) const;
  /// The point nearest to a station and an elevation; where the line drops at one station, several stand
  /// there.
  std::size_t nearest(double station_m, double elevation_m) const;

  /// From one of its points on, to its end. Stations stay.
  Passage from(std::size_t point) const;
  /// From its beginning to a share of the reach behind a point.
  Passage up_to(std::size_t reach, double share) const;
  /// With other courses in the place of its legs'; each leg ends where the next one begins.
  Passage relaid(std::vector<Course> courses) const;

 private:
  struct Met {
    const CoursePoint* point;
    const CoursePoint* reach;  ///< the point of the course whose reach it is
    int leg;
  };
  void append(Leg leg);
  std::size_t first_at(double station_m) const;  ///< the first that does not stand before it

  std::vector<Leg> legs_;
  std::vector<Met> met_;  ///< into the courses of the legs, which hold what they share
};

}  // namespace runnel::network
