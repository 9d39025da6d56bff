#include "runnel/proof/check_line.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/no_flow.h"

namespace runnel::proof {
namespace {

using network::LinePoint;
using network::LineState;
using network::Reach;
using network::ReachState;

/// A line with its cuts in the order of the flow.
class Walk {
 public:
  Walk(const CutLine& cut, const LineState& state, bool forward)
      : cut_(cut), state_(state), forward_(forward) {}

  std::size_t size() const { return cut_.cuts.size(); }
  std::size_t own(std::size_t i) const { return forward_ ? i : size() - 1 - i; }
  const Cut& at(std::size_t i) const { return cut_.cuts[own(i)]; }
  /// The cut that holds the figures of the reach from i to i + 1, and that reach as the answer gives it.
  std::size_t reach(std::size_t i) const { return forward_ ? i : size() - 2 - i; }
  const Cut& owner(std::size_t i) const { return cut_.cuts[reach(i)]; }
  const Reach& answered(std::size_t i) const { return state_.reaches[reach(i)]; }
  const PlainPipe& pipe(std::size_t i) const { return cut_.pipes[owner(i).pipe]; }
  LongReal local(std::size_t i) const { return forward_ ? at(i).forward_s2m5 : at(i).backward_s2m5; }
  LongReal entrance() const { return forward_ ? cut_.entrance_s2m5 : cut_.back_entrance_s2m5; }
  LongReal exit() const { return forward_ ? cut_.exit_s2m5 : cut_.back_exit_s2m5; }
  /// Whether the pipe does not change at a cut.
  bool plain(std::size_t i) const { return own(i) == 0 || at(i).pipe == cut_.cuts[own(i) - 1].pipe; }
  std::optional<LongReal> grade(std::size_t i) const {
    const auto& grade = state_.points[own(i)].grade_m;
    if (!grade) return std::nullopt;
    return LongReal(*grade);
  }
  /// Energy as the water arrives at a cut: the grade plus the velocity head of the narrower pipe that meets
  /// there, in which the pressure is lowest.
  std::optional<LongReal> energy(std::size_t i) const {
    const auto g = grade(i);
    if (!g) return std::nullopt;
    const LongReal q = state_.flow_m3s;
    return *g + velocity_head(i) * q * q;
  }
  /// That of the narrower pipe that meets at a cut [s2/m5].
  LongReal velocity_head(std::size_t i) const { return std::max(arriving(i), leaving(i)); }
  /// Those of the pipe upstream of a cut and of the pipe downstream of it [s2/m5].
  LongReal arriving(std::size_t i) const { return of_pipe(forward_ ? earlier(i) : at(i).pipe); }
  LongReal leaving(std::size_t i) const { return of_pipe(forward_ ? at(i).pipe : earlier(i)); }

 private:
  std::size_t earlier(std::size_t i) const { return cut_.cuts[own(i) == 0 ? 0 : own(i) - 1].pipe; }
  LongReal of_pipe(std::size_t pipe) const { return cut_.pipes[pipe].velocity_head_s2m5(); }

  const CutLine& cut_;
  const LineState& state_;
  bool forward_;
};

bool same_shape(const CutLine& cut, const LineState& state) {
  return state.points.size() == cut.cuts.size() && state.reaches.size() + 1 == cut.cuts.size();
}

class LineCheck {
 public:
  LineCheck(const losses::FrictionLaw& law, const CutLine& cut, const LineState& state,
            const CheckedEnds& ends, Tally& tally)
      : law_(law),
        cut_(cut),
        state_(state),
        ends_(ends),
        tally_(tally),
        walk_(cut, state, state.flow_m3s >= 0.0),
        q_(std::fabs(LongReal(state.flow_m3s))) {}

  void run() {
    ++tally_.lines;
    tally_.reaches += static_cast<int>(state_.reaches.size());
    if (!same_shape(cut_, state_)) return tally_.energy(endless);
    check_places();
    if (q_ > 0.0L) {
      check_permission();
      check_flowing();
    } else {
      check_reason();
    }
  }

 private:
  /// Loss of a reach. Reaches of one pipe follow one another, so the law is evaluated once for all of them.
  LongReal friction(std::size_t i, LongReal q) {
    const PlainPipe& pipe = walk_.pipe(i);
    if (&pipe != rubs_.pipe || q != rubs_.flow_m3s)
      rubs_ = {&pipe, q, plain_friction(law_, pipe, ends_.viscosity_m2s, q)};
    return walk_.owner(i).length_m * rubs_.per_metre;
  }

