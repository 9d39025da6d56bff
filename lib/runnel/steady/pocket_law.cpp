#include "runnel/steady/pocket_law.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "runnel/base/constants.h"

namespace runnel::steady {

struct PocketLaw::Dual {
  double head_m = 0.0, flow_slope = 0.0, sink_slope = 0.0;

  friend Dual operator+(const Dual& a, const Dual& b) {
    return {a.head_m + b.head_m, a.flow_slope + b.flow_slope, a.sink_slope + b.sink_slope};
  }
  friend Dual operator*(double k, const Dual& a) {
    return {k * a.head_m, k * a.flow_slope, k * a.sink_slope};
  }
  friend const Dual& higher(const Dual& a, const Dual& b) { return b.head_m > a.head_m ? b : a; }
};

PocketLaw::PocketLaw(PocketCourse course, Compression compression)
    : course_(std::move(course)), compression_(compression) {
  require_sound(course_);
  for (const auto& pipe : course_.pipes)
    velocity_s2m5_.push_back(1.0 / (2.0 * gravity_ms2 * pipe.area_m2() * pipe.area_m2()));
  pieces_.resize(course_.points.size() - 1);
  begins_.assign(course_.points.size(), -1);
  legs_.resize(course_.pockets.size());
  for (std::size_t k = 0; k < legs_.size(); ++k) prepare_leg(k);
}

void PocketLaw::prepare_leg(std::size_t pocket) {
  const ShutAir& air = course_.pockets[pocket];
  double volume_m3 = air.before_m3, credit_s2m5 = unbounded;
  const auto each_piece = [&](auto&& visit) {
    for (auto i = static_cast<std::size_t>(air.crest); i < static_cast<std::size_t>(air.low); ++i)
      visit(i, pieces_[i]);
  };
  each_piece([&](std::size_t reach, Piece& piece) {
    const auto pipe = static_cast<std::size_t>(course_.passage.pipe(reach));
    piece.above_m3 = volume_m3;
    piece.below_m3 = volume_m3 += course_.passage.length_m(reach) * course_.pipes[pipe].area_m2();
    piece.credit_s2m5 = credit_s2m5 = std::min(credit_s2m5, velocity_s2m5_[pipe]);
  });
  Leg& leg = legs_[pocket];
  leg.start_m3 = air.volume_m3.value_or(volume_m3);
  leg.atmosphere_m4 = course_.atmospheric_head_m * leg.start_m3;
  if (leg.start_m3 <= 0.0) return;  // nothing is shut in: the leg is as any other
  each_piece([&](std::size_t, Piece& piece) { piece.pocket = static_cast<int>(pocket); });
  begins_[static_cast<std::size_t>(air.crest)] = static_cast<int>(pocket);
}

/// The greatest of min(D, B) in a piece: D, found from below, is linear from `upper` to `lower`, and B
/// follows Boyle's law.
PocketLaw::Dual PocketLaw::gauge_in(const Piece& piece, const Dual& upper, const Dual& lower) const {
  const Leg& leg = legs_[static_cast<std::size_t>(piece.pocket)];
  const double above = piece.above_m3, grown = piece.below_m3 - piece.above_m3;
  if (compression_ == Compression::none) {
    if (above > leg.start_m3) return {};
    const double t = piece.below_m3 <= leg.start_m3 ? 1.0 : (leg.start_m3 - above) / grown;
    return higher(upper, (1.0 - t) * upper + t * lower);
  }
  const double atmosphere = course_.atmospheric_head_m, target = leg.atmosphere_m4;
  const double top = atmosphere + upper.head_m, rise = lower.head_m - upper.head_m;
  if (top * above >= target) return {target / above - atmosphere, 0.0, 0.0};  // compressed out of this piece
  if (rise <= 0.0) return upper;
  if ((atmosphere + lower.head_m) * piece.below_m3 <= target) return lower;  // the air reaches further down
  // (top + rise t)(above + grown t) = target: the left side is below target at t = 0 and above it at t = 1.
  const double square = rise * grown, linear = top * grown + rise * above, missing = target - top * above;
  const double root = std::sqrt(linear * linear + 4.0 * square * missing);
  const double t = linear >= 0.0 ? 2.0 * missing / (linear + root) : (root - linear) / (2.0 * square);
  const Dual at = (1.0 - t) * upper + t * lower;
  const double gives = (atmosphere + at.head_m) * grown;
  const double share = gives / ((above + grown * t) * rise + gives);
  return {at.head_m, share * at.flow_slope, share * at.sink_slope};
}

/// Energy just before a point, from the energy just behind it. The floor applies on both sides.
PocketLaw::Dual PocketLaw::past_point(std::size_t point, const Dual& below, const Dual& floor,
                                      const Dual& square) const {
  // Nearly every point lies under the grade line and loses nothing: slopes are worked out only where they
  // count.
  const int pipe = course_.passage.pipe(point);
  const double velocity_s2m5 = velocity_s2m5_[static_cast<std::size_t>(pipe)];
  Dual energy =
      floor.head_m + velocity_s2m5 * square.head_m > below.head_m ? floor + velocity_s2m5 * square : below;
  const double local_s2m5 = course_.points[point].local_s2m5;
  if (local_s2m5 != 0.0) energy = energy + local_s2m5 * square;
  const int before = point == 0 ? pipe : course_.passage.pipe(point - 1);
  if (before == pipe) return energy;
  const double before_s2m5 = velocity_s2m5_[static_cast<std::size_t>(before)];
  return higher(energy, floor + before_s2m5 * square);
}

/// Works from the end back and calls `seen(pocket, gauge head, head taken)` at each crest that holds air.
template <typename Seen>
PocketLaw::Dual PocketLaw::trace(double flow_m3s, double sink_head_m, Seen&& seen) const {
  const double q2 = flow_m3s * flow_m3s, s2 = course_.smooth_m3s * course_.smooth_m3s;
  const double root = std::sqrt(q2 + s2);
  const Dual square{flow_m3s * root, root > 0.0 ? (2.0 * q2 + s2) / root : 0.0, 0.0};

  const PocketPoint& end = course_.points.back();
  const network::Passage& passage = course_.passage;
  Dual energy = higher(Dual{sink_head_m, 0.0, 1.0}, Dual{end.floor_m, 0.0, 0.0});
  energy = energy + (course_.exit_s2m5 + end.local_s2m5) * square;
  // The pressure in the pipe's own end does not sink below its floor either.
  const double last_s2m5 = velocity_s2m5_[static_cast<std::size_t>(passage.pipe(pieces_.size() - 1))];
  if (end.floor_m > -unbounded) energy = higher(energy, Dual{end.floor_m, 0.0, 0.0} + last_s2m5 * square);
  Dual gauge{};
  losses::LossAndSlope per_metre;
  int pipe = -1;
  for (std::size_t i = pieces_.size(); i-- > 0;) {
    const Piece& piece = pieces_[i];
    if (passage.pipe(i) != pipe) {
      pipe = passage.pipe(i);
      per_metre = course_.pipes[static_cast<std::size_t>(pipe)].per_metre(flow_m3s);
    }
    const Dual top = energy + passage.length_m(i) * Dual{per_metre.head_m, per_metre.slope_sm2, 0.0};
    if (piece.pocket >= 0) {
      const Dual credit = -piece.credit_s2m5 * square;
      const Dual upper = top + Dual{-passage.elevation_m(i), 0.0, 0.0} + credit;
      const Dual lower = energy + Dual{-passage.elevation_m(i + 1), 0.0, 0.0} + credit;
      gauge = higher(gauge, gauge_in(piece, upper, lower));
    }
    const Dual floor{course_.points[i].floor_m, 0.0, 0.0};
    energy = past_point(i, top, floor, square);
    if (begins_[i] < 0) continue;
    const double as_full_m = energy.head_m;
    energy = higher(energy, past_point(i, top, Dual{passage.elevation_m(i), 0.0, 0.0} + gauge, square));
    seen(static_cast<std::size_t>(begins_[i]), gauge.head_m, energy.head_m - as_full_m);
    gauge = {};
  }
  if (course_.mouth_m > 0.0)
    energy = energy + course_.mouth_m * Dual{per_metre.head_m, per_metre.slope_sm2, 0.0};
  return energy + course_.entrance_s2m5 * square;
}

Need PocketLaw::need(double flow_m3s, double sink_head_m) const {
  const Dual asked = trace(flow_m3s, sink_head_m, [](std::size_t, double, double) {});
  return {asked.head_m, asked.flow_slope, asked.sink_slope};
}

RunningPocket PocketLaw::placed(std::size_t pocket, double gauge_head_m) const {
  const ShutAir& air = course_.pockets[pocket];
  const Leg& leg = legs_[pocket];
  RunningPocket running{.crest = air.crest, .low = air.low, .gauge_head_m = gauge_head_m};
  const bool squeezed = compression_ == Compression::isothermal;
  running.volume_m3 =
      squeezed ? leg.atmosphere_m4 / (course_.atmospheric_head_m + gauge_head_m) : leg.start_m3;
  running.volume_m3 = std::min(running.volume_m3, pieces_[static_cast<std::size_t>(air.low) - 1].below_m3);
  auto i = static_cast<std::size_t>(air.crest);
  while (i + 1 < static_cast<std::size_t>(air.low) && pieces_[i].below_m3 < running.volume_m3) ++i;
  const double grown = pieces_[i].below_m3 - pieces_[i].above_m3;
  const double t = grown > 0.0 ? (running.volume_m3 - pieces_[i].above_m3) / grown : 0.0;
  const double high_m = course_.passage.elevation_m(i), low_m = course_.passage.elevation_m(i + 1);
  running.interface_m = high_m + std::max(t, 0.0) * (low_m - high_m);
  running.volume_m3 = std::max(running.volume_m3 - air.before_m3, 0.0);
  return running;
}

std::vector<RunningPocket> PocketLaw::pockets(double flow_m3s, double sink_head_m) const {
  std::vector<RunningPocket> running;
  for (std::size_t k = 0; k < legs_.size(); ++k) running.push_back(placed(k, 0.0));
  trace(flow_m3s, sink_head_m, [&](std::size_t k, double gauge_head_m, double taken_m) {
    running[k] = placed(k, gauge_head_m);
    running[k].head_taken_m = taken_m;
  });
  return running;
}

double PocketLaw::flow_m3s(double source_head_m, double sink_head_m, double most_m3s) const {
  constexpr double rounding = std::numeric_limits<double>::epsilon();
  if (most_m3s <= 0.0 || need(0.0, sink_head_m).head_m >= source_head_m) return 0.0;
  double low = 0.0, high = 0.3 * course_.pipes.front().area_m2();  // 0.3 m/s to start from
  while (high < most_m3s && need(high, sink_head_m).head_m < source_head_m)
    low = std::exchange(high, 4.0 * high);
  if (high >= most_m3s) {
    high = most_m3s;
    if (need(high, sink_head_m).head_m <= source_head_m) return most_m3s;
  }
  double flow = high;
  for (int step = 0; step < 200; ++step) {
    const Need asked = need(flow, sink_head_m);
    const double over_m = asked.head_m - source_head_m;
    (over_m > 0.0 ? high : low) = flow;
    if (std::abs(over_m) <= rounding * std::abs(source_head_m) || high - low <= 2.0 * rounding * high) break;
    const double newton = flow - over_m / asked.flow_slope_sm2;
    // Newton settles in some ten steps; where it would leave the bracket or is slow, the bracket is halved.
    flow = newton > low && newton < high && step < 50 ? newton : 0.5 * (low + high);
  }
  return flow;
}

}  // namespace runnel::steady
