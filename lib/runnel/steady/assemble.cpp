#include "runnel/steady/assemble.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "runnel/base/constants.h"
#include "runnel/network/place_state.h"
#include "runnel/steady/kernel_solver.h"

namespace runnel::steady {
namespace {

using network::System;

class LineAssembler {
 public:
  LineAssembler(Kernel& kernel, const LinePlan& plan, Link& link, double viscosity_m2s, double opening_bore_m,
                bool fill_up)
      : kernel_(kernel), plan_(plan), link_(link), fill_up_(fill_up) {
    link_.term = static_cast<std::uint32_t>(kernel_.terms.size());
    link_.terms = static_cast<std::uint32_t>(plan.friction.size());
    kernel_.terms.insert(kernel_.terms.end(), plan.friction.begin(), plan.friction.end());
    double least_bore = unbounded;
    for (const auto& f : plan.friction) least_bore = std::min(least_bore, f.bore_m());
    link_.start_m3s = 0.3 * pi * least_bore * least_bore / 4.0;  // 0.3 m/s: the slope of the first step
    // Local losses turn linear below Re = 0.1, where they are less than 1e-9 m, to have a slope at zero flow.
    link_.smooth_m3s = 0.1 * viscosity_m2s * pi * std::min(least_bore, opening_bore_m) / 4.0;
  }

  /// Adds the controls of one direction and returns how many. `end_head`: the far end's fixed head, if that
  /// end is not a node. `end_s2m5`: loss of an opening behind the last vertex.
  std::uint32_t add(bool forward, bool floors, const double* end_head, double end_s2m5) {
    const PassedPlan p(plan_, forward);
    const std::size_t last = p.last();
    const std::size_t before = kernel_.controls.size();
    const double exit = p.exit_s2m5() + end_s2m5;
    // From the upstream place, and from each reducing valve, to the end.
    add_control(p, 0, last, nullptr, end_head, p.entrance_s2m5() + exit, -1.0);
    if (floors) add_floors(p, 0, nullptr, p.entrance_s2m5(), exit);
    if (forward)
      for (std::size_t s = 0; s <= last; ++s)
        if (p.vertex(s).holds_m) {
          const double set = *p.vertex(s).holds_m;
          add_control(p, s, last, &set, end_head, exit - p.local_s2m5(s), p.passage.point(s).station_m);
          if (floors) add_floors(p, s, &set, -p.local_s2m5(s), exit);
        }
    if (fill_up_) add_idle(before + most_controls(forward, floors));
    return static_cast<std::uint32_t>(kernel_.controls.size() - before);
  }

 private:
  /// One control from end to end and a floor at every vertex, and the same again for every reducing valve.
  std::size_t most_controls(bool forward, bool floors) const {
    const auto& all = plan_.vertices;
    const auto valves = static_cast<std::size_t>(
        forward ? std::count_if(all.begin(), all.end(), [](const Vertex& v) { return v.holds_m.has_value(); })
                : 0);
    return (1 + valves) * (1 + (floors ? all.size() : 0));
  }

  void add_idle(std::size_t up_to) {
    while (kernel_.controls.size() < up_to) {
      kernel_.controls.push_back(
          KernelSolver::idle({.lengths = static_cast<std::uint32_t>(kernel_.lengths_m.size())}));
      kernel_.lengths_m.resize(kernel_.lengths_m.size() + link_.terms, 0.0);
    }
  }

  void add_control(const PassedPlan& p, std::size_t from, std::size_t to, const double* source,
                   const double* sink, double extra_s2m5, double station_m) {
    Control control;
    control.lengths = static_cast<std::uint32_t>(kernel_.lengths_m.size());
    std::vector<double> lengths(link_.terms, 0.0);
    double local = extra_s2m5;
    for (std::size_t i = from; i < to; ++i) {
      lengths[static_cast<std::size_t>(p.passage.pipe(i))] += p.passage.length_m(i);
      local += p.local_s2m5(i);
    }
    local += p.local_s2m5(to);  // the floor holds just behind a part, where the pressure is lowest
    // A valve at the very end still has a body about one bore long; without it the law would be a step.
    if (from == to && local <= 0.0) {
      const auto pipe = static_cast<std::size_t>(p.passage.point(to).pipe);
      lengths[pipe] += plan_.friction[pipe].bore_m();
    }
    control.quadratic_s2m5 = std::max(local, 0.0);
    control.from_node = source == nullptr;
    if (source) control.source_head_m = *source;
    control.to_node = sink == nullptr;
    if (sink) control.sink_head_m = *sink;
    control.station_m = station_m;
    kernel_.lengths_m.insert(kernel_.lengths_m.end(), lengths.begin(), lengths.end());
    kernel_.controls.push_back(control);
  }

