#include "runnel/proof/check.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "runnel/network/no_flow.h"
#include "runnel/network/place_state.h"
#include "runnel/proof/check_line.h"

namespace runnel::proof {
namespace {

using network::Line;
using network::PlaceKind;
using network::PlaceState;
using network::Proof;
using network::State;
using network::System;

/// A place as the checker sees it: the level that the answer gives, and the water that passes.
struct Spot {
  PlaceKind kind = PlaceKind::joint;
  std::size_t index = 0;
  std::optional<LongReal> head_m;
  bool dry = false;
  LongReal net_m3s = 0, arrives_m3s = 0;  ///< by lines: net inflow, and inflow alone
  int starts = 0, ends = 0;
};

class Check {
 public:
  Check(const System& system, const State& state, std::vector<bool> passed_over)
      : system_(system), state_(state), passed_over_(std::move(passed_over)) {
    passed_over_.resize(system.lines().size(), false);
  }

  Proof run() {
    if (!same_shape()) {
      tally_.energy(endless);
      return proof();
    }
    find_spots();
    for (const Line& line : system_.lines()) cut_.push_back(cut_one(line));
    carry_water();
    imply_levels();
    for (std::size_t l = 0; l < cut_.size(); ++l)
      if (!passed_over_[l]) check_line(system_.friction(), cut_[l], state_.lines[l], ends_of(l), tally_);
    for (std::size_t b = 0; b < system_.boxes().size(); ++b) check_box(b);
    for (std::size_t t = 0; t < system_.tanks().size(); ++t) check_tank(t);
    for (std::size_t o = 0; o < system_.outlets().size(); ++o) check_outlet(o);
    for (std::size_t j = 0; j < system_.joints().size(); ++j) check_joint(j);
    return proof();
  }

 private:
  bool same_shape() const {
    return state_.boxes.size() == system_.boxes().size() && state_.tanks.size() == system_.tanks().size() &&
           state_.outlets.size() == system_.outlets().size() &&
           state_.joints.size() == system_.joints().size() && state_.lines.size() == system_.lines().size();
  }

  Spot& spot(int place) { return spots_[static_cast<std::size_t>(place)]; }
  const Spot& spot(int place) const { return spots_[static_cast<std::size_t>(place)]; }

  void find_spots() {
    const auto add = [&](const std::string& name, PlaceKind kind, std::size_t index,
                         const PlaceState& place) {  // to be called in the order of a System's places
      Spot spot;
      spot.kind = kind;
      spot.index = index;
      spot.dry = place.dry;
      const auto& head = network::open_water(kind) ? place.level_m : place.grade_m;
      if (head) spot.head_m = *head;
      spots_.push_back(spot);
      if (place.name != name) tally_.energy(endless);
    };
    for (std::size_t b = 0; b < system_.boxes().size(); ++b)
      add(system_.boxes()[b].name, PlaceKind::box, b, state_.boxes[b]);
    for (std::size_t t = 0; t < system_.tanks().size(); ++t)
      add(system_.tanks()[t].name, PlaceKind::tank, t, state_.tanks[t]);
    for (std::size_t o = 0; o < system_.outlets().size(); ++o)
      add(system_.outlets()[o].name, PlaceKind::outlet, o, state_.outlets[o]);
    for (std::size_t j = 0; j < system_.joints().size(); ++j)
      add(system_.joints()[j].name, PlaceKind::joint, j, state_.joints[j]);
  }

  CutLine cut_one(const Line& line) const {
    return cut_line(system_, line, spot(line.from).kind, spot(line.to).kind);
  }

