#include "runnel/air/check_at_first.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/network/no_flow.h"
#include "runnel/proof/check.h"
#include "runnel/proof/check_cut.h"

namespace runnel::air {
namespace {

using proof::CutLine;
using proof::LongReal;

constexpr LongReal energy_limit_m = 1e-8L;  // the same as the steady checker's
// Where a leg runs nearly parallel to the grade line, both laws cross at so flat an angle that the pressure
// is determined only to about a millionth of a metre.
constexpr LongReal pressure_limit_m = 1e-6L;
constexpr LongReal same_flow_m3s = 1e-11L;  // two tellings of one flow, rounded
constexpr double no_head_m = 1e9;  // -no_head_m stands for a dry end, which does not hold the flow back

/// A pipeline in the order of its flow.
struct Passage {
  struct Point {
    LongReal station_m, elevation_m, floor_m, local_s2m5;
    std::optional<LongReal> set_m;
  };
  struct Reach {
    LongReal length_m, bore_m, area_m2, velocity_s2m5, loss_m;
  };
  std::vector<Point> points;
  std::vector<Reach> reaches;
  LongReal entrance_s2m5 = 0, exit_s2m5 = 0;
  std::optional<proof::PlainMouth> mouth;

  Passage(const network::System& system, const CutLine& cut, bool reversed, LongReal flow_m3s) {
    const std::size_t n = cut.cuts.size();
    std::vector<std::optional<LongReal>> per_metre_m;  // by pipe
    for (std::size_t i = 0; i < n; ++i) {
      const proof::Cut& c = cut.cuts[reversed ? n - 1 - i : i];
      points.push_back({c.station_m, c.elevation_m, c.floor_m, reversed ? c.backward_s2m5 : c.forward_s2m5,
                        reversed ? std::nullopt : c.set_m});
      if (i + 1 == n) break;
      const proof::Cut& behind = cut.cuts[reversed ? n - 2 - i : i];
      const proof::PlainPipe& pipe = cut.pipes[behind.pipe];
      if (per_metre_m.size() <= behind.pipe) per_metre_m.resize(behind.pipe + 1);
      auto& per_metre = per_metre_m[behind.pipe];
      if (!per_metre)
        per_metre = proof::plain_friction(system.friction(), pipe,
                                          system.site().water.kinematic_viscosity_m2s, flow_m3s);
      reaches.push_back({behind.length_m, pipe.bore_m, pipe.area_m2(), pipe.velocity_head_s2m5(),
                         behind.length_m * *per_metre});
    }
    entrance_s2m5 = reversed ? cut.back_entrance_s2m5 : cut.entrance_s2m5;
    exit_s2m5 = reversed ? cut.back_exit_s2m5 : cut.exit_s2m5;
    mouth = reversed ? cut.back_mouth : cut.mouth;
  }