  /// Floors at vertices from `from` on that could ever govern. The velocity head is taken off there:
  /// what sinks to the pipe's own height is the pressure, not the energy.
  void add_floors(const PassedPlan& p, std::size_t from, const double* source, double extra_s2m5,
                  double exit_s2m5) {
    const std::size_t last = p.last();
    std::vector<std::size_t> kept;
    auto taken_off = [&](std::size_t i) {
      const Vertex& v = p.vertex(i);
      if (i == last) {
        // Into a joint, and wherever the exit loses less than the velocity head, it is the pressure in the
        // pipe that sinks to its height. The setting of a valve at the very end applies behind that valve.
        const bool held = p.forward && v.holds_m;
        return held ? exit_s2m5 : std::max(exit_s2m5, v.narrower_s2m5() - p.local_s2m5(i));
      }
      if (i != from) return v.over_floor_s2m5(p.forward);
      return p.forward ? v.behind_s2m5 : v.before_s2m5;  // no pipe lies before the first vertex
    };
    for (std::size_t i = last + 1; i-- > from;) {
      const bool later_asks_more = std::any_of(kept.begin(), kept.end(), [&](std::size_t k) {
        return p.vertex(k).floor_m >= p.vertex(i).floor_m && taken_off(k) >= taken_off(i);
      });
      if (!later_asks_more || i == from) kept.push_back(i);
    }
    std::reverse(kept.begin(), kept.end());
    std::vector<std::size_t> hull;
    for (std::size_t i : kept) {
      while (hull.size() >= 2 && below_chord(p, hull[hull.size() - 2], hull.back(), i)) hull.pop_back();
      hull.push_back(i);
    }
    for (std::size_t i : hull) {
      const double sink = p.vertex(i).floor_m;
      const double behind = taken_off(i);
      add_control(p, from, i, source, &sink, extra_s2m5 + behind, p.passage.point(i).station_m);
    }
  }

  /// With one bore the asked head at the middle point, linear in the loss per metre, is never the most.
  static bool below_chord(const PassedPlan& p, std::size_t i, std::size_t j, std::size_t k) {
    if (k == p.last()) return false;  // its exit differs
    double to_j = 0.0, to_k = 0.0;
    for (std::size_t r = i; r < k; ++r) {
      if (p.passage.pipe(r) != p.passage.pipe(i)) return false;
      (r < j ? to_j : to_k) += p.passage.length_m(r);
    }
    const double t = to_j / (to_j + to_k);
    for (std::size_t r = i + 1; r <= j; ++r)
      if (p.local_s2m5(r) != 0.0) return false;
    const double zi = p.vertex(i).floor_m, zj = p.vertex(j).floor_m, zk = p.vertex(k).floor_m;
    return zj <= zi + t * (zk - zi);
  }

  Kernel& kernel_;
  const LinePlan& plan_;
  Link& link_;
  bool fill_up_;
};

/// Slope of the first stretch of pipe behind a mouth: its fall over its length.
double mouth_slope(const LinePlan& plan, bool forward) {
  const network::Passage passage(plan.course, !forward);
  for (std::size_t i = 0; i + 1 < passage.size(); ++i)
    if (passage.length_m(i) > 0.0)
      return (passage.elevation_m(i) - passage.elevation_m(i + 1)) / passage.length_m(i);
  return 0.0;
}

class Assembler {
 public:
  Assembler(const System& system, AssemblyOptions options) : system_(system), options_(options) {
    out_.kinematic_viscosity_m2s = system.site().water.kinematic_viscosity_m2s;
  }

  Assembly run_one(int line) {
    add_places();
    add_line(system_.lines()[static_cast<std::size_t>(line)]);
    return std::move(out_);
  }

  Assembly run() {
    add_places();
    for (const auto& line : system_.lines()) add_line(line);
    add_openings();
    return std::move(out_);
  }

 private:
  void add_node(int place, const KernelNode& node) {
    node_[static_cast<std::size_t>(place)] = static_cast<int>(out_.kernel.nodes.size());
    out_.kernel.nodes.push_back(node);
  }
  int node(int place) const { return node_[static_cast<std::size_t>(place)]; }

  void add_places() {
    node_.assign(static_cast<std::size_t>(system_.places()), -1);
    int place = 0;
    for (const auto& box : system_.boxes())
      add_node(place++, {.inflow_m3s = box.yield.si(), .lip_m = box.lip.metres()});
    for (const auto& tank : system_.tanks())
      add_node(place++, {.fixed = true, .head_m = tank.level.metres()});
    for (std::size_t j = 0; j < system_.joints().size(); ++j) {
      const auto& joint = system_.joints()[j];
      KernelNode node{.draw_m3s = joint.draw.si()};
      if (options_.floors) node.draw_floor_m = joint.elevation.metres();
      add_node(system_.joint_place(static_cast<int>(j)), node);
    }
    for (std::size_t o = 0; o < system_.outlets().size(); ++o) {
      const int outlet = static_cast<int>(o);
      const bool own_node = system_.hangs_on(outlet) < 0 && !ends_one_line(system_.outlet_place(outlet));
      if (own_node) add_node(system_.outlet_place(outlet), {});
      out_.outlet_link.push_back(-1);
    }
    for (int p = 0; p < system_.places(); ++p)
      out_.kind_nodes[static_cast<std::size_t>(system_.kind(p))].push_back(node(p));
  }