  void carry_water() {
    for (std::size_t l = 0; l < cut_.size(); ++l) {
      const LongReal q = state_.lines[l].flow_m3s;
      Spot &from = spot(system_.lines()[l].from), &to = spot(system_.lines()[l].to);
      ++from.starts;
      ++to.ends;
      from.net_m3s -= q;
      to.net_m3s += q;
      (q > 0.0L ? to : from).arrives_m3s += std::fabs(q);
      total_ += std::fabs(q);
    }
    for (const auto& box : system_.boxes()) total_ = std::max(total_, LongReal(box.yield.si()));
    // An answer shows flows below the grain as none, so a place may lack a few of them.
    flow_limit_ = 1e-10L * total_ + 10.0L * network::flow_grain_m3s;
  }

  /// A box whose line leaves part-full has no level; the energy that the line needs there takes its place.
  void imply_levels() {
    for (std::size_t l = 0; l < cut_.size(); ++l) {
      const bool forward = state_.lines[l].flow_m3s > 0.0;
      Spot& source = spot(forward ? system_.lines()[l].from : system_.lines()[l].to);
      if (source.kind != PlaceKind::box || source.head_m || source.dry) continue;
      source.head_m = energy_at_source(cut_[l], state_.lines[l]);
    }
  }

  /// Whether an outlet is nothing but the end of its one pipeline.
  bool is_line_end(const Spot& spot) const {
    return spot.kind == PlaceKind::outlet && spot.starts == 0 && spot.ends == 1 &&
           system_.hangs_on(static_cast<int>(spot.index)) < 0;
  }

  CheckedEnds ends_of(std::size_t l) const {
    const Line& line = system_.lines()[l];
    const Spot &from = spot(line.from), &to = spot(line.to);
    CheckedEnds ends;
    ends.viscosity_m2s = system_.site().water.kinematic_viscosity_m2s;
    ends.flow_limit_m3s = flow_limit_;
    ends.start_m = from.head_m;
    ends.end_m = to.head_m;
    ends.start_dry = from.dry;
    ends.end_dry = to.dry;
    if (is_line_end(to)) {
      const auto& outlet = system_.outlets()[to.index];
      ends.end_in_air = true;
      ends.end_m = outlet.elevation.metres();
      ends.outlet_shut = shut(to.index);
      ends.most_m3s = most(to.index);
      ends.opening_s2m5 = opening(outlet.opening.metres(), outlet.loss);
    }
    if (to.kind == PlaceKind::tank && line.float_valve)
      set_float(*line.float_valve, system_.tanks()[to.index], ends);
    return ends;
  }

  static void set_float(const network::FloatValve& valve, const network::Tank& tank, CheckedEnds& ends) {
    if (tank.level < valve.shuts_at) return;
    LongReal draws = 0.0L;
    for (const auto& draw : tank.draws) draws += draw.flow.si();
    if (tank.level == valve.shuts_at && draws > 0.0L)
      ends.most_m3s = draws;
    else
      ends.float_shut = true;
  }

  static LongReal opening(LongReal bore_m, LongReal k) {
    if (!(bore_m > 0.0L)) return 0.0L;
    const PlainPipe hole{bore_m, 0.0L, 0.0L};
    return k * hole.velocity_head_s2m5();
  }

  void balance(LongReal left_over_m3s) {
    ++tally_.balances;
    tally_.water(left_over_m3s);
  }

  /// A flow that must not be below zero.
  void not_below_zero(LongReal flow_m3s) {
    ++tally_.rules;
    tally_.water(flow_m3s >= 0.0L ? 0.0L : flow_m3s);
  }

  bool flows(LongReal flow_m3s) const { return flow_m3s > flow_limit_; }

  void check_box(std::size_t b) {
    const auto& box = system_.boxes()[b];
    const PlaceState& place = state_.boxes[b];
    const Spot& spot = this->spot(system_.box_place(static_cast<int>(b)));
    const LongReal lip = box.lip.metres(), yield = box.yield.si(), spill = place.spill_m3s;
    balance(yield + spot.net_m3s - spill);
    tally_.water(yield + spot.arrives_m3s - place.inflow_m3s);
    not_below_zero(spill);
    if (spot.dry) return not_below_zero(-yield - spill);
    if (place.level_m.has_value() == place.top_part_full || !spot.head_m) return tally_.energy(endless);
    tally_.not_above(*spot.head_m - lip);
    if (flows(spill)) tally_.not_above(lip - *spot.head_m);
  }

