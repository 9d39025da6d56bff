#pragma once
// The course of a line: the pipe as it lies, cut once at every survey point, part and change of pipe, and
// asked by station. Stations count on the level or along the pipe; the length of a reach is its slope length.
//
// A course does not change, and copies share its points: whoever keeps one may point at them. In the order of
// the flow, and several end to end: network/passage.h.
#include <cstddef>
#include <functional>
#include <memory>
#include <vector>

#include "runnel/network/pipeline.h"

namespace runnel::network {

/// Stations closer than this are the same: far below what a tape shows, far above the rounding of a
/// conversion of units.
inline constexpr double same_station_m = 1e-9;

/// Length of pipe between two points, and its horizontal run [m], from the differences of their stations and
/// elevations. Where stations count along the pipe, a rise beyond the length is taken as vertical.
double slope_length_m(Along along, double stations_m, double rise_m);
double level_run_m(Along along, double stations_m, double rise_m);

struct CoursePoint {
  double station_m = 0.0, elevation_m = 0.0;
  double length_m = 0.0;  ///< slope length of the reach that begins here; 0 at the last point
  int pipe = 0;  ///< of that reach, as an index into the line's pipes; at the last point, as before it
  bool survey_point = true;  ///< false: a part or a change of pipe between two points
};

/// Straight from one point to the next, at the ends beyond them.
double elevation_between(const CoursePoint& a, const CoursePoint& b, double station_m);

class Course {
 public:
  Course();
  /// Precondition: two survey points, stations not falling, one pipe.
  Course(const std::vector<SurveyPoint>& survey, const std::vector<Part>& parts,
         const std::vector<LaidPipe>& pipes, Along along = Along::level);
  /// Of points worked out by hand, lengths and all. Precondition: two points, stations not falling.
  explicit Course(std::vector<CoursePoint> points, Along along = Along::level);

  const std::vector<CoursePoint>& points() const { return laid_->points; }
  Along along() const { return laid_->along; }
  /// The point that stands at a station, or the first behind it; beyond the end the last.
  std::size_t point_at(double station_m) const;
  double first_m() const { return points().front().station_m; }
  double last_m() const { return points().back().station_m; }
  /// Straight between survey points; the ends beyond the ends.
  double elevation_at(double station_m) const;
  /// The pipe that is laid from a station on.
  int pipe_at(double station_m) const { return laid_->pipe_at(station_m); }

  // What else it could be. Where nothing else is said the lengths follow.

  /// With one point more, at a share of the reach that begins at a point.
  Course cut(std::size_t reach, double share) const;
  /// With other elevations, by point.
  Course moved(const std::function<double(std::size_t)>& elevation_m) const;
  /// With ends that lie no lower than this. It is about tolerances of a survey: the lengths stay.
  Course with_ends_above(double first_m, double last_m) const;
  /// With a trench from one of its points to another: what stands above `floor_m` is brought down to it, and
  /// there is a point where the pipe comes out of the floor. `first_stays`, `last_stays`: that end does not
  /// move.
  Course dug(std::size_t first, std::size_t last, double floor_m, bool first_stays, bool last_stays) const;
  /// With a vertical piece before its first point, or behind its last, that reaches an elevation.
  Course with_riser(bool at_end, double elevation_m) const;

 private:
  struct Laid {
    std::vector<CoursePoint> points;
    std::vector<double> pipe_from_m;
    Along along = Along::level;
    int pipe_at(double station_m) const;
    void measure();
  };
  static Course measured(Laid laid);

  std::shared_ptr<const Laid> laid_;
};

}  // namespace runnel::network