  /// Whether a place is the end of one line and nothing else.
  bool ends_one_line(int place) const {
    const auto& lines = system_.lines_at(place);
    return lines.size() == 1 && system_.lines()[static_cast<std::size_t>(lines[0])].to == place;
  }

  void add_line(const network::Line& line) {
    LinePlan plan = plan_line(system_, line);
    if (options_.for_filling) keep_above_floors(line, plan);
    Link link;
    link.a = node(line.from);
    link.shut = plan.shut;
    const double* end_head = nullptr;
    double end = 0.0, elevation = 0.0, opening_bore = unbounded;
    if (node(line.to) >= 0) {
      link.b = node(line.to);
    } else {
      const auto o = static_cast<std::size_t>(system_.place(line.to).index);
      const auto& outlet = system_.outlets()[o];
      elevation = outlet.elevation.metres();
      end_head = &elevation;
      end = opening_s2m5(outlet);
      if (end > 0.0) opening_bore = outlet.opening.metres();
      Link tap;
      set_tap(system_, static_cast<int>(o), tap);
      link.shut = link.shut || tap.shut;
      link.most_m3s = tap.most_m3s;
      out_.outlet_link[o] = static_cast<int>(out_.kernel.links.size());
    }
    if (const auto* tank = system_.tank(line.to); tank && line.float_valve)
      add_float(*line.float_valve, *tank, plan, link);
    LineAssembler assembler(out_.kernel, plan, link, out_.kinematic_viscosity_m2s, opening_bore,
                            options_.room_for_changes);
    link.forward = static_cast<std::uint32_t>(out_.kernel.controls.size());
    link.forwards = assembler.add(true, options_.floors, end_head, end);
    if (options_.floors && open_water(line.from)) add_mouth(line, plan, true, link);
    if (!plan.one_way) {
      link.backward = static_cast<std::uint32_t>(out_.kernel.controls.size());
      link.backwards = assembler.add(false, options_.floors, nullptr, 0.0);
      if (options_.floors && open_water(line.to)) add_mouth(line, plan, false, link);
    }
    smooth_no_more_than_rounding(link);
    out_.line_link.push_back(static_cast<int>(out_.kernel.links.size()));
    out_.kernel.links.push_back(link);
    out_.plans.push_back(std::move(plan));
  }

  bool open_water(int place) const { return network::open_water(system_.kind(place)); }

  /// Adds the mouth in a box or tank as the last control of its direction: hardly covered, it lets in less
  /// than the line would carry.
  void add_mouth(const network::Line& line, const LinePlan& plan, bool forward, Link& link) {
    const auto& points = plan.course.points();
    const network::CoursePoint& first = forward ? points.front() : points.back();
    const double bore_m = plan.friction[static_cast<std::size_t>(first.pipe)].bore_m();
    Kernel& kernel = out_.kernel;
    (forward ? link.forward_mouth : link.backward_mouth) = static_cast<int>(kernel.controls.size());
    ++(forward ? link.forwards : link.backwards);
    kernel.controls.push_back({.sink_head_m = first.elevation_m,
                               .lengths = static_cast<std::uint32_t>(kernel.lengths_m.size()),
                               .to_node = false,
                               .station_m = first.station_m,
                               .mouth = static_cast<int>(kernel.mouths.size())});
    kernel.lengths_m.resize(kernel.lengths_m.size() + link.terms, 0.0);
    kernel.mouths.emplace_back(losses::Mouth(line.mouth, bore_m, mouth_slope(plan, forward)), bore_m);
  }

  /// Lifts the ends of a line to the floors of its tanks: within the tolerance that `validate` allows, a
  /// survey may begin or end below them.
  void keep_above_floors(const network::Line& line, LinePlan& plan) const {
    const auto floor_m = [&](int place) {
      const network::Tank* tank = system_.tank(place);
      return tank ? tank->floor.metres() : -unbounded;
    };
    const double start_m = floor_m(line.from), end_m = floor_m(line.to);
    plan.course = plan.course.with_ends_above(start_m, end_m);
    plan.vertices.front().floor_m = std::max(plan.vertices.front().floor_m, start_m);
    plan.vertices.back().floor_m = std::max(plan.vertices.back().floor_m, end_m);
  }

