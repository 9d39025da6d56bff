#pragma once
// How likely air is to make trouble at a place, from evidence found elsewhere (start-up, grade line, sweep).
// The grades are a rule of our own; no published scale was found.
#include <optional>
#include <vector>

#include "runnel/air/profile.h"
#include "runnel/air/start_up.h"
#include "runnel/air/sweep.h"

namespace runnel::air {

enum class Risk { low, moderate, high };

struct CrestEvidence {
  StartVerdict start = StartVerdict::starts;  ///< of the path the crest lies on
  bool holds_air = true;                      ///< a pocket forms here at start-up
  bool vented = false;
  std::optional<double> clearance_m;  ///< grade line above the crest when water runs; none: no water
  double wanted_clearance_m = 0.0;    ///< less than this is too little; the caller knows its source
  std::optional<Swept> swept;         ///< of the descent after it; none: no flow or no descent
};

/// Why a crest has its risk.
enum class CrestReason {
  helps_to_block,           ///< air trapped here helps to stop the water
  draws_air_in,             ///< the grade line runs below its air valve
  air_comes_out,            ///< the grade line runs below the pipe
  must_give_way_and_stays,  ///< the line starts only if this air is compressed, and it is not carried off
  must_give_way,            ///< the line starts only if this air is compressed
  close_to_grade,           ///< the grade line passes close above the pipe
  air_valve_lets_out,
  current_leaves_air,   ///< by every law in its range the air stays
  some_laws_leave_air,  ///< by some laws the air stays
  shut_in,              ///< the air is trapped, and no law was applied
  carried_off,          ///< by every law in its range
  open_descent,         ///< air leaves down the descent after it
  above_source,         ///< no water passes
};

struct Graded {
  Risk risk = Risk::low;
  CrestReason reason = CrestReason::open_descent;
};
/// The gravest reason that applies decides.
Graded grade_crest(const CrestEvidence& evidence);

/// A straight leg whose slope the survey leaves open: its rise or fall is within the error, so that it may
/// run the other way and hold air, or be flat.
struct UncertainGrade {
  StraightLeg leg;
  double from_station_m = 0.0, to_station_m = 0.0;
  double rise_m = 0.0;       ///< as surveyed
  double tolerance_m = 0.0;  ///< with both ends off by the survey's error, in opposite directions
};
/// `survey_error_m` is the stated vertical error of one point. A straight leg with many points counts once.
std::vector<UncertainGrade> uncertain_grades(const Profile& profile, double survey_error_m);

/// Low points without a washout at most a bore higher, where sediment and standing water stay.
std::vector<int> lows_without_washout(const Profile& profile);

}  // namespace runnel::air
