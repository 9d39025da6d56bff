#pragma once
// For each descending stretch of a running line that can hold air: would the current carry it down?
#include <vector>

#include "runnel/air/profile.h"
#include "runnel/air/sweep.h"
#include "runnel/network/pipeline.h"
#include "runnel/steady/state.h"

namespace runnel::air {

/// A straight descent, in the direction the water runs: from `from_m` down to `to_m`, own stations.
struct ReachSweep {
  double from_m = 0.0, to_m = 0.0;
  double fall_m = 0.0, down_angle_rad = 0.0, bore_m = 0.0;
  bool below_crest = false;  ///< between a crest and the low point (or end) after it
  bool near_grade = false;   ///< the grade line comes nearer to the pipe than wanted
  bool runs_full = true;     ///< false: part of it runs with air over the water; no law speaks of that
  double velocity_ms = 0.0;  ///< mean over the full bore
  SweepResult sweep;
};

/// Where the air of a descent can go at its top.
enum class Top { source, vented_crest, bare_crest };

/// A stretch on the way from a crest, or from the source, down to the low point or end after it: own
/// stations, downhill.
struct CrestDescent {
  double from_m = 0.0, to_m = 0.0;
  Top top = Top::bare_crest;
};

/// In flow order. `clearance_m`: how near is near. A line without flow has none.
std::vector<ReachSweep> sweep_reaches(const network::Line& line, const steady::LineState& run,
                                      const std::vector<CrestDescent>& descents, double clearance_m);

/// The least pressure head of a running line between two own stations (in either order), at its points
/// and at the ends given; none where no water is.
std::optional<double> least_clearance_m(const steady::LineState& run, double from_m, double to_m);

/// Pressure head at a station, straight between the points the answer has; none where no water is.
std::optional<double> clearance_at_m(const steady::LineState& run, double station_m);

/// The straight legs of a line in the direction it flows, made once for many questions about it.
class LineLegs {
 public:
  LineLegs(const network::Line& line, const steady::LineState& run);
  const std::vector<StraightLeg>& all() const { return legs_; }
  /// The leg as the water meets it, whether it runs full and near the grade line; not yet swept.
  ReachSweep reach_of(const StraightLeg& leg, const steady::LineState& run, double clearance_m) const;
  /// Of the falling legs of a descent the one whose air asks for the swiftest water; none if none falls.
  std::optional<ReachSweep> hardest_below(const steady::LineState& run, const CrestDescent& descent) const;

 private:
  Profile profile_;
  std::vector<StraightLeg> legs_;
};

}  // namespace runnel::air
