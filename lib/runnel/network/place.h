#pragma once
// Places: where lines begin and end. All elevations share one datum.
//
// A kind of place is a struct with a `kind` that says what every kind says: where lines meet it
// (`leaving`, `entering`, `takes_exit_loss`), with which place it was levelled and what heights it has
// (`each_elevation`). It joins `Places` below; what holds for all kinds goes through `each_kind`.
#include <algorithm>
#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "runnel/base/mark.h"
#include "runnel/losses/overflow.h"
#include "runnel/network/float_valve.h"
#include "runnel/units/quantity.h"

namespace runnel::network {

/// In the order in which a System counts them.
enum class PlaceKind { box, tank, outlet, joint };
inline constexpr std::size_t place_kinds = 4;

/// Elevations at which a line may meet a place. A line without a survey leaves at the low end, and comes in
/// at the high one.
struct Meeting {
  double low_m = 0.0, high_m = 0.0;
  const char* what = "";  ///< "its outlet", for messages
};

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
  static constexpr PlaceKind kind = PlaceKind::box;
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

  /// Whether it is known how much it holds.
  bool stores() const { return plan_length > Length{} && plan_width > Length{}; }

  Meeting leaving() const { return {outlet.metres(), outlet.metres(), "its outlet"}; }
  Meeting entering() const { return {outlet.metres(), lip.metres(), "the box"}; }
  bool takes_exit_loss() const { return true; }
  const std::string& levelled_with() const { return name; }
  template <class Visit>
  void each_elevation(Visit visit) {
    visit(outlet), visit(lip);
    if (floor) visit(*floor);
    if (rim) visit(*rim);
  }
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
  static constexpr PlaceKind kind = PlaceKind::tank;
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

  Meeting leaving() const { return {floor.metres(), lip.metres(), "the tank"}; }
  Meeting entering() const { return {inlet.metres(), inlet.metres(), "its inlet"}; }
  bool takes_exit_loss() const { return true; }
  const std::string& levelled_with() const { return name; }
  template <class Visit>
  void each_elevation(Visit visit) {
    visit(floor), visit(lip), visit(inlet), visit(level);
    if (rim) visit(*rim);
    if (float_valve) visit(float_valve->shuts_at), visit(float_valve->opens_at);
  }
};

/// A tap, a pipe end, a trough valve: open to the air.
struct Outlet {
  static constexpr PlaceKind kind = PlaceKind::outlet;
  std::string name;
  Length elevation;
  Length opening;     ///< bore of the opening; zero: the open end of the pipe itself
  double loss = 1.0;  ///< K on the opening's bore, the jet's own 1.0 included
  std::string on;     ///< the joint it sits on without a pipe; empty: a pipeline ends here
  bool shut = false;  ///< the tap is closed
  /// What is drawn there: people open the tap just so far that no more comes. None: it stands open and gives
  /// what its opening lets out.
  std::vector<Draw> draws;
  /// How far it is opened at the hour that is looked at; none: as far as its busiest hour needs.
  std::optional<Flow> opened_to;
  Mark mark;

  Meeting leaving() const { return {elevation.metres(), elevation.metres(), "it"}; }
  Meeting entering() const { return leaving(); }
  /// An opening has its own loss; only the open end of the pipe itself takes the line's.
  bool takes_exit_loss() const { return opening == Length{}; }
  const std::string& levelled_with() const { return on.empty() ? name : on; }
  template <class Visit>
  void each_elevation(Visit visit) {
    visit(elevation);
  }
};

/// A tee or a reducer; may carry a draw.
struct Joint {
  static constexpr PlaceKind kind = PlaceKind::joint;
  std::string name;
  Length elevation;
  Flow draw;                ///< at all times; with `draws`, their sum in the busiest hour
  std::vector<Draw> draws;  ///< a steady state takes all of `draw`
  /// The two pipelines that run straight through a tee; the losses of its run and branches then count
  /// (tee_loss.h). Empty: its lines meet without loss.
  std::vector<std::string> straight;
  Mark mark;

  Meeting leaving() const { return {elevation.metres(), elevation.metres(), "it"}; }
  Meeting entering() const { return leaving(); }
  bool takes_exit_loss() const { return false; }
  const std::string& levelled_with() const { return name; }
  template <class Visit>
  void each_elevation(Visit visit) {
    visit(elevation);
  }
};

/// The first of a name; nullptr if there is none.
template <class Named>
const Named* of_name(const std::vector<Named>& all, const std::string& name) {
  const auto at = std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  return at == all.end() ? nullptr : &*at;
}

/// The places of a model, kind by kind.
struct Places {
  std::vector<Box> boxes;
  std::vector<Tank> tanks;
  std::vector<Outlet> outlets;
  std::vector<Joint> joints;

  const Box* box(const std::string& name) const { return of_name(boxes, name); }
  const Tank* tank(const std::string& name) const { return of_name(tanks, name); }
  const Outlet* outlet(const std::string& name) const { return of_name(outlets, name); }
  const Joint* joint(const std::string& name) const { return of_name(joints, name); }
};

/// Visits the places of each kind in turn, a vector of them at a time.
template <class Of, class Visit>
void each_kind(Of& places, Visit visit) {
  visit(places.boxes), visit(places.tanks), visit(places.outlets), visit(places.joints);
}
/// Visits every place, kind by kind.
template <class Of, class Visit>
void each_place(Of& places, Visit visit) {
  each_kind(places, [&](auto& all) {
    for (auto& place : all) visit(place);
  });
}

}  // namespace runnel::network
