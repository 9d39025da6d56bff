#include "runnel/verdict/air_answer.h"

#include <map>
#include <utility>

#include "runnel/verdict/air_rules.h"

namespace runnel::verdict {
namespace {

/// What fills a dry line below each box [m3/s].
std::map<std::string, double> rates_of(const network::System& system, const steady::State& state) {
  std::map<std::string, double> rates;
  for (const steady::PlaceState& box : state.boxes) rates[box.name] = box.inflow_m3s;
  for (const network::Box& box : system.boxes())
    if (box.yield.si() > 0.0) rates[box.name] = box.yield.si();
  return rates;
}

PathAir judge_path(air::Way way, const std::map<std::string, double>& rates) {
  PathAir path;
  if (way.start.verdict != air::StartVerdict::starts) {
    const air::VentAdvice advice = air::vent_advice(way.profile, way.conditions);
    if (advice.best) path.best_vent = advice.single[*advice.best];
    path.vents = air::vents_until(way.profile, way.conditions, air::StartVerdict::starts);
    path.dig = air::best_dig(way.profile, way.conditions, air::StartVerdict::starts);
  }
  if (const auto rate = rates.find(way.path.source); rate != rates.end())
    path.first_water = arrival(way.profile, way.conditions, way.start, rate->second);
  path.path = std::move(way.path);
  path.profile = std::move(way.profile);
  path.start = std::move(way.start);
  return path;
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
  air::AirJudgement judgement = air::judge_air(system, state);
  AirAnswer answer;
  answer.paths_left_out = judgement.ways_left_out;
  answer.trials_cut_short = judgement.cut_short;
  answer.lines = std::move(judgement.lines);
  const auto rates = rates_of(system, state);
  for (air::Way& way : judgement.ways) answer.paths.push_back(judge_path(std::move(way), rates));
  for (const PathAir& way : answer.paths) start_findings(system, way, answer.findings);
  for (std::size_t i = 0; i < answer.lines.size(); ++i) {
    const network::Line& line = system.lines()[i];
    for (const air::JudgedCrest& crest : answer.lines[i].crests) crest_finding(line, crest, answer.findings);
    line_findings(line, answer.lines[i], answer.findings);
  }
  return answer;
}

}  // namespace runnel::verdict
