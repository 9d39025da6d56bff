#include "runnel/steady/written_state.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/base/index.h"
#include "runnel/network/check_valves.h"
#include "runnel/network/no_flow.h"
#include "runnel/proof/check.h"
#include "runnel/steady/capacity.h"
#include "runnel/steady/link_law.h"
#include "runnel/steady/standing.h"
#include "runnel/steady/static_heads.h"
#include "runnel/steady/trace.h"

namespace runnel::steady {
namespace {

using network::Line;
using network::PlaceKind;
using network::System;

/// Turns the kernel's numbers into an answer about places and pipelines.
class Answer {
 public:
  Answer(const System& system, const Assembly& assembly, const KernelState& solved, bool depths)
      : system_(system),
        assembly_(assembly),
        solved_(solved),
        depths_(depths),
        static_(static_heads(system, assembly)) {}

  State run() {
    state_.outcome = solved_.outcome;
    state_.history = solved_.history;
    find_water();
    for (std::size_t l = 0; l < system_.lines().size(); ++l) write_line(l);
    for (std::size_t b = 0; b < system_.boxes().size(); ++b) write_box(b);
    for (std::size_t t = 0; t < system_.tanks().size(); ++t) write_tank(t);
    for (std::size_t o = 0; o < system_.outlets().size(); ++o) write_outlet(o);
    for (std::size_t j = 0; j < system_.joints().size(); ++j) write_joint(j);
    return std::move(state_);
  }

 private:
  /// Where no water comes, the solver's own figure means nothing but does no harm.
  double head(int node) const { return water_[at(node)].value_or(solved_.head_m[at(node)]); }
  const Line& line(int l) const { return system_.lines()[at(l)]; }
  double line_flow(std::size_t l) const { return clean(solved_.flow_m3s[at(assembly_.line_link[l])]); }
  /// Flows below the solver's own tolerance count as none.
  static double clean(double flow_m3s) {
    return std::abs(flow_m3s) < network::flow_grain_m3s ? 0.0 : flow_m3s;
  }

  void find_water() {
    std::vector<double> flows;
    for (std::size_t l = 0; l < system_.lines().size(); ++l) flows.push_back(line_flow(l));
    water_ = heads_with_water(assembly_, solved_, flows);
  }

  std::optional<double> wet_head(int node) const { return node < 0 ? std::nullopt : water_[at(node)]; }

  void write_line(std::size_t l) {
    const Line& line = system_.lines()[l];
    const LinePlan& plan = assembly_.plans[l];
    const Link& link = assembly_.kernel.links[at(assembly_.line_link[l])];
    LineEnds ends;
    ends.depths = depths_;
    ends.flow_m3s = line_flow(l);
    ends.start_head_m = wet_head(link.a);
    ends.end_head_m = wet_head(link.b);
    if (link.b < 0) {
      ends.end_in_air = true;
      const network::Outlet& outlet = *system_.outlet(line.to);
      ends.end_head_m = outlet.elevation.metres();
      ends.end_s2m5 = opening_s2m5(outlet);
      ends.held_at_tap = held_at_tap(assembly_.line_link[l]);
    }
    const int governs = solved_.control[at(assembly_.line_link[l])];
    ends.mouth_governs = ends.flow_m3s != 0.0 && governs >= 0 && governs == link.mouth(ends.flow_m3s > 0.0);
    LineState state = trace_line(system_, line, plan, ends);
    if (ends.mouth_governs)
      state.mouth_needs_m = ends.flow_m3s > 0.0 ? head(link.a) - plan.course.points().front().elevation_m
                                                : head(link.b) - plan.course.points().back().elevation_m;
    if (link.shut && state.flow_m3s == 0.0) state.condition = LineCondition::shut;
    state.check_valve_shut = ends.flow_m3s == 0.0 && ends.start_head_m && ends.end_head_m &&
                             !ends.end_in_air && *ends.end_head_m > *ends.start_head_m &&
                             has_check_valve(line);
    const bool forward = ends.flow_m3s >= 0.0;
    Link pipe = link;
    if (link.b < 0) pipe.most_m3s = unbounded;  // how far the tap is opened says nothing of the pipe
    const Capacity capacity = carries(assembly_.kernel, pipe, forward ? highest_head(link.a) : head(link.a),
                                      link.b < 0 ? 0.0
                                      : forward  ? head(link.b)
                                                 : highest_head(link.b),
                                      forward);
    state.from_air_m3s = carries_from_air(l, pipe, state, capacity.flow_m3s);
    if (std::isfinite(capacity.flow_m3s))
      state.capacity_m3s = std::max(capacity.flow_m3s, std::abs(ends.flow_m3s));
    if (capacity.control >= 0) {
      const double station = assembly_.kernel.controls[at(capacity.control)].station_m;
      if (station >= 0.0) state.governed_by_station_m = station;
    }
    for (std::size_t i = 0; i < state.points.size(); ++i)
      state.points[i].static_head_m = static_pressure(l, i);
    state_.lines.push_back(std::move(state));
  }

