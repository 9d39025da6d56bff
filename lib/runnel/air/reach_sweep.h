#pragma once
// For each descending stretch of a running line that can hold air: would the current carry it down?
#include <vector>

#include "runnel/air/profile.h"
#include "runnel/air/sweep.h"
#include "runnel/network/pipeline.h"
#include "runnel/steady/state.h"

namespace runnel::air {

/// A straight descent in the direction of flow, from own station `from_m` down to `to_m`.
struct ReachSweep {
  double from_m = 0.0, to_m = 0.0;
  double fall_m = 0.0, down_angle_rad = 0.0, bore_m = 0.0;
  bool below_crest = false;  ///< between a crest and the low point (or end) after it
  bool near_grade = false;   ///< the grade line comes nearer to the pipe than wanted
  bool runs_full = true;     ///< false: part of it runs with air over the water, which no law covers
  double velocity_ms = 0.0;  ///< mean over the full bore
  SweepResult sweep;
};

/// What is at the top of a descent, where its air may leave.
enum class Top { source, vented_crest, bare_crest };

/// A stretch on the way from a crest, or from the source, down to the low point or end after it, by own
/// stations, going downhill.
struct CrestDescent {
  double from_m = 0.0, to_m = 0.0;
  Top top = Top::bare_crest;
};

/// The descents that can hold air, in flow order; none on a line without flow. `clearance_m`: what counts as
/// near the grade line.
std::vector<ReachSweep> sweep_reaches(const network::Line& line, const steady::LineState& run,
                                      const std::vector<CrestDescent>& descents, double clearance_m);

/// The least pressure head of a running line between two own stations (in either order), at its points and at
/// the stations given; none where there is no water.
std::optional<double> least_clearance_m(const steady::LineState& run, double from_m, double to_m);

/// Pressure head at a station, linear between the points of the answer; none where there is no water.
std::optional<double> clearance_at_m(const steady::LineState& run, double station_m);

/// The straight legs of a line in the direction of its flow, found once for many uses.
class LineLegs {
 public:
  LineLegs(const network::Line& line, const steady::LineState& run);
  const std::vector<StraightLeg>& all() const { return legs_; }
  /// A leg with its velocity, whether it runs full and whether it is near the grade line, but not yet swept.
  ReachSweep reach_of(const StraightLeg& leg, const steady::LineState& run, double clearance_m) const;
  /// The falling leg of a descent whose air needs the swiftest water to be carried off; none if none falls.
  std::optional<ReachSweep> hardest_below(const steady::LineState& run, const CrestDescent& descent) const;

 private:
  Profile profile_;
  std::vector<StraightLeg> legs_;
};

}  // namespace runnel::air