  void check_tank(std::size_t t) {
    const auto& tank = system_.tanks()[t];
    const PlaceState& place = state_.tanks[t];
    balance(spot(system_.tank_place(static_cast<int>(t))).net_m3s - place.inflow_m3s);
    if (!place.level_m) return tally_.energy(endless);
    tally_.energy(*place.level_m - tank.level.metres());
  }

  void check_outlet(std::size_t o) {
    const auto& outlet = system_.outlets()[o];
    const PlaceState& place = state_.outlets[o];
    const Spot& spot = this->spot(system_.outlet_place(static_cast<int>(o)));
    const LongReal q = place.flow_m3s, elevation = outlet.elevation.metres();
    not_below_zero(q);
    if (shut(o) || place.dry) not_below_zero(-q);
    if (place.grade_m && place.pressure_head_m)
      tally_.energy(*place.grade_m - elevation - *place.pressure_head_m);
    if (const int on = system_.hangs_on(static_cast<int>(o)); on >= 0) {
      this->spot(on).net_m3s -= q;
      return check_opening(o, this->spot(on), outlet.opening.metres(), q);
    }
    balance(spot.net_m3s - q);
    if (is_line_end(spot)) {
      stands_as_its_line(system_.outlet_place(static_cast<int>(o)), place);
      // What lies between the end of a pipe and an opening below it drives nothing.
      LongReal end = elevation;
      for (const int l : system_.lines_at(system_.outlet_place(static_cast<int>(o))))
        end = std::max(end, LongReal(system_.lines()[static_cast<std::size_t>(l)].end_elevation().metres()));
      if (q > 0.0L && place.grade_m)
        drives(*place.grade_m - end - opening(outlet.opening.metres(), outlet.loss) * q * q, o, q, 0.0L);
      return;
    }
    LongReal bore = outlet.opening.metres();
    if (!(bore > 0.0L))
      for (const int l : system_.lines_at(system_.outlet_place(static_cast<int>(o))))
        bore = std::max(
            bore, LongReal(system_.lines()[static_cast<std::size_t>(l)].pipes.back().pipe.bore.metres()));
    check_opening(o, spot, bore, q);
  }

  /// The head told at the end of a line is what is left at its last point, if the line runs full there: not
  /// what it would be without a valve on the way. The speed of the water in the pipe may count or not.
  void stands_as_its_line(int end, const PlaceState& place) {
    for (const int line : system_.lines_at(end)) {
      const auto l = static_cast<std::size_t>(line);
      const network::LineState& run = state_.lines[l];
      const bool full = !run.reaches.empty() && run.reaches.back().state == network::ReachState::full;
      if (passed_over_[l] || !full || !place.grade_m || !run.points.back().grade_m) continue;
      const auto& parts = system_.lines()[l].parts;  // the last point lies before one that stands at the end
      const auto at_end = [&](const network::FittedPart& part) {
        return part.at.metres() >= run.points.back().station_m - network::same_station_m;
      };
      if (std::any_of(parts.begin(), parts.end(), at_end)) continue;
      const LongReal over = LongReal(*place.grade_m) - LongReal(*run.points.back().grade_m);
      const LongReal bore_m = system_.lines()[l].pipes.back().pipe.bore.metres(), q = run.flow_m3s;
      tally_.not_above(over - opening(bore_m, 1.0L) * q * q);
      tally_.not_above(-over);
    }
  }

  /// Also where nobody wants any water.
  bool shut(std::size_t outlet) const {
    const auto limit = most(outlet);
    return system_.outlets()[outlet].shut || (limit && !(*limit > 0.0L));
  }

