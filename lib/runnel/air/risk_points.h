#pragma once
// Places on a line, other than crests, where air may make trouble.
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/crests.h"
#include "runnel/air/risk.h"

namespace runnel::air {

/// Dissolved air comes out of water about this far below atmospheric pressure, long before the water boils
/// [air-release-chapter; found]. Where much is dissolved a siphon lifts about 3 m in practice [askascientist;
/// found].
inline constexpr double air_comes_out_m = 7.5;

enum class RiskKind {
  near_grade,       ///< the grade line comes nearer to the pipe than wanted
  part_full,        ///< water runs with air over it
  sub_atmospheric,  ///< the water is below atmospheric pressure
  uncertain_grade,  ///< the survey leaves open which way it falls
};

/// Why a stretch is at risk.
enum class StretchReason {
  boils,               ///< the column of water breaks
  much_air_comes_out,  ///< far below atmospheric pressure
  some_air_comes_out,  ///< below atmospheric pressure
  part_full_vented,
  near_grade_vented,
  part_full_unvented,
  near_grade_line,
  may_run_back,          ///< the survey leaves the slope open; no way was started again over it
  back_does_not_start,   ///< if it runs the other way
  back_one_pocket_more,  ///< if it runs the other way
  back_little_changes,   ///< if it runs the other way
};

enum class StretchRemedy { none, lower_pipe, air_valve_at_top, deeper_or_wider, level_again };

struct RiskPoint {
  RiskKind kind = RiskKind::near_grade;
  double from_m = 0.0, to_m = 0.0;    ///< own stations, `from_m` < `to_m`
  double worst_m = 0.0;               ///< station of the least clearance; uncertain grade: its start
  std::optional<double> clearance_m;  ///< at that station
  double rise_m = 0.0;                ///< uncertain grade: from `from_m` to `to_m`, as surveyed
  double limit_m = 0.0;       ///< by kind: wanted clearance, where air comes out (negative), survey tolerance
  bool crest_inside = false;  ///< true: that crest's own finding says what to do
  Risk risk = Risk::low;
  StretchReason reason = StretchReason::may_run_back;
  StretchRemedy remedy = StretchRemedy::none;
  /// Uncertain grade: by how much the level needed at the source rises if the stretch runs the other way.
  std::optional<double> level_rise_m;
};

/// Stretches at risk on a line that holds water, from its start on. Stretches near the grade line are left
/// out as harmless if they lie on the way down from the source without a crest in between (their air rises
/// back to it), or begin or end at an outlet, tank or box. Precondition: `crests` are those of this pipeline.
std::vector<RiskPoint> stretches_at_risk(const network::System& system, const network::Line& line,
                                         const steady::LineState& run, const std::vector<Crest>& crests,
                                         const std::vector<CrestDescent>& descents,
                                         double wanted_clearance_m);

/// Stretches whose slope the survey's stated error leaves open; none if no error is stated. Each is tilted
/// the other way within the error and each way over it started again: the worst start decides the risk.
std::vector<RiskPoint> uncertain_stretches(const network::Line& line, const std::vector<Way>& ways);

}  // namespace runnel::air
