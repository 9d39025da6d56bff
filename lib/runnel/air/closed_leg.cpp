#include "runnel/air/closed_leg.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "runnel/air/descent.h"
#include "runnel/air/wet_part.h"
#include "runnel/base/constants.h"
#include "runnel/base/index.h"
#include "runnel/steady/line_plan.h"
#include "runnel/steady/pocket_course.h"

namespace runnel::air {
namespace {

using network::System;
using steady::PocketCourse;
using steady::unbounded;

/// The most water that may come: from a tank as much as its line takes, from a box all that the springs give.
double most_m3s(const System& system, const Way& way) {
  const network::Box* from = system.box(way.path.source);
  if (!from || (!(from->yield.si() > 0.0) && !system.tanks().empty())) return unbounded;
  double all_m3s = 0.0;
  for (const network::Box& box : system.boxes()) all_m3s += box.yield.si();
  return all_m3s > 0.0 ? all_m3s : unbounded;
}

/// A straight piece of the leg, with the local loss at its lower end.
struct Piece {
  double end_station_m = 0.0;  ///< on the way's profile
  double falls_m = 0.0;        ///< its fall less the friction of the full pipe
  double locally_m = 0.0;      ///< local loss at its lower end
  double bore_m = 0.0;
};

/// The leg from a crest to the end of its way at a given flow.
class Leg {
 public:
  Leg(const System& system, const Way& way, int crest, double flow_m3s)
      : crest_m_(way.profile.points[at(crest)].station_m), square_m6s2_(flow_m3s * flow_m3s) {
    for (std::size_t l = at(way.profile.points[at(crest)].pipeline); l < way.path.legs.size(); ++l)
      add_line(system, way, l, flow_m3s);
  }

  const losses::PipeFriction& last_pipe() const {
    return last_.pipes[at(last_.passage.pipe(last_.passage.size() - 1))];
  }
  double exit_s2m5() const { return last_.exit_s2m5; }
  double end_m() const { return last_.passage.elevation_m(last_.passage.size() - 1); }

  /// The station from which on the water stands over the crown, where the lowest part of the leg does so;
  /// none if it runs down part-full all the way. Swings of less than a bore do not count, as in `turns`.
  std::optional<double> closed_from_m(bool at_end) const {
    if (at_end) return head_of_full_m(pieces_.size());
    double stands_m = 0.0;
    for (std::size_t i = pieces_.size(); i-- > 0;) {
      stands_m += pieces_[i].locally_m;
      if (stands_m > pieces_[i].bore_m) return head_of_full_m(i + 1);
      stands_m = std::max(0.0, stands_m - pieces_[i].falls_m);
      if (stands_m > pieces_[i].bore_m) return head_of_full_m(i);
    }
    return std::nullopt;
  }

 private:
  void add_line(const System& system, const Way& way, std::size_t l, double flow_m3s) {
    const PathLeg& leg = way.path.legs[l];
    const steady::LinePlan plan = steady::plan_line(system, *leg.line);
    last_ = leg.reversed ? steady::course_back(plan, 1.0) : steady::course_of(plan, 1.0);
    const double start_m = way.profile.points.passage().legs()[l].start_m;
    const network::Passage& passage = last_.passage;
    for (std::size_t i = 1; i < passage.size(); ++i) {
      const double here_m = start_m + passage.station_m(i);
      if (here_m <= crest_m_ + network::same_station_m) continue;
      const losses::PipeFriction& pipe = last_.pipes[at(passage.pipe(i - 1))];
      const double fall_m = passage.elevation_m(i - 1) - passage.elevation_m(i);
      pieces_.push_back({here_m, fall_m - passage.length_m(i - 1) * pipe.per_metre(flow_m3s).head_m,
                         last_.points[i].local_s2m5 * square_m6s2_, pipe.bore_m()});
    }
    if (l + 1 < way.path.legs.size() && !pieces_.empty())
      pieces_.back().locally_m += last_.exit_s2m5 * square_m6s2_;
  }

