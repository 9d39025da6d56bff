#include "runnel/verdict/velocity_states.h"

#include <algorithm>

#include "runnel/network/change.h"
#include "runnel/network/corner.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/period_words.h"
#include "runnel/verdict/use_states.h"

namespace runnel::verdict {
namespace {

using network::Corner;
using network::System;
using network::Unknowns;

constexpr Code velocity_met_only_if_rule{
    "velocity-met-only-if",
    "a velocity that depends on what nobody knows exactly",
    "With the values of the model the velocity is within its bound. With the bore, the age of the pipe, the "
    "cold, the survey and the yield at one end of what is known of them it is not.",
    "Pipe ages, springs vary and walls come out thick or thin.",
    "Choose a pipe that leaves more, or take the condition as part of the promise.",
    "walls [iso-11922-1], [astm-d3035; from memory]; ageing common practice, no source"};

constexpr Code velocity_missed_in_year_rule{
    "velocity-missed-in-year",
    "a velocity that some period of the year brings out of its bound",
    "With the yields of the model the velocity is within its bound; with those of some period of its `year` "
    "it is not.",
    "Water that runs slowly in the dry months lets sand and air lie; water that runs fast in the wet ones "
    "wears "
    "the pipe.",
    "See whether the bound is meant for that time as well, or choose another pipe there.",
    "the model's own asks and year"};

constexpr Code velocity_while_drawn_rule{
    "velocity-only-while-drawn",
    "a velocity that is reached only while water is drawn",
    "With the draws of some hour the velocity is reached that is asked at least; at other hours of the day "
    "it "
    "is not.",
    "Sand settles in slow water. Once a day at the velocity asked may be enough to carry it on, or not.",
    "Choose a narrower pipe, if it is not enough that water runs so fast in the busiest hours.",
    "computed: the system at each hour at which a draw begins or ends"};

Finding missed_at(const VelocityResult& r, const Sentence& when, const Code& rule) {
  Draft d(rule, Severity::error);
  d.on_line(r.line, r.station_m).against({Kind::velocity, r.got_ms}, {Kind::velocity, r.asked_ms});
  d.message.append(when).say(", ").append(say_velocity(r)).say(".");
  d.advice.say("See whether the bound is meant for that time as well, or choose another pipe there.");
  return d.done();
}

bool same_bound(const VelocityResult& a, const VelocityResult& b) {
  return a.line == b.line && a.at_most == b.at_most && a.asked_ms == b.asked_ms;
}

std::optional<VelocityResult> first_missed(const std::vector<VelocityResult>& then,
                                           const std::vector<VelocityResult>& now) {
  for (const VelocityResult& r : then) {
    const bool known = std::any_of(now.begin(), now.end(),
                                   [&](const VelocityResult& n) { return !n.met && same_bound(n, r); });
    if (!r.met && !known) return r;
  }
  return std::nullopt;
}

void hold_to_what_lasts(const std::vector<VelocityResult>& now, FlowVerdict& verdict) {
  if (!verdict.lasting || verdict.lasting->state.outcome != steady::Outcome::settled) return;
  const auto missed = first_missed(judge_velocities(verdict.lasting->system, verdict.lasting->state), now);
  if (missed)
    verdict.findings.push_back(missed_at(
        *missed, Sentence().say("Once the tanks above have given what they hold"), velocity_code(*missed)));
}

/// A bound that is missed in some state, and when.
struct MissedThen {
  VelocityResult velocity;
  Sentence when;
};

/// A velocity that is asked at most, and missed in some state of use.
std::optional<MissedThen> too_fast_in(const std::vector<UseState>& states,
                                      const std::vector<VelocityResult>& now) {
  for (const UseState& use : states) {
    const auto missed = first_missed(judge_velocities(use.system, use.state), now);
    if (missed && missed->at_most) return MissedThen{*missed, use.when};
  }
  return std::nullopt;
}

/// A bound that is missed in a system as it stands, or as it is used.
std::optional<VelocityResult> missed_or_too_fast(const System& system,
                                                 const std::vector<VelocityResult>& now) {
  if (auto missed = velocity_missed(system, now)) return missed;
  if (std::none_of(now.begin(), now.end(), [](const auto& r) { return r.at_most; })) return std::nullopt;
  const auto then = too_fast_in(use_states(system), now);
  return then ? std::optional(then->velocity) : std::nullopt;
}

void hold_to_year(const System& system, const std::vector<VelocityResult>& now, FlowVerdict& verdict) {
  if (!system.year()) return;
  for (const std::size_t p : dry::unlike_periods(system)) {
    const auto missed = missed_or_too_fast(network::in_period(system, p), now);
    if (!missed) continue;
    const std::string period = period_words(p, system.year()->periods());
    verdict.findings.push_back(
        missed_at(*missed, Sentence().say("In " + period), velocity_missed_in_year_rule));
    return;
  }
}

/// Whether something is wrong with a line already.
bool told_of(const std::string& line, const FlowVerdict& verdict) {
  return std::any_of(verdict.findings.begin(), verdict.findings.end(), [&](const Finding& f) {
    return f.severity == Severity::error && f.where.pipeline == line;
  });
}

/// The greatest yields on record are of one day: a bound that they miss is a condition.
void hold_to_wettest(const System& system, const std::vector<VelocityResult>& now, FlowVerdict& verdict) {
  const std::vector<Flow> yields = dry::most_yields(system);
  const auto wetter =
      std::find_if(system.boxes().begin(), system.boxes().end(), [&](const network::Box& box) {
        return yields[static_cast<std::size_t>(&box - system.boxes().data())] > box.yield;
      });
  if (wetter == system.boxes().end()) return;
  const auto missed = missed_or_too_fast(network::with_yields(system, yields), now);
  if (!missed || !missed->at_most) return;
  if (told_of(missed->line, verdict)) return;
  Draft d(velocity_met_only_if_rule, Severity::warning);
  d.on_line(missed->line, missed->station_m);
  d.against({Kind::velocity, missed->got_ms}, {Kind::velocity, missed->asked_ms});
  d.message.say("With the most that ")
      .name(wetter->name)
      .say(" is known to give ")
      .append(say_velocity(*missed));
  d.message.say(".");
  d.advice.say("Choose a wider pipe, or take the condition as part of the promise.");
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(
      Sentence().say("as long as ").name(wetter->name).say(" gives no more than it does now"));
}

std::optional<VelocityResult> missed_at_corner(const System& system, const Unknowns& unknown,
                                               const std::vector<VelocityResult>& now) {
  for (const Corner corner : {Corner::bad, Corner::good})
    if (const auto there = network::at_corner(system, corner, unknown))
      if (auto missed = missed_or_too_fast(*there.value, now)) return missed;
  return std::nullopt;
}

std::string condition_at(const System& system, const std::vector<VelocityResult>& now) {
  return turned_alone_by(
      system, [&](const Unknowns& unknown) { return missed_at_corner(system, unknown, now).has_value(); });
}

void hold_to_corners(const System& system, const std::vector<VelocityResult>& now, FlowVerdict& verdict) {
  const auto missed = missed_at_corner(system, {}, now);
  if (!missed || told_of(missed->line, verdict)) return;
  Draft d(velocity_met_only_if_rule, Severity::warning);
  d.on_line(missed->line, missed->station_m);
  d.against({Kind::velocity, missed->got_ms}, {Kind::velocity, missed->asked_ms});
  d.message.say("At one end of what is known of bore, age, cold, survey and yield, ");
  d.message.append(say_velocity(*missed)).say(".");
  d.advice.say("Choose a pipe that leaves more, or take the condition as part of the promise.");
  verdict.findings.push_back(d.done());
  // The named causes are put for a bad turn; too much water or too wide a bore is the good one.
  verdict.dry_conditions.push_back(Sentence().say(
      missed->at_most ? "if bore, age of the pipe, survey and yield stay close to what is written"
                      : condition_at(system, now)));
}

/// How one bound fares over the day.
struct OverTheDay {
  std::optional<MissedThen> slowest;  ///< where it is missed
  bool reached = false;
};

OverTheDay over_the_day(const std::vector<UseState>& states, const VelocityResult& bound) {
  OverTheDay day;
  for (const UseState& use : states)
    for (const VelocityResult& r : judge_velocities(use.system, use.state)) {
      if (!same_bound(r, bound)) continue;
      day.reached = day.reached || r.met;
      if (!r.met && (!day.slowest || r.got_ms < day.slowest->velocity.got_ms))
        day.slowest = MissedThen{r, use.when};
    }
  return day;
}

Finding only_while_drawn(const MissedThen& slowest) {
  Draft d(velocity_while_drawn_rule, Severity::warning);
  const VelocityResult& r = slowest.velocity;
  d.on_line(r.line, r.station_m).against({Kind::velocity, r.got_ms}, {Kind::velocity, r.asked_ms});
  d.message.append(slowest.when).say(", ").append(say_velocity(r)).say(".");
  d.advice.say("Choose a narrower pipe, if it is not enough that water runs so fast in the busiest hours.");
  return d.done();
}

/// A velocity that is asked at least, held to every state of use in which water runs.
void hold_least_to_use(const std::vector<UseState>& states, const std::vector<VelocityResult>& now,
                       FlowVerdict& verdict) {
  for (const VelocityResult& bound : now) {
    if (bound.at_most || !bound.met) continue;
    const OverTheDay day = over_the_day(states, bound);
    if (!day.slowest) continue;
    if (!day.reached) {
      verdict.findings.push_back(
          missed_at(day.slowest->velocity, day.slowest->when, velocity_code(day.slowest->velocity)));
      continue;
    }
    verdict.findings.push_back(only_while_drawn(*day.slowest));
    verdict.dry_conditions.push_back(Sentence()
                                         .say("if it is enough that water runs at ")
                                         .figure(Kind::velocity, bound.asked_ms)
                                         .say(" in ")
                                         .name(bound.line)
                                         .say(" in its busiest hours"));
  }
}

/// A velocity that is asked at most, held to what the system comes to by itself: to full tanks, whose shut
/// float valves send the water elsewhere, to float valves that open again, and to every hour, as others stop
/// drawing.
void hold_most_to_use(const std::vector<UseState>& states, const std::vector<VelocityResult>& now,
                      FlowVerdict& verdict) {
  if (const auto missed = too_fast_in(states, now))
    verdict.findings.push_back(missed_at(missed->velocity, missed->when, velocity_code(missed->velocity)));
}

}  // namespace

std::vector<VelocityResult> velocities_of(const System& system) {
  if (system.model().velocity_asks.empty()) return {};
  const steady::State state = steady::solve(system);
  if (!state.proved()) return {};
  return judge_velocities(system, state);
}

std::optional<VelocityResult> velocity_missed(const System& other, const std::vector<VelocityResult>& now) {
  return first_missed(velocities_of(other), now);
}

Sentence say_velocity(const VelocityResult& r) {
  Sentence s;
  s.say("water runs at ").figure(Kind::velocity, r.got_ms).say(" in ").name(r.line);
  return s.say(r.at_most ? ", and at most " : ", and at least ")
      .figure(Kind::velocity, r.asked_ms)
      .say(" is asked");
}

namespace {

/// Of very many taps and float valves not each is tried alone. A bound that holds in all that were tried is
/// not judged then, and the answer says so.
void own_what_is_left_out(const System& system, const std::vector<VelocityResult>& now,
                          FlowVerdict& verdict) {
  const auto bound = std::find_if(now.begin(), now.end(), [](const auto& r) { return r.at_most && r.met; });
  if (bound == now.end() || told_of(bound->line, verdict) || !leaves_out_uses(system)) return;
  Draft d("ask-not-judged", Severity::warning);
  d.on_line(bound->line);
  d.message.say("Of so many taps and float valves not each was tried alone: how fast water runs then in ")
      .name(bound->line)
      .say(" and the other lines is not judged.");
  d.advice.say("Draw a part of the system by itself and ask there.");
  verdict.findings.push_back(d.done());
}

}  // namespace

void judge_velocity_states(const System& system, const steady::State& state, FlowVerdict& verdict) {
  if (system.model().velocity_asks.empty()) return;
  const std::vector<VelocityResult> now = judge_velocities(system, state);
  hold_to_what_lasts(now, verdict);
  hold_to_year(system, now, verdict);
  const std::vector<UseState> states = use_states(system);
  hold_least_to_use(states, now, verdict);
  hold_most_to_use(states, now, verdict);
  own_what_is_left_out(system, now, verdict);
  hold_to_wettest(system, now, verdict);
  hold_to_corners(system, now, verdict);
}

std::vector<Code> velocity_state_codes() {
  return {velocity_met_only_if_rule, velocity_missed_in_year_rule, velocity_while_drawn_rule};
}

}  // namespace runnel::verdict