  /// What a line carries from the place that its water leaves, where it does not run full there: over its
  /// beginning stands no more than the velocity head of its capacity. None for other lines.
  std::optional<double> carries_from_air(std::size_t l, const Link& pipe, const LineState& run,
                                         double capacity_m3s) const {
    const bool forward = run.flow_m3s > 0.0;
    if (run.flow_m3s == 0.0 || run.reaches.empty() || !std::isfinite(capacity_m3s)) return std::nullopt;
    const Reach& first = forward ? run.reaches.front() : run.reaches.back();
    if (first.state == ReachState::full) return std::nullopt;
    const auto& points = assembly_.plans[l].course.points();
    const auto& pipes = system_.lines()[l].pipes;
    const double bore_m = (forward ? pipes.front() : pipes.back()).pipe.bore.metres();
    const double velocity_ms = capacity_m3s / (0.25 * pi * bore_m * bore_m);
    const double tee_m = (forward ? points.front() : points.back()).elevation_m +
                         velocity_ms * velocity_ms / (2.0 * gravity_ms2);
    const double end_m = forward && pipe.b < 0 ? 0.0 : head(forward ? pipe.b : pipe.a);
    const Capacity most =
        carries(assembly_.kernel, pipe, forward ? tee_m : end_m, forward ? end_m : tee_m, forward);
    return std::max(most.flow_m3s, std::abs(run.flow_m3s));
  }

  /// How high the water can stand where a line begins: in a box its lip, at a joint its static head. A tank
  /// stays at the level that `flow` takes it to stand at.
  double highest_head(int node) const {
    if (assembly_.kernel.nodes[at(node)].fixed) return head(node);
    return std::max(head(node), static_.node_m[at(node)].value_or(head(node)));
  }

  std::optional<double> static_pressure(std::size_t l, std::size_t i) const {
    const auto& level = static_.line_m[l][i];
    if (!level) return std::nullopt;
    return *level - assembly_.plans[l].course.points()[i].elevation_m;
  }

  void write_box(std::size_t b) {
    const auto& box = system_.boxes()[b];
    const int node = assembly_.nodes_of(PlaceKind::box)[b];
    PlaceState place{.name = box.name, .kind = PlaceKind::box};
    place.spill_m3s = solved_.hold[at(node)] == Hold::lip ? clean(solved_.surplus_m3s[at(node)]) : 0.0;
    place.inflow_m3s = box.yield.si();
    const int here = system_.box_place(static_cast<int>(b));
    for (const int l : system_.lines_at(here)) {
      const double q = line_flow(at(l));
      if (line(l).to == here && q > 0.0) place.inflow_m3s += q;
      if (line(l).from == here && q < 0.0) place.inflow_m3s -= q;
      // The line takes all that comes without running full at the top.
      const LineState& run = state_.lines[at(l)];
      const bool starts = line(l).from == here, leaves = starts ? q > 0.0 : q < 0.0;
      if (leaves && !run.reaches.empty() &&
          (starts ? run.reaches.front() : run.reaches.back()).state != ReachState::full &&
          solved_.hold[at(node)] != Hold::lip)
        place.top_part_full = true;
    }
    place.dry = !water_[at(node)];
    if (!place.dry && !place.top_part_full) place.level_m = head(node);
    if (static_.node_m[at(node)]) place.static_head_m = *static_.node_m[at(node)] - box.outlet.metres();
    state_.boxes.push_back(std::move(place));
  }

  void write_tank(std::size_t t) {
    const auto& tank = system_.tanks()[t];
    PlaceState place{.name = tank.name, .kind = PlaceKind::tank};
    place.level_m = tank.level.metres();
    const int here = system_.tank_place(static_cast<int>(t));
    place.float_shut = floats_shut(here, tank.level);
    for (const int l : system_.lines_at(here))
      place.inflow_m3s += line(l).to == here ? line_flow(at(l)) : -line_flow(at(l));
    state_.tanks.push_back(std::move(place));
  }

  /// Whether the tank has float valves on the lines into it and all of them are shut.
  bool floats_shut(int tank, Length level) const {
    bool some = false;
    for (const int l : system_.lines_at(tank)) {
      if (line(l).to != tank || !line(l).float_valve) continue;
      if (level < line(l).float_valve->shuts_at) return false;
      some = true;
    }
    return some;
  }

  void write_grade(PlaceState& place, int node, double elevation_m) {
    place.dry = !water_[at(node)];
    if (!place.dry) {
      place.grade_m = head(node);
      place.pressure_head_m = *place.grade_m - elevation_m;
    }
    if (static_.node_m[at(node)]) place.static_head_m = *static_.node_m[at(node)] - elevation_m;
  }

