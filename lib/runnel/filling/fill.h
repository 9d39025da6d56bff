#pragma once
// Tanks, boxes and troughs over time: when they are full, when empty, what spills, what is missing.
//
// At every instant the flows are those of the steady solver at the levels of that instant. Boxes whose plan
// is not given hold no water: their levels follow at once. Volumes are integrated with an L-stable method of
// order 5 and error control (radau.h). Every sudden change is located, and the step ends there.
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/valve.h"
#include "runnel/network/flow_state.h"
#include "runnel/network/system.h"

namespace runnel::filling {

/// What a run may cost, in Newton steps of the flows, so that it ends alike on every machine. An ordinary day
/// costs a few hundred, one with draws by the hour a thousand.
struct WorkLimit {
  double at_once = 6e6;  ///< takes seconds on a small system
  double a_day = 2e4;    ///< in addition, for each day of the run
  double steps(double time_s) const { return at_once + a_day * time_s / 86400.0; }
};

/// A tank whose only way out is a pipe never quite empties. It counts as emptied when its water is within
/// this of its lowest mouth, or of the level where it will stay for ever.
inline constexpr double emptied_m = 1e-3;

struct FillOptions {
  /// Length of the run [s]. Infinite: until every tank has been full, or the water rests, or one day is like
  /// the day before; at least `least_s` where something is drawn, at most `most_s`. Full tanks whose float
  /// valves open at other hours each day while something is drawn are followed longer.
  double duration_s = std::numeric_limits<double>::infinity();
  /// Stop before that as soon as the water rests or one day is like the day before.
  bool until_alike = false;
  bool until_full = false;  ///< stop as soon as every tank has been full
  /// With `until_full`: only these tanks count; all if none is named.
  std::vector<std::string> to_fill;
  /// For each tank, the elevation at which it counts as emptied. NaN or not given: a millimetre above its
  /// lowest mouth if it only gives water by pipes, else its floor.
  std::vector<double> emptied_at_m;
  /// Stop as soon as every tank with such an elevation has been emptied, or none will be any more.
  bool until_empty = false;
  bool from_empty = false;  ///< tanks and boxes start at their floor instead of their level
  double start_hour = 0.0;  ///< time of day at which the run begins
  double tolerance = 1e-8;  ///< error allowed in a step, of a tank's volume; at most 1e-3
  double every_s = 3600.0;  ///< time between rows of the series; events have their own. 0: events only
  bool keep_steps = true;   ///< record the steps for the checker (check.h)
  double least_s = 3.0 * 86400.0, most_s = 366.0 * 86400.0;
  WorkLimit work;
  /// For whoever judges what runs: called with the whole state at the start and the end, before and after
  /// every event, and at the end of a step once `look_every_s` has passed. Each call makes a whole answer.
  std::function<void(double time_s, const network::State& state)> look;
  double look_every_s = 0.0;
  /// Called now and then with the time reached; false stops the run.
  std::function<bool(double time_s)> progress;
};

enum class EventKind {
  float_shuts,
  float_opens,
  float_holds,  ///< half open, it passes just what is drawn
  full,
  spill_begins,
  spill_ends,
  empty,  ///< draws get only what runs in
  draws_met_again,
  inlet_drowned,
  inlet_clear,
  runs_low,  ///< of a box or tank: its line no longer runs full at the mouth
  runs_full_again,
  line_crest_governs,  ///< a line no longer runs full
  line_ends_govern,    ///< it does so again
  line_stops,
  line_starts,
  line_turns,        ///< it flows back
  box_spill_begins,  ///< of a box that stores nothing
  box_spill_ends,
  draw_changes,
  spilled_at_start,  ///< the water stood above the lip
};

struct Event {
  double time_s = 0.0;
  EventKind what = EventKind::full;
  std::string place, pipeline;      ///< one of them; both for a float valve whose tank has another
  std::optional<double> station_m;  ///< of the crest that governs
  double figure =
      0.0;  ///< draw_changes (of a tank, a joint or a tap): the new draw [m3/s]; spilled_at_start: [m3]
  /// Which float valve it is about, for events of float valves.
  std::string float_valve() const { return place + '\n' + pipeline; }
};

struct Row {
  double time_s = 0.0, level_m = 0.0, inflow_m3s = 0.0, spill_m3s = 0.0, drawn_m3s = 0.0;
  /// Since the start. What ran in, less the other two, is the increase of what is stored.
  double in_m3 = 0.0, spilled_m3 = 0.0, drawn_m3 = 0.0;
};

/// What a joint's draw gets, what comes out of an open outlet, or what a box without a plan spills.
struct PlaceRow {
  double time_s = 0.0, flow_m3s = 0.0;
  double total_m3 = 0.0;  ///< since the start
};
struct PlaceHistory {
  std::string name;
  network::PlaceKind kind = network::PlaceKind::joint;
  bool by_the_hour = false;               ///< it has draws by the hour, and wants nothing at other hours
  double asked_m3 = 0.0, given_m3 = 0.0;  ///< `asked_m3`: only where something is drawn
  std::optional<double> short_from_s;     ///< when it first gets less than is drawn
  double least_m3s = std::numeric_limits<double>::infinity();
  std::vector<PlaceRow> series;