  bool closed() const { return cut_.shut || ends_.outlet_shut || ends_.float_shut; }

  /// Checks stations, elevations, and that grade and pressure head agree.
  void check_places() {
    for (std::size_t i = 0; i < cut_.cuts.size(); ++i) {
      const LinePoint& point = state_.points[i];
      tally_.energy(point.station_m - cut_.cuts[i].station_m);
      tally_.energy(point.elevation_m - cut_.cuts[i].elevation_m);
      if (point.grade_m.has_value() != point.pressure_head_m.has_value()) tally_.energy(endless);
      if (point.grade_m && point.pressure_head_m)
        tally_.energy(*point.grade_m - point.elevation_m - *point.pressure_head_m);
    }
  }

  /// Checks that water may flow here, and in this direction.
  void check_permission() {
    const bool forward = state_.flow_m3s > 0.0;
    ++tally_.rules;
    if (closed() || (cut_.one_way && !forward)) tally_.water(q_);
    if (ends_.start_dry || (ends_.end_dry && !ends_.end_in_air)) tally_.water(q_);
    if (ends_.most_m3s) tally_.water(std::max(0.0L, q_ - *ends_.most_m3s));
  }

  void check_flowing() {
    check_start();
    for (std::size_t i = 0; i + 1 < walk_.size(); ++i) check_reach(i);
    check_end();
  }

  void check_start() {
    const auto first = walk_.energy(0);
    const auto source = state_.flow_m3s > 0.0 ? ends_.start_m : ends_.end_m;
    if (!first || !source) return tally_.energy(endless);
    const LongReal left = *source - walk_.entrance() * q_ * q_ - *first;
    const auto& mouth = state_.flow_m3s > 0.0 ? cut_.mouth : cut_.back_mouth;
    if (!mouth) return ends_meet(left);
    // A mouth that is hardly covered loses the head that the line leaves over, and lets in no more than its
    // own law allows.
    const LongReal room = *source - walk_.at(0).elevation_m - mouth->over_axis(q_);
    ++tally_.rules;
    tally_.not_above(-room);
    if (state_.mouth_needs_m)
      tally_.one_is_zero(std::max(0.0L, left), room), tally_.not_above(-left - linear_range());
    else
      ends_meet(left);
  }

  void ends_meet(LongReal difference_m) {
    tally_.energy(std::max(0.0L, std::fabs(difference_m) - linear_range()));
  }

  /// The solver's local losses turn linear below Re 0.1 and differ from the square law by at most this much.
  LongReal linear_range() const {
    LongReal bore = endless, local = walk_.entrance() + walk_.exit() + ends_.opening_s2m5;
    for (const PlainPipe& pipe : cut_.pipes) bore = std::min(bore, pipe.bore_m);
    for (std::size_t i = 0; i < walk_.size(); ++i) local += walk_.local(i);
    const LongReal small = 0.1L * ends_.viscosity_m2s * 0.785398163397448309616L * bore;
    return 0.5L * local * small * small;
  }

  void check_reach(std::size_t i) {
    const auto here = walk_.energy(i), next = walk_.energy(i + 1);
    if (!here || !next) return tally_.energy(endless);
    const Cut& at = walk_.at(i);
    const Reach& answered = walk_.answered(i);
    const LongReal local = walk_.local(i) * q_ * q_, rubbed = friction(i, q_),
                   in_air = answered.lost_in_air_m;
    const LongReal passes = *here - local, behind = *next + rubbed + in_air;
    if (at.set_m)
      check_valve(passes, behind, *at.set_m);
    else
      tally_.energy(passes - behind);
    // Head is lost in air only where the grade line lies on the floor. It never lies below the floor: neither
    // where the water arrives nor just behind a part, a change of pipe or a reducing valve.
    const LongReal lowest = at.set_m ? std::fmin(passes, *at.set_m) : passes;
    const LongReal over_floor =
        std::fmin(*here - walk_.arriving(i) * q_ * q_, lowest - walk_.leaving(i) * q_ * q_) - at.floor_m;
    tally_.one_is_zero(in_air, over_floor);
    if (answered.state == ReachState::full)
      tally_.not_above(in_air - Tally::nothing_m);
    else if (answered.state == ReachState::part_full || answered.state == ReachState::mixed)
      ++tally_.part_full;
    else
      tally_.water(q_);
    tally_.energy(answered.loss_m - rubbed - local);
    tally_.water(LongReal(answered.velocity_ms) * walk_.pipe(i).area_m2() - LongReal(state_.flow_m3s));
    check_refill(i, rubbed);
  }

