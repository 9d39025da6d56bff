#pragma once
// Places: where lines begin and end. All elevations share one datum.
#include <chrono>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "runnel/base/mark.h"
#include "runnel/losses/overflow.h"
#include "runnel/network/float_valve.h"
#include "runnel/units/quantity.h"

namespace runnel::network {

enum class PlaceKind { box, tank, outlet, joint };

/// A timed bucket: volume and the times it took to fill.
struct BucketTests {
  Volume volume;
  std::vector<Duration> times;
};

/// What is known of how a spring varies from year to year and dwindles in a dry season.
struct SpringHistory {
  struct Year {
    int year = 0;
    Flow least;  ///< the least it gave in that year
  };
  std::vector<Year> years;
  std::optional<double> yearly_spread;  ///< stated deviation between years, as a share of their mean
  /// Time in which the yield falls by half while no rain reaches the spring.
  std::optional<Duration> halves_in;
  std::optional<std::chrono::sys_days> measured;  ///< the day the yield was measured
};

/// A collection box, or (without yield) an open break-pressure box.
struct Box {
  std::string name;
  Flow yield;                               ///< what the spring gives; zero for a break-pressure box
  std::optional<BucketTests> bucket_tests;  ///< if the yield comes from them (it is their mean)
  Length outlet;                            ///< elevation where the outlet pipe leaves
  Length lip;                               ///< overflow lip
  SpringHistory history;
  std::optional<losses::Overflow> overflow;  ///< how it spills over the lip; none: the lip is taken as free
  std::optional<Length> floor;
  std::optional<Length> rim;       ///< top of the wall; none: not known
  Length plan_length, plan_width;  ///< zero = not given
  Mark mark;
};

/// Shapes of tanks; depths count from the tank floor.
struct UprightCylinder {
  Length diameter;
};
struct LyingCylinder {
  Length diameter, length;
};
struct Cuboid {
  Length length, width;
};
struct Frustum {
  Length bottom_diameter, top_diameter, height;
};
struct DepthVolumeTable {
  std::vector<Length> depth;
  std::vector<Volume> volume;
};
using TankShape = std::variant<UprightCylinder, LyingCylinder, Cuboid, Frustum, DepthVolumeTable>;

/// Water drawn from a tank, at a tap or at a joint. `from_hour` == `to_hour` means all day.
struct Draw {
  std::string purpose;
  Flow flow;  ///< mean over a day if hours are given: the day's volume is taken within them
  double from_hour = 0.0, to_hour = 0.0;
  double head = 0.0;   ///< of stock or persons, if `flow` follows from their number; else 0
  std::string source;  ///< of their daily need
  Mark mark;
};

struct Tank {
  std::string name;
  TankShape shape = UprightCylinder{};
  Length floor, lip, inlet;                  ///< inlet: where water enters; below the level it is drowned
  std::optional<losses::Overflow> overflow;  ///< how it spills over the lip; none: the lip is taken as free
  std::optional<Length> rim;                 ///< top of the wall; none: not known
  std::optional<FloatValve> float_valve;     ///< for every line into it that has none of its own
  Length level;                              ///< at the start; in `flow` a fixed grade
  bool held = false;  ///< its level is held from outside (a lake, a main): it never runs out
  std::vector<Draw> draws;
  Mark mark;
};

/// A tap, a pipe end, a trough valve: open to the air.
struct Outlet {
  std::string name;
  Length elevation;
  Length opening;     ///< bore of the opening; zero: the open end of the pipe itself
  double loss = 1.0;  ///< K on the opening's bore, the jet's own 1.0 included
  std::string on;     ///< the joint it sits on without a pipe; empty: a pipeline ends here
  bool shut = false;  ///< the tap is closed
  /// What is drawn there: people open the tap just so far that no more comes. None: it stands open and gives
  /// what its opening lets out.
  std::vector<Draw> draws;
  Mark mark;
};

/// A tee or a reducer; may carry a draw.
struct Joint {
  std::string name;
  Length elevation;
  Flow draw;                ///< at all times; with `draws`, their sum in the busiest hour
  std::vector<Draw> draws;  ///< a steady state takes all of `draw`
  /// The two pipelines that run straight through a tee; the losses of its run and branches then count
  /// (tee_loss.h). Empty: its lines meet without loss.
  std::vector<std::string> straight;
  Mark mark;
};

}  // namespace runnel::network
