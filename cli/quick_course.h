#pragma once
// Where the pipe of `runnel quick` lies: points along the tape, from the box's outlet to the end, which is
// the datum.
#include <vector>

#include "quick_system.h"
#include "quick_words.h"

namespace cli {

struct TapePoint {
  double along_m = 0.0, elevation_m = 0.0;
};

struct QuickCourse {
  double water_m = 0.0;  ///< level in the box
  std::vector<TapePoint> points;

  double length_m() const { return points.back().along_m; }
  double elevation_at(double along_m) const;
};

/// From --drop, --length and --point, or from --leg. Empty, and a finding, if they say no course.
QuickCourse quick_course(const QuickWords& words, WordReader& reader);

}  // namespace cli
