#include "runnel/steady/trace.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "runnel/losses/part_full.h"
#include "runnel/steady/standing.h"

namespace runnel::steady {
namespace {

using network::Line;
using network::System;

constexpr double no_head_m = 1e-8;  ///< smaller head differences are round-off of a settled state

class Trace {
 public:
  Trace(const System& system, const Line& line, const LinePlan& plan, const LineEnds& ends)
      : system_(system),
        line_(line),
        plan_(plan),
        ends_(ends),
        way_(plan, ends.flow_m3s >= 0.0),
        q_(std::abs(ends.flow_m3s)),
        q2_(q_ * q_) {
    const std::size_t n = plan.vertices.size();
    arrives_.resize(n);
    leaves_.resize(n);
    gap_.assign(n, 0.0);
    loss_.assign(n, 0.0);
    result_.name = line.name;
    result_.flow_m3s = ends.flow_m3s;
  }

  LineState run() {
    if (q_ > 0.0) {
      run_backward();
      run_forward_to_throttle();
      write_flowing();
    } else {
      write_still();
    }
    return std::move(result_);
  }

 private:
  double source_head() const { return (way_.forward ? ends_.start_head_m : ends_.end_head_m).value_or(0.0); }
  double sink_head() const { return (way_.forward ? ends_.end_head_m : ends_.start_head_m).value_or(-1e9); }

  /// Computes the energy needed at every vertex, from the end back.
  void run_backward() {
    const std::size_t last = way_.last();
    int worked_out = -1;  // reaches of one pipe follow one another and have the same friction per metre
    double per_metre = 0.0;
    const double exit = way_.exit_s2m5() + (way_.forward ? ends_.end_s2m5 : 0.0);
    for (std::size_t i = last + 1; i-- > 0;) {
      const Vertex& v = way_.vertex(i);
      if (i == last) {
        leaves_[i] = std::max(sink_head(), v.floor_m) + exit * q2_;
        if (!(way_.forward && v.holds_m))
          leaves_[i] = std::max(leaves_[i], v.floor_m + (v.narrower_s2m5() - way_.local_s2m5(i)) * q2_);
        arrives_[i] = leaves_[i] + way_.local_s2m5(i) * q2_;
        continue;
      }
      const int pipe = way_.passage.pipe(i);
      if (pipe != std::exchange(worked_out, pipe))
        per_metre = plan_.friction[static_cast<std::size_t>(pipe)].per_metre(q_).head_m;
      loss_[i] = per_metre * way_.passage.length_m(i);
      // The floor holds just behind a part, where the pressure is lowest, and before it where the pipe
      // widens.
      const double asked = arrives_[i + 1] + loss_[i],
                   least = v.floor_m + v.over_floor_s2m5(way_.forward) * q2_;
      gap_[i] = std::max(0.0, least - asked);
      leaves_[i] = std::max(asked, least);
      arrives_[i] = leaves_[i] + way_.local_s2m5(i) * q2_;
    }
  }

  bool has_throttle() const {
    return (way_.forward && (line_.float_valve || ends_.held_at_tap)) ||
           std::any_of(plan_.vertices.begin(), plan_.vertices.end(),
                       [](const Vertex& v) { return v.holds_m.has_value(); });
  }

  /// A throttle takes the head left over at the source; upstream of it the grade line starts from the source.
  void run_forward_to_throttle() {
    const double entrance = way_.entrance_s2m5() * q2_;
    double energy = source_head() - entrance;
    if (ends_.mouth_governs || !has_throttle() || energy - arrives_[0] <= no_head_m) return;
    std::size_t throttle = way_.last();
    for (std::size_t i = 0; i <= way_.last(); ++i)
      if (way_.vertex(i).holds_m && std::abs(leaves_[i] - *way_.vertex(i).holds_m) <= 1e-6) throttle = i;
    result_.reducing_valve_active = way_.vertex(throttle).holds_m.has_value();
    for (std::size_t i = 0; i <= throttle; ++i) {
      arrives_[i] = energy;
      if (i == throttle) break;
      gap_[i] = 0.0;
      double behind = energy - way_.local_s2m5(i) * q2_;
      if (way_.vertex(i).holds_m) behind = std::min(behind, *way_.vertex(i).holds_m);
      leaves_[i] = behind;
      energy = behind - loss_[i];
    }
  }

  double grade(std::size_t i) const { return arrives_[i] - way_.vertex(i).narrower_s2m5() * q2_; }

  void write_flowing() {
    const std::size_t n = plan_.vertices.size();
    result_.points.resize(n);
    result_.reaches.resize(n - 1);
    bool all_full = true, any_full = false;
    for (std::size_t i = 0; i < n; ++i) {
      LinePoint& point = result_.points[way_.forward ? i : n - 1 - i];
      point.station_m = way_.passage.point(i).station_m;
      point.elevation_m = way_.passage.point(i).elevation_m;
      // At an open end without an opening the jet's velocity head is the exit loss: the grade is the end
      // itself.
      point.grade_m = grade(i);
      point.pressure_head_m = *point.grade_m - point.elevation_m;
      if (i + 1 == n) break;
      Reach& reach = result_.reaches[way_.forward ? i : n - 2 - i];
      write_reach(i, reach);
      all_full = all_full && reach.state == ReachState::full;
      any_full = any_full || reach.state != ReachState::part_full;
    }
    result_.condition = all_full   ? LineCondition::full
                        : any_full ? LineCondition::mixed
                                   : LineCondition::part_full;
  }

