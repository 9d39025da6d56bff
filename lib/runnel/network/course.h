#pragma once
// The course of a line: the pipe as laid, cut once at every survey point, part and change of pipe, and looked
// up by station. Stations count on the level or along the pipe; the length of a reach is its slope length.
#include <cstddef>
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

class Course {
 public:
  Course() = default;
  /// Precondition: at least two survey points and one pipe, stations not falling.
  Course(const std::vector<SurveyPoint>& survey, const std::vector<Part>& parts,
         const std::vector<LaidPipe>& pipes, Along along = Along::level);

  const std::vector<CoursePoint>& points() const { return points_; }
  /// The point at a station, or the first after it; beyond the end the last.
  std::size_t point_at(double station_m) const;
  double first_m() const { return points_.front().station_m; }
  double last_m() const { return points_.back().station_m; }
  /// Linear between survey points; that of the nearer end beyond the ends.
  double elevation_at(double station_m) const;
  /// The pipe that is laid from a station on.
  int pipe_at(double station_m) const;

 private:
  std::vector<CoursePoint> points_;
  std::vector<double> pipe_from_m_;
};

}  // namespace runnel::network