  std::size_t nearest(LongReal station_m, LongReal elevation_m) const {
    const auto away = [&](std::size_t i) {
      return std::hypot(points[i].station_m - station_m, points[i].elevation_m - elevation_m);
    };
    // Stations run one way, so look both ways from the first point not before this station, for as long as a
    // point could still be nearer.
    const bool back = points.front().station_m > points.back().station_m;
    const auto from = static_cast<std::size_t>(std::partition_point(points.begin(), points.end() - 1,
                                                                    [&](const Point& p) {
                                                                      return back ? p.station_m > station_m
                                                                                  : p.station_m < station_m;
                                                                    }) -
                                               points.begin());
    std::size_t best = from;
    const auto aside = [&](std::size_t i) { return std::fabs(points[i].station_m - station_m); };
    for (std::size_t i = from; i < points.size() && aside(i) <= away(best); ++i)
      if (away(i) < away(best)) best = i;
    for (std::size_t i = from; i-- > 0 && aside(i) <= away(best);)
      if (away(i) <= away(best)) best = i;
    return best;
  }
};

/// One pocket, with the pressure found as the march passes it.
struct HeldPocket {
  const RunningAir* told = nullptr;
  std::size_t crest = 0, low = 0;
  std::vector<LongReal> above_m3;  ///< volume of the leg above each point from the crest to the low point
  LongReal gauge_m = 0;
};

/// The greatest of min(D, B) on one straight piece, with t running from its upper to its lower end.
template <typename Below, typename Boyle>
LongReal greatest_least(Below&& below, Boyle&& boyle) {
  const LongReal up = std::min(below(0.0L), boyle(0.0L));
  if (below(1.0L) <= below(0.0L) || boyle(0.0L) <= below(0.0L)) return up;
  if (boyle(1.0L) >= below(1.0L)) return below(1.0L);
  LongReal low = 0.0L, high = 1.0L;
  for (int i = 0; i < 100; ++i) {
    const LongReal middle = 0.5L * (low + high);
    (boyle(middle) >= below(middle) ? low : high) = middle;
  }
  return std::max(up, below(low));
}

class March {
 public:
  March(const network::System& system, const CutLine& cut, const std::vector<const RunningAir*>& air,
        LongReal flow_m3s, bool compressed)
      : way_(system, cut, air.front()->held.reversed, flow_m3s),
        flow_m3s_(flow_m3s),
        square_(flow_m3s * flow_m3s),
        atmosphere_m_(system.site().atmospheric_head_m()),
        compressed_(compressed) {
    for (const RunningAir* one : air) find(*one);
    // Air that begins where the line begins leaves one bore of the line full.
    if (std::any_of(pockets_.begin(), pockets_.end(), [](const HeldPocket& p) { return p.crest == 0; }))
      mouth_m_ = way_.reaches.front().loss_m / way_.reaches.front().length_m * way_.reaches.front().bore_m;
  }

  /// The head that the source must have.
  LongReal need_m(LongReal sink_m, LongReal opening_s2m5) {
    const auto& end = way_.points.back();
    LongReal energy =
        std::max(sink_m, end.floor_m) + (way_.exit_s2m5 + opening_s2m5 + end.local_s2m5) * square_;
    if (!end.set_m) energy = std::max(energy, end.floor_m + way_.reaches.back().velocity_s2m5 * square_);
    LongReal airless = energy;  // as if there were no air, since floors alone may need more
    for (std::size_t i = way_.reaches.size(); i-- > 0;) {
      const LongReal top = energy + way_.reaches[i].loss_m;
      HeldPocket* pocket = over(i);
      if (pocket) press(*pocket, i, energy, top);
      hold_to(i, top);
      energy = pass(i, top, way_.points[i].floor_m);
      if (pocket && pocket->crest == i)
        energy = std::max(energy, pass(i, top, way_.points[i].elevation_m + pocket->gauge_m));
      airless = pass(i, airless + way_.reaches[i].loss_m, way_.points[i].floor_m);
    }
    const LongReal line_m = std::max(energy + mouth_m_, airless) + way_.entrance_s2m5 * square_;
    return way_.mouth ? std::max(line_m, way_.points.front().elevation_m + way_.mouth->over_axis(flow_m3s_))
                      : line_m;
  }

  /// The worst error of the pressures given, and of Boyle's law for the volumes given, in metres of water.
  LongReal worst_pressure_m() const {
    LongReal worst = 0.0L;
    for (const HeldPocket& p : pockets_) {
      worst = std::max(worst, std::fabs(LongReal(p.told->gauge_head_m) - p.gauge_m));
      if (!compressed_) continue;
      const LongReal start = p.told->held.start_volume_m3,
                     volume = p.told->volume_m3 + p.told->held.before_m3;
      const LongReal whole = p.above_m3.back();
      const LongReal held = std::min(atmosphere_m_ * start / (atmosphere_m_ + p.gauge_m), whole);
      if (held > LongReal(p.told->held.before_m3))
        worst = std::max(worst, std::fabs(volume - held) / start * atmosphere_m_);
    }
    return worst;
  }

  /// By how much the head behind a reducing valve would exceed its setting, and whether one limits the flow.
  LongReal valve_breach_m() const { return valve_breach_m_; }
  bool valve_governs() const { return valve_governs_; }