  /// Goes up from the start of piece `i`, which is full, to where the full pipe begins; none if that is the
  /// crest.
  std::optional<double> head_of_full_m(std::size_t i) const {
    double head_m = start_of_m(i);
    double spare_m = 0.0;
    while (i-- > 0) {
      spare_m += pieces_[i].falls_m;
      if (spare_m > pieces_[i].bore_m) return head_m;
      if (spare_m <= 0.0) spare_m = 0.0, head_m = start_of_m(i);
    }
    return std::nullopt;
  }
  double start_of_m(std::size_t i) const { return i == 0 ? crest_m_ : pieces_[i - 1].end_station_m; }

  double crest_m_, square_m6s2_;
  PocketCourse last_;  ///< of the last pipeline
  std::vector<Piece> pieces_;
};

/// The flow that leaves at a dead end while the water stands `head_m` over its axis.
double leaves_at_joint_m3s(const System& system, int joint, double end_m, double head_m) {
  double leaves_m3s = system.joint(joint)->draw.si();
  for (std::size_t o = 0; o < system.outlets().size(); ++o) {
    const network::Outlet& outlet = system.outlets()[o];
    if (system.hangs_on(static_cast<int>(o)) != joint || outlet.shut) continue;
    const double over_m = end_m + head_m - outlet.elevation.metres();
    const double opening_s2m5 = steady::opening_s2m5(outlet);
    if (over_m > 0.0) leaves_m3s += opening_s2m5 > 0.0 ? std::sqrt(over_m / opening_s2m5) : unbounded;
  }
  return leaves_m3s;
}

/// Whether water runs on from a joint to a place where it comes out. Pipelines that lead nowhere, or only to
/// taps that are shut, fill up and then stand still.
bool leads_on(const std::vector<Way>& all, int joint) {
  return std::any_of(all.begin(), all.end(), [joint](const Way& other) {
    const auto& legs = other.path.legs;
    return !other.start.too_high && std::any_of(legs.begin() + 1, legs.end(), [joint](const PathLeg& leg) {
      return first_place(leg) == joint;
    });
  });
}

/// The flow that the end of a way passes before the water stands over the crown of its pipe; unbounded at the
/// open end of the pipe, or where other pipelines lead on, which are ways of their own.
double end_passes_m3s(const System& system, const std::vector<Way>& all, const Way& way, const Leg& leg) {
  const PathLeg& last = way.path.legs.back();
  const int place = last.reversed ? last.line->from : last.line->to;
  const double head_m = 0.5 * leg.last_pipe().bore_m(), area_m2 = leg.last_pipe().area_m2();
  if (system.joint(place))
    return leads_on(all, place) ? unbounded : leaves_at_joint_m3s(system, place, leg.end_m(), head_m);
  const double jet_s2m5 = 1.0 / (2.0 * gravity_ms2 * area_m2 * area_m2);
  double passing_s2m5 = leg.exit_s2m5() - jet_s2m5;
  if (const network::Outlet* outlet = system.outlet(place)) passing_s2m5 += steady::opening_s2m5(*outlet);
  if (last.line->float_valve && !last.reversed) passing_s2m5 += last.line->float_valve->loss * jet_s2m5;
  return passing_s2m5 > 0.0 ? std::sqrt(head_m / passing_s2m5) : unbounded;
}

}  // namespace

std::optional<Pocket> closed_leg(const System& system, const std::vector<Way>& all, const Way& way) {
  const std::vector<Turn> bends = turns(way.profile);
  if (bends.empty() || !bends.back().crest || way.start.too_high) return std::nullopt;
  if (way.path.end_level_m && *way.path.end_level_m > way.profile.points.back().elevation_m)
    return std::nullopt;
  const int crest = bends.back().point;
  const WetPart wet(system, way, most_m3s(system, way));
  const double comes_m3s = wet.rate_m3s(wet.length_to_m(crest));
  if (!(comes_m3s > 0.0)) return std::nullopt;
  const Leg leg(system, way, crest, comes_m3s);
  const auto closed_m = leg.closed_from_m(comes_m3s > end_passes_m3s(system, all, way, leg));
  if (!closed_m) return std::nullopt;
  const Descent descent = closed_descent(way.profile, way.conditions, *closed_m);
  if (descent.vented || descent.air.start_volume_m3() <= 0.0) return std::nullopt;
  const double low_m = way.profile.points[at(descent.low)].elevation_m;
  return loaded_by(descent, way.conditions.atmospheric_head_m, {low_m, low_m});
}

}  // namespace runnel::air