  /// Smooths a very great loss (a valve nearly shut) over a smaller flow, since smoothing changes the loss by
  /// up to m s^2 / 2: this keeps that below 1e-11 m, the rounding of heads.
  void smooth_no_more_than_rounding(Link& link) {
    double most_s2m5 = 0.0;
    for (std::size_t c = link.forward; c < out_.kernel.controls.size(); ++c)
      most_s2m5 = std::max(most_s2m5, out_.kernel.controls[c].quadratic_s2m5);
    if (most_s2m5 > 0.0) link.smooth_m3s = std::min(link.smooth_m3s, std::sqrt(2e-11 / most_s2m5));
  }

  /// A float valve lets just the draws through when the water stands at its level, nothing when it stands
  /// higher, and is open when it stands lower.
  void add_float(const network::FloatValve& valve, const network::Tank& tank, LinePlan& plan,
                 Link& link) const {
    const double area = plan.friction[static_cast<std::size_t>(plan.course.points().back().pipe)].area_m2();
    plan.exit_s2m5 += valve.loss / (2.0 * gravity_ms2 * area * area);
    plan.one_way = plan.vertices.back().keeps_back = true;
    if (options_.for_filling || tank.level < valve.shuts_at) return;
    double draws = 0.0;
    for (const auto& draw : tank.draws) draws += draw.flow.si();
    if (tank.level == valve.shuts_at && draws > 0.0)
      link.most_m3s = draws;
    else
      link.shut = true;
  }

  void add_openings() {
    for (std::size_t o = 0; o < system_.outlets().size(); ++o) {
      const auto& outlet = system_.outlets()[o];
      if (out_.outlet_link[o] >= 0) continue;
      const int on = system_.hangs_on(static_cast<int>(o));
      const int node = this->node(on < 0 ? system_.outlet_place(static_cast<int>(o)) : on);
      // Several lines meeting in one open end: the end's own bore is that of the widest of them.
      double bore = outlet.opening.metres();
      if (bore <= 0.0)
        for (const int l : system_.lines_at(system_.outlet_place(static_cast<int>(o))))
          bore = std::max(bore, system_.lines()[static_cast<std::size_t>(l)].pipes.back().pipe.bore.metres());
      if (bore <= 0.0) continue;  // no line reaches it
      out_.outlet_link[o] = out_.kernel.add_opening(node, outlet.elevation.metres(), bore,
                                                    std::max(outlet.loss, 1.0), out_.kinematic_viscosity_m2s);
      set_tap(system_, static_cast<int>(o), out_.kernel.links.back());
    }
  }

  const System& system_;
  AssemblyOptions options_;
  Assembly out_;
  std::vector<int> node_;  ///< place -> node; -1: the place has none of its own
};

}  // namespace

void set_tap(const System& system, int outlet, Link& opening) {
  const auto& most = system.lets_out(outlet);
  opening.most_m3s = most ? most->si() : unbounded;
  opening.shut = system.outlets()[static_cast<std::size_t>(outlet)].shut || !(opening.most_m3s > 0.0);
}

Assembly assemble(const System& system, AssemblyOptions options) { return Assembler(system, options).run(); }

void put_column(Assembly& assembly, std::size_t line, bool forward, std::shared_ptr<const ColumnLaw> law) {
  Link& link = assembly.kernel.links[static_cast<std::size_t>(assembly.line_link[line])];
  (forward ? link.forward_column : link.backward_column) = static_cast<int>(assembly.kernel.columns.size());
  assembly.kernel.columns.push_back(std::move(law));
}

void put_behind_valve(Assembly& assembly, std::size_t line, double station_m,
                      std::shared_ptr<const ColumnLaw> law) {
  Kernel& kernel = assembly.kernel;
  Link& link = kernel.links[static_cast<std::size_t>(assembly.line_link[line])];
  double holds_m = 0.0;
  const LinePlan& plan = assembly.plans[line];
  for (std::size_t i = 0; i < plan.vertices.size(); ++i)
    if (plan.course.points()[i].station_m == station_m && plan.vertices[i].holds_m)
      holds_m = *plan.vertices[i].holds_m;
  // Floors behind an earlier valve may stand at the same station, but hang on that valve's head.
  std::uint32_t control = link.forward;
  for (const Control* c = &kernel.controls[control];
       c->from_node || c->station_m != station_m || c->source_head_m != holds_m; ++c)
    ++control;
  if (link.behind_valves == 0) link.behind_valve = static_cast<std::uint32_t>(kernel.behind_valves.size());
  ++link.behind_valves;
  kernel.behind_valves.push_back({control, static_cast<int>(kernel.columns.size())});
  kernel.columns.push_back(std::move(law));
}

Assembly assemble_line(const System& system, int line, AssemblyOptions options) {
  return Assembler(system, options).run_one(line);
}

}  // namespace runnel::steady
