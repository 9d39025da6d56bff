#include "runnel/verdict/air_answer.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "runnel/verdict/air_rules.h"

namespace runnel::verdict {
namespace {

// Remedies are tried by running the start-up again and again: enough for any system that people dig, and
// a bound for systems made by machines.
constexpr std::size_t most_paths = 400;

PathAir judge_path(const network::System& system, air::Path path) {
  PathAir way;
  way.profile = air::profile_of(path);
  const air::StartConditions conditions = air::conditions_of(path, system.site);
  way.start = air::start_up(way.profile, conditions);
  if (way.start.verdict != air::StartVerdict::starts) {
    const air::VentAdvice advice = air::vent_advice(way.profile, conditions);
    if (advice.best) way.best_vent = advice.single[*advice.best];
    way.vents = air::vents_until(way.profile, conditions, air::StartVerdict::starts);
    way.dig = air::best_dig(way.profile, conditions, air::StartVerdict::starts);
  }
  way.path = std::move(path);
  return way;
}

using Lines = std::map<std::string, std::size_t, std::less<>>;

const steady::LineState* run_of(const steady::State& state, const Lines& lines, const std::string& name) {
  const auto at = lines.find(name);
  return at != lines.end() && at->second < state.lines.size() ? &state.lines[at->second] : nullptr;
}

std::optional<double> clearance_at(const steady::LineState* run, double station_m) {
  if (!run || !(std::abs(run->flow_m3s) > 0.0)) return std::nullopt;
  for (const steady::LinePoint& p : run->points)
    if (std::abs(p.station_m - station_m) < 1e-6) return p.pressure_head_m;
  return std::nullopt;
}

// The descent from a crest to the next turn: the steepest of its legs that runs full decides.
std::optional<air::SweepResult> sweep_after(const air::Profile& profile, int crest,
                                            const steady::LineState* run) {
  if (!run || !(std::abs(run->flow_m3s) > 0.0)) return std::nullopt;
  const auto at = static_cast<std::size_t>(crest);
  const air::ProfilePoint &top = profile.points[at], &next = profile.points[at + 1];
  const double angle =
      air::down_angle_rad(top.elevation_m - next.elevation_m, next.station_m - top.station_m);
  if (!(angle > 0.0)) return std::nullopt;
  return air::sweep(top.bore_m, angle, std::abs(run->flow_m3s) / top.area_m2);
}

CrestAir judge_crest(const network::Pipeline* line, const PathAir& way, int point,
                     const steady::LineState* run) {
  CrestAir crest;
  const air::ProfilePoint& here = way.profile.points[static_cast<std::size_t>(point)];
  crest.pipeline = line_of(way.profile, point);
  crest.station_m = here.own_station_m;
  crest.elevation_m = here.elevation_m;
  crest.clearance_m = clearance_at(run, here.own_station_m);
  crest.sweep = sweep_after(way.profile, point, run);
  air::CrestEvidence evidence;
  evidence.start = way.start.verdict;
  evidence.holds_air = false;
  for (const air::Pocket& pocket : way.start.pockets)
    if (pocket.crest == point) {
      evidence.holds_air = true;
      evidence.vented = pocket.vented;
    }
  for (const air::ProfilePart& vent : way.profile.air_valves)
    if (std::abs(vent.station_m - here.station_m) < here.bore_m) evidence.vented = true;
  evidence.clearance_m = crest.clearance_m;
  if (line) evidence.wanted_clearance_m = wanted_clearance_m(*line);
  if (crest.sweep) evidence.swept = crest.sweep->swept;
  crest.vented = evidence.vented;
  crest.graded = air::grade_crest(evidence);
  return crest;
}

void judge_crests(const network::System& system, const steady::State& state, AirAnswer& answer) {
  Lines lines;
  for (std::size_t i = 0; i < state.lines.size(); ++i) lines[state.lines[i].name] = i;
  std::map<std::pair<std::string, double>, std::size_t> seen;
  for (const PathAir& way : answer.paths)
    for (const air::Turn& turn : air::turns(way.profile)) {
      if (!turn.crest) continue;
      const std::string line = line_of(way.profile, turn.point);
      const auto [at, fresh] =
          seen.try_emplace({line, station_of(way.profile, turn.point)}, answer.crests.size());
      // A way that starts shows nothing graver about a crest than the first one did.
      if (!fresh && way.start.verdict == air::StartVerdict::starts) continue;
      const auto index = lines.find(line);
      const bool known = index != lines.end() && index->second < system.pipelines.size();
      CrestAir crest = judge_crest(known ? &system.pipelines[index->second] : nullptr, way, turn.point,
                                   run_of(state, lines, line));
      if (fresh)
        answer.crests.push_back(std::move(crest));
      else if (crest.graded.risk > answer.crests[at->second].graded.risk)
        answer.crests[at->second] = std::move(crest);
    }
}

}  // namespace

std::string line_of(const air::Profile& profile, int point) {
  const auto index = static_cast<std::size_t>(profile.points[static_cast<std::size_t>(point)].pipeline);
  return index < profile.pipelines.size() ? profile.pipelines[index] : "";
}

double station_of(const air::Profile& profile, int point) {
  return profile.points[static_cast<std::size_t>(point)].own_station_m;
}

AirAnswer judge_air(const network::System& system, const steady::State& state) {
  AirAnswer answer;
  std::vector<air::Path> paths = air::paths(system);
  if (paths.size() > most_paths) {
    answer.paths_left_out = paths.size() - most_paths;
    paths.resize(most_paths);
  }
  for (air::Path& path : paths) answer.paths.push_back(judge_path(system, std::move(path)));
  judge_crests(system, state, answer);
  for (const PathAir& way : answer.paths) start_findings(system, way, answer.findings);
  for (const CrestAir& crest : answer.crests) crest_finding(system, crest, answer.findings);
  for (const network::Pipeline& line : system.pipelines) grade_findings(system, line, answer.findings);
  return answer;
}

}  // namespace runnel::verdict