  void write_outlet(std::size_t o) {
    const auto& outlet = system_.outlets()[o];
    PlaceState place{.name = outlet.name, .kind = PlaceKind::outlet};
    const int link = assembly_.outlet_link[o];
    if (link >= 0) place.flow_m3s = clean(solved_.flow_m3s[at(link)]);
    const double elevation = outlet.elevation.metres();
    if (system_.hangs_on(static_cast<int>(o)) >= 0 || assembly_.nodes_of(PlaceKind::outlet)[o] >= 0) {
      if (link >= 0) write_grade(place, assembly_.kernel.links[at(link)].a, elevation);
    } else {
      for (const int l : system_.lines_at(system_.outlet_place(static_cast<int>(o)))) {
        const LineState& run = state_.lines[at(l)];
        const auto& last = run.points.back();
        // A line that begins part-full hands on none of the head above it.
        const bool by_air = !run.reaches.empty() && (run.reaches.front().state == ReachState::part_full ||
                                                     run.reaches.front().state == ReachState::mixed);
        const auto left = link < 0 || by_air ? std::nullopt : head_left_at_tap(link, outlet);
        // The head before the opening is what drives the water through it; before a tap that is not opened
        // wide, it is what the line has left.
        if (left)
          place.grade_m = left;
        else if (place.flow_m3s > 0.0)
          // A pipe that ends a little above its tap gives none of that height.
          place.grade_m =
              std::max(elevation, last.elevation_m) + opening_s2m5(outlet) * place.flow_m3s * place.flow_m3s;
        else if (outlet.shut && last.grade_m)
          place.grade_m = last.grade_m;
        place.dry = place.flow_m3s <= 0.0 && !outlet.shut && !left;
        const auto& level = static_.line_m[at(l)].back();
        if (level) place.static_head_m = *level - elevation;
      }
      if (place.grade_m) place.pressure_head_m = *place.grade_m - elevation;
    }
    state_.outlets.push_back(std::move(place));
  }

  /// Whether it lets out all that people want and could let out more.
  bool held_at_tap(int link) const {
    const Link& out = assembly_.kernel.links[at(link)];
    return !out.shut && out.forwards > 0 && out.most_m3s < unbounded && solved_.control[at(link)] < 0;
  }

  /// The head that its line has left before such a tap.
  std::optional<double> head_left_at_tap(int link, const network::Outlet& outlet) const {
    const Link& out = assembly_.kernel.links[at(link)];
    if (!held_at_tap(link) || !water_[at(out.a)]) return std::nullopt;
    const double flow_m3s = solved_.flow_m3s[at(link)];
    const auto& controls = assembly_.kernel.controls;
    const double end_m = controls[out.forward].sink_head_m;
    std::optional<double> left_m;
    // From the upper end, and from each reducing valve on the way.
    for (std::uint32_t c = out.forward; c < out.forward + out.forwards; ++c) {
      const Control& to_end = controls[c];
      const double source_m = to_end.from_node ? head(out.a) : to_end.source_head_m;
      if (to_end.mouth >= 0 || to_end.to_node || to_end.sink_head_m != end_m || !std::isfinite(source_m))
        continue;
      double head_m = source_m;
      if (flow_m3s > 0.0)
        head_m += opening_s2m5(outlet) * flow_m3s * flow_m3s -
                  stretch_loss(assembly_.kernel, out, to_end, flow_m3s).head_m;
      left_m = std::min(left_m.value_or(head_m), head_m);
    }
    return left_m && *left_m > outlet.elevation.metres() ? left_m : std::nullopt;
  }

  void write_joint(std::size_t j) {
    const auto& joint = system_.joints()[j];
    const int node = assembly_.nodes_of(PlaceKind::joint)[j];
    PlaceState place{.name = joint.name, .kind = PlaceKind::joint};
    write_grade(place, node, joint.elevation.metres());
    place.draw_asked_m3s = joint.draw.si();
    const Hold hold = solved_.hold[at(node)];
    place.draw_given_m3s = hold == Hold::draw_none    ? 0.0
                           : hold == Hold::draw_short ? clean(solved_.surplus_m3s[at(node)])
                                                      : joint.draw.si();
    state_.joints.push_back(std::move(place));
  }

  const System& system_;
  const Assembly& assembly_;
  const KernelState& solved_;
  bool depths_;
  StaticHeads static_;
  std::vector<std::optional<double>> water_;  ///< head of every node that has water
  State state_;
};

}  // namespace

State write_state(const System& system, const Assembly& assembly, const KernelState& solved, bool depths) {
  return Answer(system, assembly, solved, depths).run();
}

State write_proved(const System& system, const Assembly& assembly, const KernelState& solved, bool depths) {
  State state = write_state(system, assembly, solved, depths);
  state.proof = proof::check(system, state);
  return state;
}

}  // namespace runnel::steady
