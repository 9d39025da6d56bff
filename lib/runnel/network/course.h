#pragma once
// The course of a line: the pipe as it lies, cut once at every survey point, part and change of pipe, and
// asked by station. Stations count on the level or along the pipe; the length of a reach is its slope length.
#include <cstddef>
#include <vector>

#include "runnel/network/pipeline.h"

namespace runnel::network {

/// Stations nearer than this are one: far below any tape, far above the rounding of a unit's conversion.
inline constexpr double same_station_m = 1e-9;

/// Length of pipe between two points, and its run on the level [m], from the difference of their stations and
/// of their elevations. Where stations count along the pipe, a rise beyond the run is taken as straight up.
double slope_length_m(Along along, double stations_m, double rise_m);
double level_run_m(Along along, double stations_m, double rise_m);

struct CoursePoint {
  double station_m = 0.0, elevation_m = 0.0;
  double length_m = 0.0;  ///< slope length of the reach that begins here; 0 at the last point
  int pipe = 0;  ///< pipe of that reach, as an index into the line's pipes (the last: that ends here)
  bool survey_point = true;  ///< false: a part or a change of pipe between two points
};

class Course {
 public:
  Course() = default;
  /// Precondition: two survey points, stations not falling, one pipe.
  Course(const std::vector<SurveyPoint>& survey, const std::vector<Part>& parts,
         const std::vector<LaidPipe>& pipes, Along along = Along::level);

  const std::vector<CoursePoint>& points() const { return points_; }
  /// The point that stands at a station, or the first behind it; beyond the end the last.
  std::size_t point_at(double station_m) const;
  double first_m() const { return points_.front().station_m; }
  double last_m() const { return points_.back().station_m; }
  /// Straight between survey points; the ends beyond the ends.
  double elevation_at(double station_m) const;
  /// The pipe that is laid from a station on.
  int pipe_at(double station_m) const;

 private:
  std::vector<CoursePoint> points_;
  std::vector<double> pipe_from_m_;
};

}  // namespace runnel::network