 private:
  void find(const RunningAir& told) {
    HeldPocket p{.told = &told, .above_m3 = {}};
    p.crest = way_.nearest(told.held.crest_station_m, told.held.crest_elevation_m);
    p.low = way_.nearest(told.held.low_station_m, told.held.low_elevation_m);
    p.above_m3.push_back(told.held.before_m3);
    for (std::size_t i = p.crest; i < p.low; ++i)
      p.above_m3.push_back(p.above_m3.back() + way_.reaches[i].length_m * way_.reaches[i].area_m2);
    pockets_.push_back(std::move(p));
  }

  /// The pocket in whose leg a reach lies, if any. Pockets are in flow order.
  HeldPocket* over(std::size_t reach) {
    const auto p = std::partition_point(pockets_.begin(), pockets_.end(),
                                        [&](const HeldPocket& q) { return q.low <= reach; });
    return p != pockets_.end() && reach >= p->crest ? &*p : nullptr;
  }

  /// Raises the pressure of a pocket to what one piece of its leg allows.
  void press(HeldPocket& p, std::size_t reach, LongReal lower_energy_m, LongReal upper_energy_m) const {
    LongReal credit = std::numeric_limits<LongReal>::infinity();
    for (std::size_t i = p.crest; i <= reach; ++i) credit = std::min(credit, way_.reaches[i].velocity_s2m5);
    const LongReal upper = upper_energy_m - way_.points[reach].elevation_m - credit * square_;
    const LongReal lower = lower_energy_m - way_.points[reach + 1].elevation_m - credit * square_;
    const LongReal from = p.above_m3[reach - p.crest], to = p.above_m3[reach + 1 - p.crest];
    const LongReal start = p.told->held.start_volume_m3;
    const auto below = [&](LongReal t) { return upper + t * (lower - upper); };
    const auto boyle = [&](LongReal t) {
      const LongReal volume = from + t * (to - from);
      if (!compressed_) return volume <= start ? std::numeric_limits<LongReal>::infinity() : 0.0L;
      return volume > 0.0L ? atmosphere_m_ * start / volume - atmosphere_m_
                           : std::numeric_limits<LongReal>::infinity();
    };
    p.gauge_m = std::max(p.gauge_m, greatest_least(below, boyle));
  }

  LongReal before_s2m5(std::size_t i) const { return way_.reaches[i > 0 ? i - 1 : 0].velocity_s2m5; }

  /// Energy before a point, on either side of which the grade cannot sink below a height.
  LongReal pass(std::size_t i, LongReal behind_m, LongReal height_m) const {
    const LongReal held = std::max(behind_m, height_m + way_.reaches[i].velocity_s2m5 * square_);
    const LongReal energy = held + way_.points[i].local_s2m5 * square_;
    return i == 0 ? energy : std::max(energy, height_m + before_s2m5(i) * square_);
  }

  void hold_to(std::size_t i, LongReal behind_m) {
    if (!way_.points[i].set_m) return;
    valve_breach_m_ = std::max(valve_breach_m_, behind_m - *way_.points[i].set_m);
    if (behind_m >= *way_.points[i].set_m - energy_limit_m) valve_governs_ = true;
  }

  Passage way_;
  std::vector<HeldPocket> pockets_;
  LongReal mouth_m_ = 0, flow_m3s_, square_, atmosphere_m_,
           valve_breach_m_ = -std::numeric_limits<LongReal>::infinity();
  bool compressed_, valve_governs_ = false;
};

class AirCheck {
 public:
  AirCheck(const network::System& system, const AirState& state, bool compressed)
      : system_(system), state_(state), compressed_(compressed) {}

  AirProof run() {
    const std::size_t lines = system_.lines().size();
    proof_.pockets = static_cast<int>(state_.air.size());
    if (state_.runs.size() != lines || state_.state.lines.size() != lines) return proof_;
    std::vector<bool> by_air(lines, false);
    for (std::size_t l = 0; l < lines; ++l)
      for (const bool reversed : {false, true})
        if (check_line(l, reversed)) by_air[l] = true;
    const network::Proof rest = proof::check_apart_from(by_air, system_, state_.state);
    proof_.continuity_m3s = rest.continuity_m3s;
    proof_.energy_m =
        static_cast<double>(std::max({LongReal(rest.energy_m), LongReal(rest.one_way_m), energy_m_}));
    proof_.boyle_m = static_cast<double>(pressure_m_);
    proof_.consistent = rest.consistent && energy_m_ <= energy_limit_m && pressure_m_ <= pressure_limit_m;
    return proof_;
  }