  /// Where the pipe runs full again, the grade line must meet the floor line. This is checked only where no
  /// change of pipe at the ends of the reach shifts the grade there.
  void check_refill(std::size_t i, LongReal rubbed) {
    const Reach& answered = walk_.answered(i);
    if (answered.state != ReachState::mixed) return;
    if (!answered.refill_station_m) return tally_.energy(endless);
    if (!walk_.plain(i) || !walk_.plain(i + 1)) return;
    const LongReal up = walk_.at(i).station_m, down = walk_.at(i + 1).station_m;
    const LongReal share = (*answered.refill_station_m - up) / (down - up);
    const LongReal floor =
        walk_.at(i).floor_m - share * (walk_.at(i).elevation_m - walk_.at(i + 1).elevation_m);
    tally_.energy(floor - (*walk_.grade(i + 1) + (1.0L - share) * rubbed));
  }

  /// A reducing valve takes off the head that would stand above its setting, and no more.
  void check_valve(LongReal passes, LongReal behind, LongReal set) {
    tally_.not_above(std::fabs(std::fmin(passes - behind, set - behind)) - linear_range());
  }

  void check_end() {
    const std::size_t last = walk_.size() - 1;
    const auto here = walk_.energy(last);
    const bool forward = state_.flow_m3s > 0.0;
    const auto sink = forward ? ends_.end_m : ends_.start_m;
    if (!here || !sink) return tally_.energy(endless);
    const LongReal exit = (walk_.exit() + (forward ? ends_.opening_s2m5 : 0.0L)) * q_ * q_;
    const LongReal passes = *here - walk_.local(last) * q_ * q_;
    LongReal behind = std::max(*sink, walk_.at(last).floor_m) + exit;
    const auto& set = walk_.at(last).set_m;
    // The pressure in the end of the pipe does not sink below atmospheric, or the limit of a sealed line.
    if (!forward || !set)
      behind = std::max(behind,
                        walk_.at(last).floor_m + (walk_.velocity_head(last) - walk_.local(last)) * q_ * q_);
    if (forward && ends_.most_m3s && q_ >= *ends_.most_m3s - ends_.flow_limit_m3s) {
      tally_.not_above(behind - passes);  // the valve at the end takes the head left over
      if (set) tally_.not_above(behind - *set);
    } else if (forward && set && !(exit > 0.0L)) {
      // Since nothing behind the valve loses head, its own body counts, one bore long.
      const PlainPipe& pipe = cut_.pipes[walk_.at(last).pipe];
      behind += pipe.bore_m * plain_friction(law_, pipe, ends_.viscosity_m2s, q_);
      tally_.one_is_zero(std::max(0.0L, passes - behind), *set - behind);
    } else if (forward && set) {
      check_valve(passes, behind, *set);
    } else {
      ends_meet(passes - behind);
    }
  }

  /// Checks that there is a reason for no flow: shut, dry, no head, or a crest above the water.
  void check_reason() {
    const bool has_start = ends_.start_m && !ends_.start_dry, has_end = ends_.end_m && !ends_.end_dry;
    if (!closed() && has_start) tally_.not_above(room_forward(has_end) - least_loss());
    if (!closed() && has_end && !ends_.end_in_air && !cut_.one_way) {
      LongReal over = has_start ? *ends_.start_m : -endless;
      for (const Cut& cut : cut_.cuts) over = std::max(over, cut.floor_m);
      tally_.not_above(*ends_.end_m - over - least_loss());
    }
    check_standing(has_start, has_end && !ends_.end_in_air);
  }

  /// Head left to drive water from start to end, the least over all crests and valves on the way.
  LongReal room_forward(bool has_end) const {
    LongReal over = has_end ? *ends_.end_m : -endless, room = endless;
    for (std::size_t i = cut_.cuts.size(); i-- > 0;) {
      const Cut& cut = cut_.cuts[i];
      if (cut.set_m) room = std::min(room, *cut.set_m - over);
      over = std::max(over, cut.floor_m);
    }
    return std::min(room, *ends_.start_m - over);
  }

