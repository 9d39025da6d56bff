#include "runnel/verdict/fill_answer.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/change.h"
#include "runnel/network/corner.h"
#include "runnel/verdict/answer.h"
#include "runnel/verdict/answer_sentence.h"
#include "runnel/verdict/cut_off.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/settings.h"
#include "runnel/verdict/start_levels.h"

namespace runnel::verdict {
namespace {

using filling::FillHistory;
using filling::FillOptions;
using filling::FillOutcome;
using network::Corner;
using network::System;
using network::Unknowns;

// Every instant of a run up to this length is judged; a longer one gives levels and volumes only.
constexpr double longest_watched_s = 400.0 * 86400.0, every_step_s = 30.0 * 86400.0;
// Newton steps of a run that is repeated for each of the unknowns in turn: seconds for a small system. A run
// of more is repeated at the corner alone.
constexpr long most_work_for_causes = 40000;

/// The hour at which the first draws of a day begin; midnight if they go on all day.
double first_draw_hour(const System& system) {
  std::optional<double> first;
  const auto look = [&](const auto& places) {
    for (const auto& place : places)
      for (const network::Draw& draw : place.draws)
        if (draw.flow.si() > 0.0)
          first = std::min(first.value_or(24.0), draw.from_hour == draw.to_hour ? 0.0 : draw.from_hour);
  };
  look(system.tanks());
  look(system.outlets());
  look(system.joints());
  return first.value_or(0.0);
}

bool is_watched(const FillOptions& options) {
  return !std::isfinite(options.duration_s) || options.duration_s <= longest_watched_s;
}

/// A system followed and judged, without a look at its corners.
struct Followed {
  FillHistory history;
  FillVerdict verdict;
};

Followed follow(const System& system, FillOptions options, const std::vector<Finding>& remarks,
                FillSeen seen) {
  const bool waits = !options.from_empty && begins_empty(system.model());
  FillWatch watch(system, options.start_hour, options.from_empty || waits);
  seen.from_first_water = options.from_empty || waits;
  const bool watched = is_watched(options);
  if (watched && options.duration_s > every_step_s) options.look_every_s = 3600.0;
  if (watched) options.look = [&](double time_s, const auto& state) { watch.look(time_s, state); };
  seen.watch = watched ? &watch : nullptr;
  Followed out{filling::fill(system, options), {}};
  out.verdict = judge_fill(system, out.history, remarks, seen);
  return out;
}

/// The place of the first finding that makes a verdict worse than good; empty if it is good.
std::string fails_at(const FillVerdict& verdict) {
  if (verdict.good()) return {};
  for (const Finding& finding : verdict.findings)
    if (!is_good(bearing(finding)))
      return finding.where.place.empty() ? finding.where.pipeline : finding.where.place;
  return {};
}

/// Runs again where what nobody knows exactly turns out badly, and says what the run depends on.
void weigh_corner(const System& system, const FillOptions& options, long work, FillSeen& seen) {
  const auto at_worst = [&](const Unknowns& unknown) {
    const auto there = network::at_corner(system, Corner::bad, unknown);
    if (!there) return std::string();
    const Followed again = follow(*there.value, options, {}, seen);
    return again.history.outcome == FillOutcome::done ? fails_at(again.verdict) : std::string();
  };
  seen.only_if_at = at_worst({});
  if (seen.only_if_at.empty()) return;
  seen.only_if = corner_together();
  if (work > most_work_for_causes) return;
  seen.only_if = turned_alone_by(system, [&](const Unknowns& unknown) { return !at_worst(unknown).empty(); });
}

/// The steady answer in the same setting, unless something else is followed than what will be.
std::optional<Answer> flow_beside(const network::Model& model, const std::string& setting,
                                  const FillAsked& asked, const std::vector<std::string>& cut_off) {
  if (asked.springs_stop) return std::nullopt;
  auto answer = answer_model(model, {.setting = setting, .not_due = cut_off});
  return std::move(answer.value);
}

/// Of turns that rule alike, the one that states more conditions.
const FlowVerdict& worst_turn(const Answer& flow) {
  const auto before = [](const Run& a, const Run& b) {
    if (a.verdict.ruling != b.verdict.ruling) return a.verdict.ruling < b.verdict.ruling;
    return a.verdict.dry_conditions.size() < b.verdict.dry_conditions.size();
  };
  return std::max_element(flow.runs.begin(), flow.runs.end(), before)->verdict;
}

/// Each need of the model as judged in the turn that is hardest on it: one in which it is not judged, because
/// nothing is drawn there then, says nothing.
std::vector<AskResult> hardest_of_turns(const Answer& flow) {
  std::vector<AskResult> asks = flow.runs.front().verdict.asks;
  for (const Run& run : flow.runs)
    for (std::size_t i = 0; i < std::min(asks.size(), run.verdict.asks.size()); ++i) {
      const AskResult& there = run.verdict.asks[i];
      if (there.judged && !there.cut_off &&
          (!asks[i].judged || asks[i].cut_off || (asks[i].met && !there.met)))
        asks[i] = there;
    }
  return asks;
}

Checked<FillRun> run_setting(const network::Model& model, const std::string& setting,
                             const std::vector<std::string>& turns, const FillAsked& asked) {
  auto run = network::under_setting(model, setting);
  if (!run) return {std::nullopt, std::move(run.findings)};
  FillSeen seen{.lines_empty = asked.options.from_empty};
  if (!asked.setting) seen.cut_off = not_due(model, *run.value, turns);
  auto system = network::resolve(std::move(*run.value));
  if (!system) return {std::nullopt, std::move(system.findings)};
  const std::optional<Answer> flow = flow_beside(model, setting, asked, seen.cut_off);
  if (flow) {
    seen.flow = &worst_turn(*flow);
    seen.flow_asks = hardest_of_turns(*flow);
    *system.value = as_it_lasts(*system.value, flow->runs.front().verdict);
  }
  if (asked.springs_stop) system.value = network::without_springs(*system.value);
  FillOptions options = asked.options;
  options.start_hour = asked.start_hour.value_or(asked.springs_stop ? first_draw_hour(*system.value) : 0.0);
  Followed first = follow(*system.value, options, asked.remarks, seen);
  if (first.verdict.good() && first.history.outcome == FillOutcome::done && is_watched(options)) {
    weigh_corner(*system.value, options, first.history.work, seen);
    if (!seen.only_if.empty()) first = follow(*system.value, options, asked.remarks, seen);
  }
  return {
      FillRun{setting, std::move(*system.value), options, std::move(first.history), std::move(first.verdict)},
      {}};
}

/// Whether tanks fill in a run, or something is asked of it.
bool shows_something(const FillRun& run) {
  return !run.history.storages.empty() || has_to_show(run.system, run.verdict.asks);
}

/// The worse comes first; of equals one that shows something.
bool fill_leads_before(const FillRun& a, const FillRun& b) {
  if (a.verdict.ruling != b.verdict.ruling) return a.verdict.ruling > b.verdict.ruling;
  return shows_something(a) && !shows_something(b);
}

Sentence whole_sentence_of(const FillAnswered& answer) {
  const FillRun& leading = answer.leading();
  Sentence s;
  if (answer.runs.size() > 1 && leading.setting != as_drawn)
    s.say("Under the setting \"").name(leading.setting).say("\": ");
  s.append(leading.verdict.sentence);
  if (answer.runs.size() == 1 || answer.ruling() != Ruling::holds) return s;
  const bool all_show = std::all_of(answer.runs.begin(), answer.runs.end(), shows_something);
  s.say(all_show ? " So it is under every setting." : " Nothing fails under the other settings.");
  std::vector<SettingRun> runs;
  for (const FillRun& run : answer.runs) runs.push_back({run.setting, run.system});
  return s.append(asking_less(answer.runs.front().system, runs));
}

}  // namespace

Checked<FillAnswered> fill_model(const network::Model& model, const FillAsked& asked) {
  const auto turns = asked.setting ? std::vector<std::string>{} : opened_elsewhere(model);
  Checked<FillAnswered> answer{FillAnswered{}, {}};
  auto& runs = answer.value->runs;
  for (const std::string& setting : settings_to_run(model, asked.setting)) {
    Checked<FillRun> run = run_setting(model, setting, turns, asked);
    if (!run) return {std::nullopt, std::move(run.findings)};
    runs.push_back(std::move(*run.value));
    if (runs.back().history.outcome == FillOutcome::stopped) break;
  }
  const auto worst = std::min_element(runs.begin(), runs.end(), fill_leads_before);
  answer.value->leads = static_cast<std::size_t>(worst - runs.begin());
  answer.value->sentence = whole_sentence_of(*answer.value);
  return answer;
}

}  // namespace runnel::verdict
