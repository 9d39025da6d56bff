#include "runnel/verdict/air_answer.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "runnel/network/course.h"
#include "runnel/network/no_flow.h"
#include "runnel/verdict/air_rules.h"
#include "runnel/verdict/draft.h"

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

/// Whether nothing comes there in the state that runs, although nobody shut it.
bool gets_nothing(const network::System& system, const steady::State& state, const std::string& end) {
  const steady::PlaceState* seen = state.place(end);
  const network::Outlet* outlet = system.outlet(end);
  return seen && outlet && !outlet->shut && seen->flow_m3s <= network::no_flow_m3s;
}

PathAir judge_path(const network::System& system, const steady::State& state, air::Way way,
                   const std::map<std::string, double>& rates) {
  PathAir path;
  if (way.start.verdict != air::StartVerdict::starts) {
    if (way.vents.best) path.best_vent = way.vents.single[*way.vents.best];
    path.vents = air::vents_until(way.profile, way.conditions, air::StartVerdict::starts);
    path.dig = air::best_dig(way.profile, way.conditions, air::StartVerdict::starts);
  }
  const auto rate = rates.find(way.path.source);
  path.nothing_comes = gets_nothing(system, state, way.path.end);
  if (rate != rates.end() && !path.nothing_comes) path.first_water = arrival(system, way, rate->second);
  path.path = std::move(way.path);
  path.profile = std::move(way.profile);
  path.start = std::move(way.start);
  return path;
}

}  // namespace

bool same_place(const AirPlace& a, const AirPlace& b) {
  return a.pipeline == b.pipeline && std::abs(a.station_m - b.station_m) < network::same_station_m;
}

std::string line_of(const air::Profile& profile, int point) {
  const auto index = static_cast<std::size_t>(profile.points[static_cast<std::size_t>(point)].pipeline);
  return index < profile.pipelines.size() ? profile.pipelines[index] : "";
}

double station_of(const air::Profile& profile, int point) {
  return profile.points[static_cast<std::size_t>(point)].own_station_m;
}

namespace {

Finding air_check_failed(const air::AtFirst& at_first) {
  const auto wrong = std::find_if(at_first.states.begin(), at_first.states.end(),
                                  [](const air::AirState& s) { return !s.settled || !s.proof.consistent; });
  const air::AirState& state = wrong == at_first.states.end() ? at_first.uncompressed : *wrong;
  Draft d("check-failed", Severity::error);
  if (!state.settled)
    d.message.say("What runs with the air of the start still in the lines was not found.");
  else
    d.message
        .say(
            "What runs with the air of the start still in the lines did not pass its check: water out "
            "of balance by ")
        .figure(Kind::flow, state.proof.continuity_m3s)
        .say(", head by ")
        .figure(Kind::head, state.proof.energy_m)
        .say(", the air's pressure by ")
        .figure(Kind::head, state.proof.boyle_m)
        .say(".");
  d.advice.say("What is said is true only once all air is gone. Please send us the model.");
  d.source("the independent checker");
  return d.done();
}

void add_at_first(const network::System& system, const std::vector<air::Way>& ways, AirAnswer& answer) {
  answer.at_first = air::at_first(system, ways);
  if (!answer.at_first) return;
  for (const std::size_t line : answer.at_first->not_followed) {
    Draft d("air-not-judged", Severity::warning);
    d.on_line(system.lines()[line].name);
    d.message.name(system.lines()[line].name)
        .say(" holds air about its reducing valve when it starts; what that air takes is not worked out.");
    d.advice.say("Set the valve before the high point or behind the low one, or put an air valve there.");
    answer.findings.push_back(d.done());
  }
  if (const std::size_t left_out = answer.at_first->branches_left_out; left_out > 0) {
    Draft d("air-not-judged", Severity::warning);
    d.message.say("Of " + std::to_string(left_out) +
                  " branches it was not judged whether their air lets them start while the rest runs.");
    d.advice.say("Run a part of the system by itself.");
    answer.findings.push_back(d.done());
  }
  if (answer.at_first->proved()) return;
  answer.findings.push_back(air_check_failed(*answer.at_first));
  answer.at_first.reset();
}

bool runs_as_drawn(const air::Path& path) {
  return std::none_of(path.legs.begin(), path.legs.end(),
                      [](const air::PathLeg& leg) { return leg.reversed; });
}

/// Whether a way back out of a tank lies above the water in it, to a place that some way as drawn leads to:
/// then nothing ever comes by it, and nobody counts on it.
bool never_runs_back(const air::Way& way, const std::vector<air::Way>& ways) {
  return way.start.verdict == air::StartVerdict::blocked &&
         way.start.reason == air::StartReason::crest_above_source && !runs_as_drawn(way.path) &&
         std::any_of(ways.begin(), ways.end(), [&](const air::Way& other) {
           return other.path.end == way.path.end && runs_as_drawn(other.path);
         });
}

}  // namespace

AirAnswer judge_air(const network::System& system, const steady::State& state) {
  air::AirJudgement judgement = air::judge_air(system, state);
  AirAnswer answer;
  answer.paths_left_out = judgement.ways_left_out;
  answer.trials_cut_short = judgement.cut_short;
  answer.lines = std::move(judgement.lines);
  add_at_first(system, judgement.ways, answer);
  const auto rates = rates_of(system, state);
  std::vector<bool> no_way;
  for (const air::Way& way : judgement.ways) no_way.push_back(never_runs_back(way, judgement.ways));
  for (std::size_t i = 0; i < judgement.ways.size(); ++i)
    if (!no_way[i]) answer.paths.push_back(judge_path(system, state, std::move(judgement.ways[i]), rates));
  answer.branches = judge_branches(system, answer);
  for (const PathAir& way : answer.paths) start_findings(system, way, answer.findings);
  for (const BranchAnswer& branch : answer.branches) branch_finding(branch, answer.findings);
  for (std::size_t i = 0; i < answer.lines.size(); ++i) {
    const network::Line& line = system.lines()[i];
    for (const air::JudgedCrest& crest : answer.lines[i].crests) crest_finding(line, crest, answer.findings);
    line_findings(line, answer.lines[i], answer.findings);
  }
  return answer;
}

AirAnswer held_by_air(const network::System& system) {
  AirAnswer answer;
  std::vector<air::Way> ways = air::ways_of(system, air::AirOptions{}.most_ways, &answer.paths_left_out);
  add_at_first(system, ways, answer);
  for (air::Way& way : ways) {
    PathAir path;
    path.path = std::move(way.path);
    path.profile = std::move(way.profile);
    path.start = std::move(way.start);
    answer.paths.push_back(std::move(path));
  }
  return answer;
}

std::vector<AirPlace> valves_of(const PathAir& way) {
  std::vector<AirPlace> places;
  if (way.vents)
    for (const int crest : way.vents->crests)
      places.push_back({line_of(way.profile, crest), station_of(way.profile, crest)});
  return places;
}

}  // namespace runnel::verdict