 private:
  /// Checks one direction of a line. Returns false if no air stands in the way of what flows, or would flow,
  /// in that direction.
  bool check_line(std::size_t l, bool reversed) {
    std::vector<const RunningAir*> air;
    for (const RunningAir& one : state_.air)
      if (one.held.line == l && one.held.reversed == reversed) air.push_back(&one);
    const AirRun& run = state_.runs[l];
    const LongReal along = reversed ? -run.flow_m3s : run.flow_m3s;
    if (air.empty() || along < -network::flow_grain_m3s) return false;
    if (std::fabs(LongReal(run.flow_m3s) - LongReal(state_.state.lines[l].flow_m3s)) > same_flow_m3s)
      energy_m_ = endless;
    const network::Line& line = system_.lines()[l];
    const CutLine cut = proof::cut_line(system_, line, system_.kind(line.from), system_.kind(line.to));
    const LongReal flow = along > network::flow_grain_m3s ? along : 0.0L;
    March march(system_, cut, air, flow, compressed_);
    const auto& source = reversed ? run.end_head_m : run.start_head_m;
    const LongReal sink = (reversed ? run.start_head_m : run.end_head_m).value_or(-no_head_m);
    const LongReal need_m = march.need_m(sink, reversed ? 0.0L : opening_s2m5(line));
    if (!source) {  // no water that could flow
      if (flow > 0.0L) energy_m_ = endless;
      return true;
    }
    const LongReal spare = *source - need_m;
    pressure_m_ = std::max(pressure_m_, march.worst_pressure_m());
    if (flow > 0.0L) {
      energy_m_ = std::max({energy_m_, -spare, march.valve_breach_m()});
      if (!march.valve_governs() && !at_its_most(line, flow)) energy_m_ = std::max(energy_m_, spare);
    } else if (!held_shut(cut, line) && !march.valve_governs()) {
      energy_m_ = std::max(energy_m_, spare);  // water that could flow would do so
    }
    return true;
  }

  /// Whether a valve at its end may let no more through: a float at its level, a tap that is not opened wide.
  bool at_its_most(const network::Line& line, LongReal flow_m3s) const {
    if (system_.outlet(line.to) && system_.lines_at(line.to).size() == 1) {
      const auto& most = system_.lets_out(system_.place(line.to).index);
      return most && flow_m3s >= LongReal(most->si()) - same_flow_m3s;
    }
    const network::Tank* tank = system_.tank(line.to);
    return tank && line.float_valve && tank->level >= line.float_valve->shuts_at;
  }

  bool held_shut(const CutLine& cut, const network::Line& line) const {
    const network::Outlet* outlet = system_.outlet(line.to);
    return cut.shut || (outlet && outlet->shut) || at_its_most(line, 0.0L);
  }

  LongReal opening_s2m5(const network::Line& line) const {
    const network::Outlet* outlet = system_.outlet(line.to);
    if (!outlet || system_.lines_at(line.to).size() > 1 || !(outlet->opening.metres() > 0.0)) return 0.0L;
    const proof::PlainPipe hole{outlet->opening.metres(), 0.0L, 0.0L};
    return outlet->loss * hole.velocity_head_s2m5();
  }

  static constexpr LongReal endless = std::numeric_limits<LongReal>::infinity();
  const network::System& system_;
  const AirState& state_;
  bool compressed_;
  AirProof proof_;
  LongReal energy_m_ = 0, pressure_m_ = 0;
};

}  // namespace

AirProof check_at_first(const network::System& system, const AirState& state, bool compressed) {
  return AirCheck(system, state, compressed).run();
}

}  // namespace runnel::air