  double missing_m3() const { return asked_m3 - given_m3; }
  /// What is drawn there on one day of a run of so long; all of it, if it ran for less.
  double asked_a_day_m3(double duration_s) const;
};

/// What the draws of a day lacked.
struct Shortfall {
  int day = 0;  ///< 1: the first 24 hours of the run
  double missing_m3 = 0.0;
};

struct StorageHistory {
  std::string name;
  network::PlaceKind kind = network::PlaceKind::tank;
  double start_level_m = 0.0, end_level_m = 0.0, lowest_m = 0.0, highest_m = 0.0;
  double capacity_m3 = 0.0, start_m3 = 0.0, end_m3 = 0.0;
  double inflow_m3 = 0.0, drawn_m3 = 0.0, asked_m3 = 0.0, spilled_m3 = 0.0;
  std::optional<double> full_after_s;  ///< float valves first shut (or holding), or water first at the lip
  std::optional<double> never_m;  ///< never full: the level it tends to, or the highest it reaches each day
  std::optional<double> emptied_at_s, first_spill_s;
  std::vector<Shortfall> short_days;
  std::vector<Row> series;
  /// Whether it stands as low at the end as ever, and was empty before: a run may end in the moment in which
  /// a tank is empty, before anything is missing.
  bool ends_empty() const { return emptied_at_s && end_level_m <= lowest_m + 1e-3; }
};

enum class FillOutcome {
  done,       ///< it ran as long as it should, or there was nothing to run
  stopped,    ///< `progress` said so
  no_answer,  ///< the flows did not settle, `duration_s` after the start
  gave_up,    ///< it cost more than it may (`WorkLimit`): the levels change too often to be followed
};

enum class RestKind {
  no,
  rest,   ///< nothing moves any more
  daily,  ///< every day is like the day before
};

/// One step, for the checker: what ran at the three stages of the method.
struct StepRecord {
  double start_s = 0.0, length_s = 0.0;
  std::vector<double> level_m;  ///< one a storage, at the start
  /// One a storage, at the last stage, for which its flows were found. They are the levels at the end to
  /// within the error allowed in a step; sums of flows close with the end itself. In a hollow that holds
  /// hardly anything (the bottom of a lying cylinder) so little water is micrometres of level, which decide
  /// what runs over a mouth there.
  std::vector<double> last_level_m;
  std::vector<Valve> valve;  ///< one a pipeline: state of the float valve at its end
  std::vector<char> film;    ///< one a storage: it was a film over a mouth and gave at once what it got
  struct Stage {
    std::vector<double> line_m3s;              ///< one a pipeline
    std::vector<double> spill_m3s, drawn_m3s;  ///< one a storage
    double other_out_m3s = 0.0;  ///< outflow by openings on joints, open ends, joint draws and boxes
                                 ///< without plan
  } stage[3];
};

/// Figures of the checker (check.h).
struct FillProof {
  double balance_share =
      0.0;                ///< worst of the whole and of each storage: in less out less stored, of what passed
  double flow_m3s = 0.0;  ///< worst difference from the steady solver run afresh on the whole system
  double flow_share = 0.0;  ///< the same as a share of the largest flow
  int instants = 0;         ///< number of instants compared
  bool bounded = true;      ///< no spill below the lip, no draw above the one wanted, no level outside
  bool consistent = false;
};

struct FillHistory {
  FillOutcome outcome = FillOutcome::done;
  double duration_s = 0.0;  ///< how long it ran
  RestKind rest = RestKind::no;
  std::vector<StorageHistory> storages;  ///< tanks first, then boxes with a plan; none: nothing fills
  std::vector<PlaceHistory> places;      ///< joints that draw, open outlets, boxes without a plan
  std::vector<Event> events;
  double spring_m3 = 0.0, box_spill_m3 = 0.0, outlets_m3 = 0.0, joint_draws_m3 = 0.0;
  long steps = 0, tries = 0, solves = 0;
  long work = 0;  ///< Newton steps of all solves
  std::vector<StepRecord> record;
  FillProof proof;

  const StorageHistory* storage(const std::string& name) const;
};

/// Follows a system (apply a setting first) from its initial levels. Never throws for a valid system.
FillHistory fill(const network::System& system, const FillOptions& options = {});

}  // namespace runnel::filling
