#include "runnel/air/air_states.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "runnel/air/check_at_first.h"
#include "runnel/air/clearing.h"
#include "runnel/network/no_flow.h"
#include "runnel/steady/newton.h"
#include "runnel/steady/standing.h"
#include "runnel/steady/written_state.h"

namespace runnel::air {
namespace {

using steady::PocketCourse;
using steady::PocketLaw;

}  // namespace

AirStates::AirStates(const network::System& system, std::vector<HeldAir> held)
    : system_(system), held_(std::move(held)), assembly_(steady::assemble(system)) {
  for (std::size_t h = 0; h < held_.size(); ++h) add(h);
  for (Column& column : columns_)
    for (const steady::ShutAir& air : column.course.pockets) {
      column.carrying_m3s.emplace_back();
      for (const LawCard& card : clearing_laws())
        column.carrying_m3s.back().push_back(carrying_flow_m3s(card.law, column.course, air));
    }
}

AirState AirStates::solve(const Bodies& gone, steady::Compression compression) const {
  const Solved solved = find(gone, compression);
  AirState state;
  state.settled = solved.settled;
  if (!state.settled) return state;
  write_runs(solved, state);
  for (std::size_t c = 0; c < columns_.size(); ++c) write_air(columns_[c], *solved.laws[c], gone, state);
  state.state = steady::write_state(system_, solved.assembly, solved.kernel);
  state.proof = check_at_first(system_, state, compression == steady::Compression::isothermal);
  return state;
}

Bodies AirStates::carried_off(ClearingLaw law, Bodies gone) {
  const auto& cards = clearing_laws();
  const auto card =
      std::find_if(cards.begin(), cards.end(), [law](const LawCard& c) { return c.law == law; });
  while (true) {
    const std::vector<double>& flow_m3s = flows_without(gone);
    if (flow_m3s.empty()) return gone;
    const Bodies moved = carried(static_cast<std::size_t>(card - cards.begin()), flow_m3s, gone);
    if (moved.empty()) return gone;
    gone.insert(moved.begin(), moved.end());
  }
}

bool AirStates::in_range(ClearingLaw law) const {
  return std::all_of(columns_.begin(), columns_.end(),
                     [&](const Column& column) { return law_in_range(law, column.course); });
}

AirStates::Solved AirStates::find(const Bodies& gone, steady::Compression compression) const {
  Solved solved;
  solved.assembly = assembly_;
  for (const Column& column : columns_) {
    solved.laws.push_back(std::make_shared<PocketLaw>(left(column, gone), compression));
    if (!solved.laws.back()->course().pockets.empty())
      put_laws(column, solved.laws.back(), compression, solved.assembly);
  }
  solved.kernel = steady::solve(solved.assembly.kernel);
  solved.settled = solved.kernel.outcome == steady::Outcome::settled &&
                   std::all_of(solved.kernel.head_m.begin(), solved.kernel.head_m.end(),
                               [](double head_m) { return std::isfinite(head_m); });
  return solved;
}

/// Puts the law of the whole line and one for each reducing valve with air behind it; the least governs.
void AirStates::put_laws(const Column& column, const std::shared_ptr<const PocketLaw>& law,
                         steady::Compression compression, steady::Assembly& assembly) const {
  steady::put_column(assembly, column.line, column.forward, law);
  const auto& vertices = assembly_.plans[column.line].vertices;
  for (std::size_t v = 0; column.forward && v < vertices.size(); ++v) {
    const int point = static_cast<int>(v);
    if (!vertices[v].holds_m || law->course().pockets.back().crest <= point) continue;
    steady::put_behind_valve(assembly, column.line, assembly_.plans[column.line].course.points()[v].station_m,
                             std::make_shared<PocketLaw>(course_from(law->course(), point), compression));
  }
}

std::vector<double> AirStates::line_flows(const Solved& solved) const {
  std::vector<double> flows;
  for (const int link : solved.assembly.line_link) {
    const double flow_m3s = solved.kernel.flow_m3s[static_cast<std::size_t>(link)];
    flows.push_back(std::abs(flow_m3s) < network::flow_grain_m3s ? 0.0 : flow_m3s);
  }
  return flows;
}

/// Flows are remembered, since several laws pass through the same states.
const std::vector<double>& AirStates::flows_without(const Bodies& gone) {
  const auto [at, fresh] = known_m3s_.try_emplace(gone);
  if (fresh) {
    const Solved solved = find(gone, steady::Compression::isothermal);
    if (solved.settled) at->second = line_flows(solved);
  }
  return at->second;
}

/// Of the bodies still there, those that these flows carry off by a law: every part of them must go.
Bodies AirStates::carried(std::size_t law, const std::vector<double>& flow_m3s, const Bodies& gone) const {
  Bodies moved, stays;
  for (const Column& column : columns_) {
    const double along = column.forward ? flow_m3s[column.line] : -flow_m3s[column.line];
    for (std::size_t k = 0; k < column.held.size(); ++k) {
      const int body = held_[column.held[k]].body;
      if (!gone.count(body)) (along > column.carrying_m3s[k][law] ? moved : stays).insert(body);
    }
  }
  for (const int body : stays) moved.erase(body);
  return moved;
}

void AirStates::add(std::size_t h) {
  const HeldAir& air = held_[h];
  const bool forward = !air.reversed;
  if (about_valve(air)) {
    if (not_followed_.empty() || not_followed_.back() != air.line) not_followed_.push_back(air.line);
    return;
  }
  if (columns_.empty() || columns_.back().line != air.line || columns_.back().forward != forward) {
    const auto link = link_of(air.line);
    if ((forward ? link.forwards : link.backwards) == 0) return;  // nothing flows that way
    columns_.push_back({air.line, forward, course(air.line, forward), {}});
  }
  Column& column = columns_.back();
  const network::Passage& passage = column.course.passage;
  const auto point_at = [&](double own_m, double elevation_m) {
    return static_cast<int>(passage.nearest(passage.legs().front().along_m(own_m), elevation_m));
  };
  steady::ShutAir shut{.crest = point_at(air.crest_station_m, air.crest_elevation_m),
                       .low = point_at(air.low_station_m, air.low_elevation_m),
                       .volume_m3 = air.start_volume_m3,
                       .before_m3 = air.before_m3};
  if (!column.course.pockets.empty()) shut.crest = std::max(shut.crest, column.course.pockets.back().low);
  if (shut.crest >= shut.low) return;
  column.course.pockets.push_back(shut);
  column.held.push_back(h);
}

bool AirStates::about_valve(const HeldAir& air) const {
  if (air.reversed) return false;
  const steady::LinePlan& plan = assembly_.plans[air.line];
  for (std::size_t v = 0; v < plan.vertices.size(); ++v) {
    const double station_m = plan.course.points()[v].station_m;
    if (plan.vertices[v].holds_m && station_m >= air.crest_station_m && station_m < air.low_station_m)
      return true;
  }
  return false;
}

steady::Link AirStates::link_of(std::size_t line) const {
  return assembly_.kernel.links[static_cast<std::size_t>(assembly_.line_link[line])];
}

PocketCourse AirStates::course(std::size_t line, bool forward) const {
  const steady::LinePlan& plan = assembly_.plans[line];
  const double atmosphere_m = system_.site().atmospheric_head_m();
  const steady::Link link = link_of(line);
  double opening_s2m5 = 0.0;
  if (link.b < 0) opening_s2m5 = steady::opening_s2m5(*system_.outlet(system_.lines()[line].to));
  PocketCourse along =
      forward ? course_of(plan, atmosphere_m, opening_s2m5) : course_back(plan, atmosphere_m);
  along.smooth_m3s = link.smooth_m3s;
  return along;
}

PocketCourse AirStates::left(const Column& column, const Bodies& gone) const {
  std::vector<int> out;
  for (std::size_t k = 0; k < column.held.size(); ++k)
    if (gone.count(held_[column.held[k]].body)) out.push_back(static_cast<int>(k));
  PocketCourse rest = without_pockets(column.course, out);
  // Air that begins where the line begins leaves one bore of it full (air/check_at_first.h says the same):
  // without any friction before the air, the law would be a step.
  if (!rest.pockets.empty() && rest.pockets.front().crest == 0)
    rest.mouth_m = rest.pipes[static_cast<std::size_t>(rest.passage.pipe(0))].bore_m();
  return rest;
}

void AirStates::write_runs(const Solved& solved, AirState& state) const {
  const std::vector<double> flows = line_flows(solved);
  const auto heads = steady::heads_with_water(solved.assembly, solved.kernel, flows);
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

void AirStates::write_air(const Column& column, const PocketLaw& law, const Bodies& gone,
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

}  // namespace runnel::air