  void write_reach(std::size_t i, Reach& reach) const {
    const network::CoursePoint &up = way_.passage.point(i), &down = way_.passage.point(i + 1);
    const double length_m = way_.passage.length_m(i);
    reach.pipe = way_.passage.pipe(i);
    const auto& friction = plan_.friction[static_cast<std::size_t>(reach.pipe)];
    reach.from_m = std::min(up.station_m, down.station_m);
    reach.to_m = std::max(up.station_m, down.station_m);
    reach.length_m = length_m;
    reach.fall_m = way_.forward ? up.elevation_m - down.elevation_m : down.elevation_m - up.elevation_m;
    reach.velocity_ms = ends_.flow_m3s / friction.area_m2();
    reach.loss_m = loss_[i] + way_.local_s2m5(i) * q2_;
    reach.lost_in_air_m = gap_[i];
    if (gap_[i] <= no_head_m) return;
    // Measured from the floor line of this reach: on a sealed line the free end stands above it.
    const double floor_end = down.elevation_m - (up.elevation_m - way_.vertex(i).floor_m);
    const double over_floor = grade(i + 1) - floor_end;
    // A part in a stretch that does not fill backs the water up by its loss: less than a bore fills no pipe.
    const bool backed_up = way_.local_s2m5(i + 1) > 0.0 && over_floor <= friction.bore_m();
    const double share = over_floor <= no_head_m || backed_up ? 1.0 : gap_[i] / (gap_[i] + over_floor);
    reach.state = share >= 1.0 - 1e-9 ? ReachState::part_full : ReachState::mixed;
    if (reach.state == ReachState::mixed)
      reach.refill_station_m = up.station_m + share * (down.station_m - up.station_m);
    if (!ends_.depths) return;
    const auto& pipe = line_.pipes[static_cast<std::size_t>(reach.pipe)].pipe;
    const double slope = length_m > 0.0 ? (up.elevation_m - down.elevation_m) / length_m : 0.0;
    if (auto depth =
            losses::normal_flow(system_.friction(), friction.bore_m(), pipe.roughness.metres(), pipe.hazen_c,
                                system_.site().water.kinematic_viscosity_m2s, slope, q_)) {
      reach.normal_depth_m = depth->depth_m;
      reach.part_full_velocity_ms = depth->velocity_ms;
      reach.froude = depth->froude;
      reach.near_full = depth->near_full;
    } else {
      reach.near_full = true;
    }
  }

  /// Without flow, water stands level from either end up to what it cannot pass; where it comes from both
  /// ends, the higher level counts.
  void write_still() {
    const auto& points = plan_.course.points();
    const std::size_t n = points.size();
    result_.points.resize(n);
    result_.reaches.resize(n - 1);
    StandingWater start, end;
    start.at.resize(n);
    end.at.resize(n);
    if (ends_.start_head_m) start = stand_from_start(plan_, *ends_.start_head_m);
    if (ends_.end_head_m && !ends_.end_in_air) end = stand_from_end(plan_, *ends_.end_head_m);
    for (std::size_t i = 0; i < n; ++i) {
      LinePoint& point = result_.points[i];
      const Vertex& v = plan_.vertices[i];
      point.station_m = points[i].station_m;
      point.elevation_m = points[i].elevation_m;
      const bool divides = v.shut || v.keeps_back;  // a valve: what stands before it
      point.grade_m =
          !end.at[i] || (start.at[i] && (divides || *start.at[i] >= *end.at[i])) ? start.at[i] : end.at[i];
      if (point.grade_m) point.pressure_head_m = *point.grade_m - point.elevation_m;
    }
    int still = 0;
    for (std::size_t i = 0; i + 1 < n; ++i) {
      const network::CoursePoint &up = points[i], &down = points[i + 1];
      Reach& reach = result_.reaches[i];
      reach.from_m = up.station_m;
      reach.to_m = down.station_m;
      reach.length_m = up.length_m;
      reach.fall_m = up.elevation_m - down.elevation_m;
      reach.pipe = up.pipe;
      const bool wet = (start.at[i] && start.at[i + 1]) || (end.at[i] && end.at[i + 1]);
      reach.state = wet ? ReachState::still : ReachState::dry;
      still += wet;
    }
    result_.condition = plan_.shut                         ? LineCondition::shut
                        : still + 1 == static_cast<int>(n) ? LineCondition::still
                        : start.at.front()                 ? LineCondition::blocked
                                                           : LineCondition::dry;
  }

  const System& system_;
  const Line& line_;
  const LinePlan& plan_;
  const LineEnds& ends_;
  PassedPlan way_;
  double q_, q2_;
  std::vector<double> arrives_, leaves_, gap_, loss_;  ///< energies at vertices in flow order [m]
  LineState result_;
};

}  // namespace

LineState trace_line(const System& system, const Line& line, const LinePlan& plan, const LineEnds& ends) {
  return Trace(system, line, plan, ends).run();
}

}  // namespace runnel::steady
