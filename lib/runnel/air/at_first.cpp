#include "runnel/air/at_first.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <set>

#include "runnel/air/check_at_first.h"
#include "runnel/air/clearing.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/newton.h"
#include "runnel/steady/pocket_law.h"
#include "runnel/steady/standing.h"
#include "runnel/steady/written_state.h"

namespace runnel::air {
namespace {

using steady::PocketCourse;
using steady::PocketLaw;

constexpr double nothing_m3s = 1e-12;  ///< flows below the solver's tolerance are none

/// A pipeline in one direction with the air that stands in it.
struct Column {
  std::size_t line = 0;
  bool forward = true;
  PocketCourse course;            ///< with every pocket
  std::vector<std::size_t> held;  ///< indices into the held air, one a pocket of the course
};

class AirStates {
 public:
  AirStates(const network::System& system, std::vector<HeldAir> held)
      : system_(system), held_(std::move(held)), assembly_(steady::assemble(system)) {
    for (std::size_t h = 0; h < held_.size(); ++h) add(h);
  }

  const std::vector<std::size_t>& not_followed() const { return not_followed_; }
  bool holds() const { return !columns_.empty(); }

  AirState solve(const std::set<int>& gone, steady::Compression compression) const {
    steady::Assembly with_air = assembly_;
    std::vector<std::shared_ptr<const PocketLaw>> laws;
    for (const Column& column : columns_) {
      laws.push_back(std::make_shared<PocketLaw>(left(column, gone), compression));
      if (laws.back()->course().pockets.empty()) continue;
      steady::put_column(with_air, column.line, column.forward, laws.back());
    }
    const steady::KernelState solved = steady::solve(with_air.kernel);
    AirState state;
    state.settled = solved.outcome == steady::Outcome::settled &&
                    std::all_of(solved.head_m.begin(), solved.head_m.end(),
                                [](double head_m) { return std::isfinite(head_m); });
    if (!state.settled) return state;
    write_runs(with_air, solved, state);
    for (std::size_t c = 0; c < columns_.size(); ++c) write_air(columns_[c], *laws[c], gone, state);
    state.state = steady::write_state(system_, with_air, solved);
    state.proof = check_at_first(system_, state, compression == steady::Compression::isothermal);
    return state;
  }

  /// The bodies that a law says the flows of a state carry off, of those still there.
  std::set<int> carried(ClearingLaw law, const AirState& state, const std::set<int>& gone) const {
    std::set<int> moved, stays;
    for (const Column& column : columns_) {
      const double along =
          column.forward ? state.runs[column.line].flow_m3s : -state.runs[column.line].flow_m3s;
      for (std::size_t k = 0; k < column.held.size(); ++k) {
        const int body = held_[column.held[k]].body;
        if (gone.count(body)) continue;
        const bool goes = along > carrying_flow_m3s(law, column.course, column.course.pockets[k]);
        (goes ? moved : stays).insert(body);
      }
    }
    for (const int body : stays) moved.erase(body);
    return moved;
  }

  bool in_range(ClearingLaw law) const {
    return std::all_of(columns_.begin(), columns_.end(),
                       [&](const Column& column) { return law_in_range(law, column.course); });
  }

 private:
  void add(std::size_t h) {
    const HeldAir& air = held_[h];
    const bool forward = !air.reversed;
    if (behind_valve(air)) {
      if (not_followed_.empty() || not_followed_.back() != air.line) not_followed_.push_back(air.line);
      return;
    }
    if (columns_.empty() || columns_.back().line != air.line || columns_.back().forward != forward) {
      const auto link = link_of(air.line);
      if ((forward ? link.forwards : link.backwards) == 0) return;  // nothing flows that way
      columns_.push_back({air.line, forward, course(air.line, forward), {}});
    }
    Column& column = columns_.back();
    const auto along_m = [&](double own_m) {
      const auto& vertices = assembly_.plans[air.line].vertices;
      return forward ? own_m : vertices.back().station_m - own_m;
    };
    steady::ShutAir shut{
        .crest = point_at(column.course, along_m(air.crest_station_m), air.crest_elevation_m),
        .low = point_at(column.course, along_m(air.low_station_m), air.low_elevation_m),
        .volume_m3 = air.start_volume_m3,
        .before_m3 = air.before_m3};
    if (!column.course.pockets.empty()) shut.crest = std::max(shut.crest, column.course.pockets.back().low);
    if (shut.crest >= shut.low) return;
    column.course.pockets.push_back(shut);
    column.held.push_back(h);
  }

  /// Air that begins where the line begins leaves one bore of it full (air/check_at_first.h says the same):
  /// without any friction before the air, the law would be a step.
  static void fill_mouth(PocketCourse& course) {
    course.points.insert(course.points.begin(), course.points.front());
    course.points.front().local_s2m5 = 0.0;
    const int pipe = course.reaches.front().pipe;
    course.reaches.insert(course.reaches.begin(),
                          {course.pipes[static_cast<std::size_t>(pipe)].bore_m(), pipe});
    for (steady::ShutAir& air : course.pockets) ++air.crest, ++air.low;
  }

  /// What the valve holds is the head such a pocket has, whatever stands at the ends: another law.
  bool behind_valve(const HeldAir& air) const {
    const auto& vertices = assembly_.plans[air.line].vertices;
    return !air.reversed && std::any_of(vertices.begin(), vertices.end(), [&](const steady::Vertex& v) {
      return v.holds_m && v.station_m < air.low_station_m;
    });
  }