  std::optional<LongReal> most(std::size_t outlet) const {
    const auto& lets_out = system_.lets_out(static_cast<int>(outlet));
    return lets_out ? std::optional<LongReal>(lets_out->si()) : std::nullopt;
  }

  /// The head that an opening does not need is none; a tap that people do not open wide takes what is left.
  void drives(LongReal left_m, std::size_t outlet, LongReal flow_m3s, LongReal grain_m) {
    const auto limit = most(outlet);
    if (limit) not_below_zero(*limit - flow_m3s);
    if (limit && flow_m3s >= *limit - flow_limit_)
      tally_.not_above(-left_m - grain_m);
    else
      tally_.energy(std::max(0.0L, std::fabs(left_m) - grain_m));
  }

  /// An opening gives what the head on it drives, and nothing without head: it is never a source.
  void check_opening(std::size_t o, const Spot& on, LongReal bore_m, LongReal flow_m3s) {
    const auto& outlet = system_.outlets()[o];
    if (shut(o) || !(bore_m > 0.0L)) return tally_.water(flow_m3s);
    if (!on.head_m) return tally_.water(flow_m3s);
    const LongReal loss = opening(bore_m, std::max(LongReal(outlet.loss), 1.0L)),
                   over = *on.head_m - outlet.elevation.metres();
    if (!(flow_m3s > 0.0L)) return tally_.not_above(over);
    // The solver's loss turns linear below Re 0.1 and differs from the square law by at most this much.
    const LongReal small =
        0.1L * system_.site().water.kinematic_viscosity_m2s * 0.785398163397448309616L * bore_m;
    drives(over - loss * flow_m3s * flow_m3s, o, flow_m3s, 0.5L * loss * small * small);
  }

  void check_joint(std::size_t j) {
    const auto& joint = system_.joints()[j];
    const PlaceState& place = state_.joints[j];
    const Spot& spot = this->spot(system_.joint_place(static_cast<int>(j)));
    const LongReal asked = joint.draw.si(), given = place.draw_given_m3s,
                   elevation = joint.elevation.metres();
    balance(spot.net_m3s - given);
    tally_.water(asked - LongReal(place.draw_asked_m3s));
    not_below_zero(given);
    not_below_zero(asked - given);
    if (spot.dry) return tally_.water(given);
    if (!spot.head_m || !place.pressure_head_m) return tally_.energy(endless);
    tally_.energy(*spot.head_m - elevation - LongReal(*place.pressure_head_m));
    // A draw is met in full at any pressure above zero, and gets nothing at a pressure below zero.
    if (flows(asked - given)) tally_.not_above(*spot.head_m - elevation);
    if (flows(given)) tally_.not_above(elevation - *spot.head_m);
  }

  Proof proof() const {
    Proof proof;
    proof.continuity_m3s = static_cast<double>(tally_.water_m3s);
    proof.energy_m = static_cast<double>(tally_.energy_m);
    proof.one_way_m = static_cast<double>(tally_.breach_m);
    proof.consistent = tally_.water_m3s <= flow_limit_ && tally_.energy_m <= Tally::nothing_m &&
                       tally_.breach_m <= Tally::nothing_m;
    proof.extent = {.places = tally_.balances,
                    .lines = tally_.lines,
                    .reaches = tally_.reaches,
                    .not_full = tally_.part_full,
                    .rules = tally_.rules};
    return proof;
  }

  const System& system_;
  const State& state_;
  std::vector<bool> passed_over_;
  std::vector<Spot> spots_;  ///< one a place
  std::vector<CutLine> cut_;
  Tally tally_;
  LongReal total_ = 0, flow_limit_ = 0;
};

}  // namespace

network::Proof check(const network::System& system, const network::State& state) {
  return Check(system, state, {}).run();
}

network::Proof check_apart_from(const std::vector<bool>& passed_over, const network::System& system,
                                const network::State& state) {
  return Check(system, state, passed_over).run();
}

}  // namespace runnel::proof
