#include "runnel/verdict/year_states.h"

#include <algorithm>
#include <set>

#include "runnel/air/at_first.h"
#include "runnel/air/line_air.h"
#include "runnel/filling/year_runs.h"
#include "runnel/network/change.h"
#include "runnel/steady/newton.h"
#include "runnel/verdict/answer.h"
#include "runnel/verdict/settings.h"
#include "runnel/verdict/siphon_rules.h"

namespace runnel::verdict {
namespace {

using network::System;

/// Pipelines by which water would come to a tank only on ways that trapped air blocks.
std::set<const network::Line*> blocked_ends(const System& system, const std::vector<air::Way>& ways) {
  std::set<const network::Line*> blocked, open;
  for (const air::Way& way : ways) {
    if (!system.tank(way.path.end)) continue;
    const bool by_air = way.start.verdict == air::StartVerdict::blocked && !way.start.too_high;
    (by_air ? blocked : open).insert(way.path.legs.back().line);
  }
  std::erase_if(blocked, [&](const network::Line* line) { return open.contains(line); });
  return blocked;
}

void take_off(const System& system, const std::set<const network::Line*>& blocked, steady::State& state) {
  for (const network::Line* line : blocked) {
    const double flow_m3s = state.lines[static_cast<std::size_t>(line - system.lines().data())].flow_m3s;
    for (const auto& [place, into] : {std::pair{line->to, flow_m3s}, {line->from, -flow_m3s}}) {
      if (system.kind(place) != network::PlaceKind::tank) continue;
      state.tanks[static_cast<std::size_t>(system.place(place).index)].inflow_m3s -= std::max(0.0, into);
    }
  }
}

/// The states as they run or, where air is held, as each law of clearing leaves them.
std::vector<steady::State> with_air(const System& system, const steady::State& state) {
  const auto ways = air::ways_of(system, air::AirOptions{}.most_ways);
  std::vector<steady::State> states;
  if (const auto at_first = air::at_first(system, ways)) {
    if (!at_first->proved()) return {};
    for (const std::size_t end : at_first->ends()) states.push_back(at_first->states[end].state);
  } else {
    states.push_back(state);
  }
  const auto blocked = blocked_ends(system, ways);
  for (steady::State& one : states) take_off(system, blocked, one);
  return states;
}

std::vector<steady::State> period_runs(const System& system) {
  const steady::State state = steady::solve(system);
  if (state.outcome != steady::Outcome::settled) return {};
  if (const auto after = follow_siphons(system, state)) return with_air(after->system, after->state);
  return with_air(system, state);
}

}  // namespace

std::vector<filling::YearPart> look_at_year(const System& system) {
  return filling::look_at_year(system, period_runs);
}

bool YearRun::lasts() const {
  return std::all_of(parts.begin(), parts.end(), [](const auto& part) { return part.good(); });
}

Checked<YearAnswered> answer_year(const network::Model& model, const std::optional<std::string>& setting) {
  Checked<YearAnswered> answer{YearAnswered{}, {}};
  auto& runs = answer.value->runs;
  for (const std::string& one : settings_to_run(model, setting)) {
    auto run = network::under_setting(model, one);
    if (!run) return {std::nullopt, std::move(run.findings)};
    auto system = network::resolve(std::move(*run.value));
    if (!system) return {std::nullopt, std::move(system.findings)};
    if (!system.value->year() || system.value->tanks().empty()) continue;  // nothing to look at
    auto flow = answer_model(model, {.setting = one});
    if (!flow) return {std::nullopt, std::move(flow.findings)};
    runs.push_back({one, std::move(*system.value), {}, flow.value->ruling(), flow.value->sentence});
    runs.back().parts = look_at_year(runs.back().system);
    filling::look_at_hours(runs.back().system, runs.back().parts);
  }
  const auto failing = std::find_if(runs.begin(), runs.end(), [](const YearRun& run) { return !run.good(); });
  if (failing != runs.end()) answer.value->leads = static_cast<std::size_t>(failing - runs.begin());
  return answer;
}

}  // namespace runnel::verdict