  /// The loss of the least flow that an answer can show.
  LongReal least_loss() {
    LongReal loss = 0.0L;
    for (std::size_t i = 0; i + 1 < walk_.size(); ++i) loss += friction(i, network::flow_grain_m3s);
    return loss;
  }

  /// The level at which water stands from one end as far as it reaches. Where it just touches a crest it may
  /// stand behind the crest or not, as both are the same state: then it is not sure.
  struct Level {
    LongReal head_m = 0;
    bool surely = false;
  };
  using Levels = std::vector<std::optional<Level>>;

  static bool passes(const Cut& cut, Level& level) {
    if (cut.floor_m >= level.head_m - Tally::nothing_m) level.surely = false;
    return cut.floor_m <= level.head_m + Tally::nothing_m;
  }

  /// Checks that standing water is level, from either end to the first thing that holds it back. Water that
  /// just touches a crest need not pass it.
  void check_standing(bool has_start, bool has_end) {
    const std::size_t n = cut_.cuts.size();
    Levels left(n), right(n);
    Level level{ends_.start_m.value_or(0.0L), true};
    for (std::size_t i = 0; has_start && i < n && passes(cut_.cuts[i], level); ++i) {
      left[i] = level;
      if (cut_.cuts[i].shut) break;
      if (cut_.cuts[i].set_m) level.head_m = std::min(level.head_m, *cut_.cuts[i].set_m);
    }
    level = {ends_.end_m.value_or(0.0L), true};
    for (std::size_t i = n; has_end && i-- > 0 && passes(cut_.cuts[i], level);) {
      right[i] = level;
      if (cut_.cuts[i].shut || cut_.cuts[i].checked) break;
    }
    for (std::size_t i = 0; i < n; ++i) check_level(i, left[i], right[i]);
  }

  void check_level(std::size_t i, const std::optional<Level>& left, const std::optional<Level>& right) {
    const auto& grade = state_.points[i].grade_m;
    ++tally_.rules;
    // At a valve, and at the end of the line, the answer may give the level on either side.
    const bool divides = cut_.cuts[i].shut || cut_.cuts[i].checked || i + 1 == cut_.cuts.size();
    if (!grade) {
      for (const auto& level : {left, right})
        if (level && level->surely && !divides) tally_.energy(level->head_m - cut_.cuts[i].floor_m);
      return;
    }
    if (!left && !right) return tally_.energy(endless);  // water where none can come
    const LongReal off_left = left ? std::fabs(*grade - left->head_m) : endless;
    const LongReal off_right = right ? std::fabs(*grade - right->head_m) : endless;
    const bool both = left && right && left->surely && right->surely && !divides;
    const bool higher_left = both && left->head_m >= right->head_m;
    tally_.energy(!both ? std::min(off_left, off_right) : higher_left ? off_left : off_right);
  }

  const losses::FrictionLaw& law_;
  const CutLine& cut_;
  const LineState& state_;
  const CheckedEnds& ends_;
  Tally& tally_;
  Walk walk_;
  LongReal q_;
  struct Rubs {
    const PlainPipe* pipe = nullptr;
    LongReal flow_m3s = 0.0L, per_metre = 0.0L;
  } rubs_;
};

}  // namespace

void check_line(const losses::FrictionLaw& law, const CutLine& cut, const LineState& state,
                const CheckedEnds& ends, Tally& tally) {
  LineCheck(law, cut, state, ends, tally).run();
}

std::optional<LongReal> energy_at_source(const CutLine& cut, const LineState& state) {
  if (!same_shape(cut, state) || state.flow_m3s == 0.0) return std::nullopt;
  if (state.mouth_needs_m)
    return (state.flow_m3s > 0.0 ? cut.cuts.front() : cut.cuts.back()).elevation_m + *state.mouth_needs_m;
  const Walk walk(cut, state, state.flow_m3s > 0.0);
  const auto first = walk.energy(0);
  if (!first) return std::nullopt;
  const LongReal q = state.flow_m3s;
  return *first + walk.entrance() * q * q;
}

}  // namespace runnel::proof
