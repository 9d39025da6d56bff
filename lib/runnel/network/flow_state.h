#pragma once
// What a steady answer says of a system: the solver fills it in, the proof recomputes it, the rooms above
// read it. Conventions: flow is positive from a pipeline's start to its end; grade H = elevation + pressure
// head [m]; inside a pipeline the velocity head is subtracted from the energy, at places (boxes, tanks,
// joints) it is neglected. Vectors are in the order of the system.
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/place_kinds.h"
#include "runnel/network/system.h"

namespace runnel::network {

enum class Outcome {
  settled,          ///< both balances hold to the limits below, and every one-way part is consistent
  iteration_limit,  ///< they do not, after all iterations: the numbers are a last attempt, not an answer
  not_finite,       ///< a number overflowed or became undefined
};

/// One step of the solver. Settled when continuity <= 1e-10 of the total flow (or 1e-13 m3/s) and
/// energy <= 1e-9 m, each the worst of all places or lines.
struct Iteration {
  int number = 0;
  double continuity_m3s = 0.0;
  double energy_m = 0.0;
  double step = 1.0;  ///< share of the Newton step taken
};

enum class ReachState {
  full,
  part_full,  ///< at atmospheric pressure all the way
  mixed,      ///< part-full down to the refill station, full below
  dry,        ///< no water
  still,      ///< full of standing water
};

/// A stretch between two neighbouring survey points or changes of pipe.
struct Reach {
  double from_m = 0.0, to_m = 0.0;  ///< stations
  double length_m = 0.0;            ///< slope length
  double fall_m = 0.0;              ///< start elevation less end elevation
  ReachState state = ReachState::full;
  double velocity_ms = 0.0;    ///< flow over the full bore
  double loss_m = 0.0;         ///< friction and local losses as if full
  double lost_in_air_m = 0.0;  ///< head lost falling at atmospheric pressure
  std::optional<double> refill_station_m;
  std::optional<double> normal_depth_m, part_full_velocity_ms, froude;
  bool near_full = false;  ///< between Qfull and 1.076 Qfull: no depth is claimed
  int pipe = 0;            ///< index into the pipeline's pipes
};

struct LinePoint {
  double station_m = 0.0, elevation_m = 0.0;
  std::optional<double> grade_m, pressure_head_m;  ///< none where there is no water
  std::optional<double> static_head_m;             ///< with everything shut; none where no water stands
};

enum class LineCondition {
  full,
  mixed,
  part_full,
  dry,      ///< no water arrives
  still,    ///< full, standing
  shut,     ///< a valve on it is shut
  blocked,  ///< a crest on it is higher than the water can rise
};

struct LineState {
  std::string name;
  double flow_m3s = 0.0;
  LineCondition condition = LineCondition::full;
  std::optional<double> capacity_m3s;  ///< the most it carries, in the direction it flows, with the place it
                                       ///< comes from at its highest (lip, level, or static grade of a joint)
  /// Of a line that does not run full where its water enters it: the most that it carries with no water
  /// standing there over its beginning.
  std::optional<double> from_air_m3s;
  std::optional<double> governed_by_station_m;  ///< the crest that sets the capacity; none if the ends do
  /// If the mouth in a box or tank lets in no more than this flow: the level over its axis that it needs
  /// (losses/mouth.h). None: something else governs.
  std::optional<double> mouth_needs_m;
  std::vector<LinePoint> points;
  std::vector<Reach> reaches;
  bool check_valve_shut = false, reducing_valve_active = false;
};

/// Figures of the independent checker (room proof): raw laws, no code of the solver.
struct Proof {
  double continuity_m3s = 0.0;  ///< worst place
  double energy_m = 0.0;        ///< worst line
  double one_way_m = 0.0;       ///< worst violation of a one-way or bounded rule, in metres of head
  bool consistent = false;      ///< all of them within their limits
  /// How much was looked at.
  struct Extent {
    int places = 0;              ///< whose water was balanced
    int lines = 0, reaches = 0;  ///< along which energy was
    int not_full = 0;            ///< of the reaches
    int rules = 0;               ///< one-way and bounded ones
  };
  std::optional<Extent> extent;  ///< none: nothing was checked
};

struct State : PlaceStates {
  // Written in flow_state.cpp: many files copy, move or drop a state.
  State();
  State(const State&);
  State(State&&) noexcept;
  State& operator=(const State&);
  State& operator=(State&&) noexcept;
  ~State();

  Outcome outcome = Outcome::iteration_limit;
  std::vector<Iteration> history;
  std::vector<LineState> lines;
  Proof proof;

  /// Whether figures may be taken from it: it settled, and passed its check.
  bool proved() const { return outcome == Outcome::settled && proof.consistent; }
  const PlaceState* place(const std::string& name) const;
  const LineState* line(const std::string& name) const;
};

}  // namespace runnel::network
