#include "runnel/verdict/flow_verdict.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "runnel/network/no_flow.h"
#include "runnel/verdict/air_draws.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/beyond_reach.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/dry_times.h"
#include "runnel/verdict/filling_needs.h"
#include "runnel/verdict/first_days.h"
#include "runnel/verdict/low_water.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/opened_wide.h"
#include "runnel/verdict/rising_tanks.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/runs_otherwise.h"
#include "runnel/verdict/staged_floats.h"
#include "runnel/verdict/store_rules.h"
#include "runnel/verdict/velocity_states.h"
#include "runnel/verdict/vents_tried.h"

namespace runnel::verdict {
namespace {

constexpr Code air_not_judged_rule{
    "air-not-judged",
    "not every way was judged for air",
    "The system has very many ways from sources to places and only the first were judged for starting "
    "from empty; or air stands behind a reducing valve, and what it takes there is not worked out.",
    "Air may stop one that was not looked at.",
    "Split the model, or ask about the part that worries you.",
    "",
    Filling::follows};

constexpr Code no_answer_rule{
    "no-answer",
    "the calculation did not settle",
    "After all its steps the balances of water and head do not close, or a number left the range of the "
    "machine.",
    "Numbers that do not balance are no answer, so none is given.",
    "Check the model for lengths or bores far out of the ordinary. If they are right, send it to us: this"
    " should not happen.",
    "both balances must close before an answer is given",
    Filling::follows};

constexpr Code check_failed_rule{
    "check-failed",
    "the answer failed its own check",
    "Every answer is worked out a second time from the raw laws by a part that shares nothing with the "
    "first. The two do not agree here.",
    "One of them is wrong.",
    "Do not rely on the answer, and send us the model.",
    "the independent checker",
    Filling::follows};

using Rule = void (*)(const Case&, Findings&);

// In the order a person would look: what is missing, then what may break, then what to know.
constexpr Rule rules[] = {asks_not_met,
                          nothing_arrives,
                          unusual_friction_constants,
                          lines_not_surveyed,
                          lines_that_do_not_run,
                          draws_not_met,
                          dry_outlets,
                          velocities_not_met,
                          undetermined_splits,
                          pressure_against_rating,
                          reducing_valves_fail_open,
                          pressure_below_air,
                          quick_shutting,
                          thin_margins,
                          mouths_that_govern,
                          heights_too_close,
                          pipes_better_than_any,
                          water_unlike_water,
                          shallow_box_on_fast_pipe,
                          thin_cover_and_fall,
                          tees_not_counted,
                          parts_where_the_bore_changes,
                          fast_water,
                          hazen_williams_range,
                          uncertain_friction,
                          overflows,
                          box_spills,
                          box_top_part_full,
                          slow_water,
                          nothing_to_shut,
                          asks_not_judged,
                          claims_not_judged,
                          float_openings_taken};

int rank(Severity s) { return s == Severity::error ? 0 : s == Severity::warning ? 1 : 2; }

Finding no_answer(const steady::State& state) {
  Draft d(no_answer_rule, Severity::error);
  const bool left_range = state.outcome == steady::Outcome::not_finite;
  d.message.say(left_range ? "No answer was reached: a number left the range of the machine."
                           : "No answer was reached: the balances of water and head do not close.");
  const std::string steps = std::to_string(state.history.size());
  if (!state.history.empty())
    d.message.say(left_range ? " a figure left the range of numbers at step " + steps
                             : " no steady state found in " + steps + " steps; the figures are the last try");
  d.advice.say("Nothing below may be relied on. Please send us the model: this should not happen.");
  return d.done();
}

Finding failed_check(const steady::State& state) {
  Draft d(check_failed_rule, Severity::error);
  d.message.say("The answer did not pass the check that works it out again: water out of balance by ");
  d.message.figure(Kind::flow, state.proof.continuity_m3s)
      .say(", head by ")
      .figure(Kind::head, state.proof.energy_m);
  d.message.say(", one-way rules broken by ").figure(Kind::head, state.proof.one_way_m).say(".");
  d.advice.say("Do not rely on it. Please send us the model: this should not happen.");
  return d.done();
}

/// Whether a rule has said of the line already that no water passes it.
bool said_of_line(const Finding& said, const Finding& blocked) {
  return (said.code == "line-blocked" || said.code == "line-rests") &&
         said.where.pipeline == blocked.where.pipeline;
}

/// Water that stands too low to pass a point may come to stand higher by itself.
void rest_if_it_runs(const network::System& system, const steady::State& state, Finding& blocked) {
  const auto line = system.find_line(blocked.where.pipeline);
  if (!line || runs_otherwise(system, state, static_cast<std::size_t>(*line)) == RunsWhen::never) return;
  blocked.code = "line-rests";
  blocked.severity = Severity::warning;
  blocked.advice =
      "It runs once tanks that water runs into are full, or while taps with hours are shut: nothing is to be "
      "done, if it is meant so.";
}

// A point may block several ways, and the steady answer may have named it already: once is enough.
void add_air(const network::System& system, const steady::State& state, const AirAnswer& air, Findings& out) {
  for (Finding f : air.findings) {
    if (f.code == "line-blocked") rest_if_it_runs(system, state, f);
    const bool known = f.code == "line-blocked" && std::any_of(out.begin(), out.end(), [&](const Finding& o) {
                         return said_of_line(o, f);
                       });
    if (!known) out.push_back(f);
  }
  if (air.paths_left_out == 0) return;
  Draft d(air_not_judged_rule, Severity::warning);
  d.message.say(std::to_string(air.paths_left_out) + " ways of the water were not judged for trapped air.");
  out.push_back(d.done());
}

}  // namespace

namespace {

/// Where the setting itself shuts the water off nothing is due.
void leave_cut_off(const std::vector<std::string>& cut_off, std::vector<AskResult>& asks) {
  for (AskResult& ask : asks)
    if (std::find(cut_off.begin(), cut_off.end(), ask.ask.at) != cut_off.end()) {
      ask.judged = ask.met = false;
      ask.cut_off = true;
      ask.why_not_judged = "the setting shuts it off";
    }
}

void drop_cut_off(const std::vector<std::string>& cut_off, std::vector<Finding>& findings) {
  constexpr std::array<std::string_view, 4> of_needs = {"draw-not-met", "draw-missed-in-its-hours",
                                                        "tank-sinks-day-by-day", "outlet-dry"};
  const auto not_due = [&](const Finding& f) {
    return std::find(of_needs.begin(), of_needs.end(), f.code) != of_needs.end() &&
           std::find(cut_off.begin(), cut_off.end(), f.where.place) != cut_off.end();
  };
  findings.erase(std::remove_if(findings.begin(), findings.end(), not_due), findings.end());
}

/// A line that has lost its water is under no suction any more: its own finding says what lets the air in.
/// Where the column itself breaks, and nothing runs after that or nothing is asked of what does, the suction
/// is what is wrong.
void drop_suction_of_broken(const AfterSiphons& after, const std::vector<AskResult>& asks,
                            std::vector<Finding>& findings) {
  for (const BrokenSiphon& siphon : after.broken) {
    const double left_m3s = after.state.lines[static_cast<std::size_t>(siphon.line)].flow_m3s;
    const bool judged = !asks.empty() && std::abs(left_m3s) > network::no_flow_m3s;
    if (siphon.why == PrimeLoss::column_breaks && !judged) continue;
    const std::string& name = after.system.lines()[static_cast<std::size_t>(siphon.line)].name;
    std::erase_if(findings, [&](const Finding& f) {
      return f.code == "pressure-below-air" && f.where.pipeline == name;
    });
  }
}

/// Holds needs to what stores give in the long run; on days on which the tanks fill again, only those whose
/// draws are missed, or that ask for more than is drawn.
void hold_to_stores(const network::System& system, const steady::State& state, const filling::TypicalDay& day,
                    const network::System* drawn, FlowVerdict& verdict) {
  if (day_speaks_for(system, day, verdict.asks)) return;
  const std::vector<AskResult> at_first = verdict.asks;
  hold_asks_to_stores(system, state, verdict);
  if (!fills_day_by_day(day)) return;
  const auto wider = spare_what_is_drawn(system, day, at_first, verdict.asks);
  if (drawn) hold_to_now_and_then(*drawn, wider, verdict);
  const bool some_run_out = std::any_of(verdict.asks.begin(), verdict.asks.end(),
                                        [](const AskResult& r) { return r.met_until_s.has_value(); });
  if (!some_run_out && bridges_the_hours(system, day)) verdict.lasting.reset();
}

/// Whether a need is missed that is due.
bool misses_a_need(const std::vector<AskResult>& asks) {
  return std::any_of(asks.begin(), asks.end(), [](const AskResult& r) { return r.missed(); });
}

void judge_settled(const network::System& system, const steady::State& state, const Aside& aside,
                   FlowVerdict& verdict) {
  verdict.after_siphons = follow_siphons(system, state);
  filling::TypicalDay day;
  if (aside.fill_from && !verdict.after_siphons) {
    day = aside.day ? *aside.day : followed_day(*aside.fill_from, verdict);
    verdict.after_siphons = siphons_lost_when_low(system, state, day);
  }
  const auto& after = verdict.after_siphons;
  const network::System& lasting = after ? after->system : system;
  const steady::State& lasting_state = after ? after->state : state;
  if (aside.fill_from && after) day = followed_day(*aside.fill_from, verdict);
  if (aside.fill_from && !after) verdict.day = day;
  if (after) {
    hold_asks_to_siphons(*after, verdict);
    siphon_findings(system, state, *after, verdict, verdict.findings);
  }
  hold_to_stores(lasting, lasting_state, day, aside.fill_from, verdict);
  store_findings(state, verdict, verdict.findings);
  verdict.air = judge_air(system, state);
  judge_with_air(system, *verdict.air, verdict.asks);
  if (aside.try_more) try_vents(system, verdict.asks);
  if (aside.fill_from) judge_filling(system, state, *aside.fill_from, day, verdict);
  judge_drawn_hours(system, day, verdict);
  hold_draws_to_air(system, state, verdict);
  if (aside.fill_from) judge_low_water(lasting, lasting_state, day, verdict);
  const bool try_more = aside.try_more && !(aside.only_if_good && misses_a_need(verdict.asks));
  if (try_more) find_reasons(lasting, verdict.asks);
  if (try_more) weigh_corners(lasting, day, verdict.asks, verdict.findings);
  if (try_more) weigh_arrivals(lasting, lasting_state, verdict);
  if (try_more && aside.fill_from) weigh_drawn_hours(*aside.fill_from, day, verdict);
  if (try_more) weigh_draws_with_air(system, verdict);
  if (try_more && aside.fill_from && !aside.once_filled)
    judge_first_days(*aside.fill_from, day, aside.cut_off, verdict);
  if (try_more) judge_dry_times(system, aside.fill_from ? *aside.fill_from : system, verdict);
  if (try_more) judge_rising_tanks(system, verdict);
  if (try_more) judge_staged_floats(system, verdict);
  if (try_more) judge_velocity_states(system, state, verdict);
  if (try_more) open_taps_wide(system, verdict);
  verdict.asked_beyond = asked_beyond_springs(system, verdict.asks);
  const Case seen{system, state, verdict.asks};
  for (Rule rule : rules) rule(seen, verdict.findings);
  if (verdict.after_siphons) drop_suction_of_broken(*verdict.after_siphons, verdict.asks, verdict.findings);
  air_held_flow(system, state, *verdict.air, verdict.asks, verdict.findings);
  add_air(system, state, *verdict.air, verdict.findings);
}

/// For a state from which no figure may be taken.
void judge_nothing(const steady::State& state, FlowVerdict& verdict) {
  const bool settled = state.outcome == steady::Outcome::settled;
  verdict.findings.push_back(settled ? failed_check(state) : no_answer(state));
}

/// A proof that failed, now or later on, takes with it what was said before.
void take_back_figures(FlowVerdict& verdict) {
  verdict.air.reset();
  verdict.lasting.reset();
  verdict.after_siphons.reset();
  verdict.dry_conditions.clear();
  for (AskResult& ask : verdict.asks) {
    ask.judged = ask.met = false;
    ask.got.reset();
    ask.air.reset();
    ask.met_until_s.reset();
    ask.met_only_primed = false;
    ask.low_water.reset();
    ask.why_not_judged = "no answer was reached";
  }
  std::erase_if(verdict.findings,
                [](const Finding& f) { return has_figures(bearing(f)) && !f.mark.known(); });
}

}  // namespace

FlowVerdict::FlowVerdict() = default;
FlowVerdict::FlowVerdict(const FlowVerdict&) = default;
FlowVerdict::FlowVerdict(FlowVerdict&&) noexcept = default;
FlowVerdict& FlowVerdict::operator=(const FlowVerdict&) = default;
FlowVerdict& FlowVerdict::operator=(FlowVerdict&&) noexcept = default;
FlowVerdict::~FlowVerdict() = default;

bool FlowVerdict::fails_at(const std::string& place) const {
  return std::any_of(findings.begin(), findings.end(), [&](const Finding& f) {
    return f.severity == Severity::error && f.where.place == place;
  });
}

bool FlowVerdict::misses_at(const std::string& place) const {
  return fails_at(place) || std::any_of(asks.begin(), asks.end(),
                                        [&](const AskResult& r) { return r.ask.at == place && r.missed(); });
}

FlowVerdict judge_flow(const network::System& system, const steady::State& state, const Aside& aside) {
  FlowVerdict verdict;
  verdict.asks = judge_asks(system, state);
  leave_cut_off(aside.cut_off, verdict.asks);
  if (state.proved())
    judge_settled(system, state, aside, verdict);
  else
    judge_nothing(state, verdict);
  verdict.findings.insert(verdict.findings.end(), aside.findings.begin(), aside.findings.end());
  drop_cut_off(aside.cut_off, verdict.findings);
  std::stable_sort(verdict.findings.begin(), verdict.findings.end(),
                   [](const Finding& a, const Finding& b) { return rank(a.severity) < rank(b.severity); });
  verdict.ruling = ruling_of(verdict.findings);
  if (!has_figures(verdict.ruling)) take_back_figures(verdict);
  verdict.sentence = flow_sentence(system, state, verdict);
  return verdict;
}

std::vector<Code> flow_codes() { return {air_not_judged_rule, no_answer_rule, check_failed_rule}; }

}  // namespace runnel::verdict