  steady::Link link_of(std::size_t line) const {
    return assembly_.kernel.links[static_cast<std::size_t>(assembly_.line_link[line])];
  }

  PocketCourse course(std::size_t line, bool forward) const {
    const steady::LinePlan& plan = assembly_.plans[line];
    const double atmosphere_m = system_.site().atmospheric_head_m();
    const steady::Link link = link_of(line);
    double opening_s2m5 = 0.0;
    if (link.b < 0) opening_s2m5 = steady::opening_s2m5(*system_.outlet(system_.lines()[line].to));
    PocketCourse course =
        forward ? course_of(plan, atmosphere_m, opening_s2m5) : course_back(plan, atmosphere_m);
    course.smooth_m3s = link.smooth_m3s;
    return course;
  }

  PocketCourse left(const Column& column, const std::set<int>& gone) const {
    std::vector<int> out;
    for (std::size_t k = 0; k < column.held.size(); ++k)
      if (gone.count(held_[column.held[k]].body)) out.push_back(static_cast<int>(k));
    PocketCourse course = without_pockets(column.course, out);
    if (!course.pockets.empty() && course.pockets.front().crest == 0) fill_mouth(course);
    return course;
  }

  void write_runs(const steady::Assembly& with_air, const steady::KernelState& solved,
                  AirState& state) const {
    std::vector<double> flows;
    for (const int link : with_air.line_link) {
      const double flow_m3s = solved.flow_m3s[static_cast<std::size_t>(link)];
      flows.push_back(std::abs(flow_m3s) < nothing_m3s ? 0.0 : flow_m3s);
    }
    const auto heads = steady::heads_with_water(with_air, solved, flows);
    for (std::size_t l = 0; l < flows.size(); ++l) {
      const steady::Link link = link_of(l);
      AirRun run;
      run.flow_m3s = flows[l];
      run.velocity_ms = std::abs(run.flow_m3s) / assembly_.plans[l].friction.front().area_m2();
      run.start_head_m = heads[static_cast<std::size_t>(link.a)];
      if (link.b >= 0)
        run.end_head_m = heads[static_cast<std::size_t>(link.b)];
      else
        run.end_head_m = system_.outlet(system_.lines()[l].to)->elevation.metres();
      state.runs.push_back(run);
    }
  }

  void write_air(const Column& column, const PocketLaw& law, const std::set<int>& gone,
                 AirState& state) const {
    const AirRun& run = state.runs[column.line];
    const double flow_m3s = std::max(column.forward ? run.flow_m3s : -run.flow_m3s, 0.0);
    const auto& sink = column.forward ? run.end_head_m : run.start_head_m;
    const auto running = law.pockets(flow_m3s, sink.value_or(column.course.points.back().floor_m));
    auto at = running.begin();
    for (const std::size_t h : column.held) {
      if (gone.count(held_[h].body)) continue;
      state.air.push_back({held_[h], at->interface_m, at->gauge_head_m, at->volume_m3, at->head_taken_m});
      ++at;
    }
  }

  const network::System& system_;
  std::vector<HeldAir> held_;
  steady::Assembly assembly_;
  std::vector<Column> columns_;
  std::vector<std::size_t> not_followed_;
};

}  // namespace

std::vector<std::size_t> AtFirst::ends() const {
  std::set<std::size_t> found, any;
  for (const LawEnd& end : laws) {
    any.insert(end.state);
    if (end.in_range) found.insert(end.state);
  }
  const auto& said = found.empty() ? any : found;
  return {said.begin(), said.end()};
}

bool AtFirst::proved() const {
  const auto right = [](const AirState& s) { return s.settled && s.proof.consistent; };
  return std::all_of(states.begin(), states.end(), right) && right(uncompressed);
}

std::optional<AtFirst> at_first(const network::System& system, const std::vector<Way>& ways) {
  const bool some_start = std::any_of(ways.begin(), ways.end(), [](const Way& way) {
    return way.start.verdict != StartVerdict::blocked &&
           std::any_of(way.start.pockets.begin(), way.start.pockets.end(),
                       [](const Pocket& p) { return !p.vented && p.volume_start_m3 > 0.0; });
  });
  if (!some_start) return std::nullopt;
  const AirStates solver(system, held_air(system, ways));
  AtFirst result;
  result.not_followed = solver.not_followed();
  result.uncompressed = solver.solve({}, steady::Compression::none);
  std::map<std::set<int>, std::size_t> known;  // what is gone -> its state
  const auto state_without = [&](const std::set<int>& gone) {
    const auto [at, fresh] = known.emplace(gone, result.states.size());
    if (fresh) result.states.push_back(solver.solve(gone, steady::Compression::isothermal));
    return at->second;
  };
  state_without({});
  for (const LawCard& card : clearing_laws()) {
    std::set<int> gone;
    LawEnd end{card.law, solver.in_range(card.law), 0};
    while (result.states[end.state].settled) {
      const std::set<int> moved = solver.carried(card.law, result.states[end.state], gone);
      if (moved.empty()) break;
      gone.insert(moved.begin(), moved.end());
      end.state = state_without(gone);
    }
    result.laws.push_back(end);
  }
  return result;
}

}  // namespace runnel::air
