// How far the friction law may be trusted, and how fast the water runs.
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <string>

#include "runnel/base/constants.h"
#include "runnel/losses/friction.h"
#include "runnel/losses/law_table.h"
#include "runnel/network/corner.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/opened_wide.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

constexpr Code margin_thin_rule{
    "margin-thin",
    "too close to call",
    "What is asked and what comes differ by less than half a per cent of the head.",
    "Published constants of the same friction formula already differ by 0.3 % in head. With another book "
    "the verdict would turn.",
    "Take it as undecided: survey again, use the true bore of the pipe you will buy, or choose a pipe "
    "that leaves more.",
    "published sets of constants differ by 0.33 % [hazen-williams-sets; computed]; 0.5 % is our own limit"};

constexpr Code spring_just_enough_rule{
    "spring-just-enough",
    "a need that takes all that the spring gives",
    "What comes is just what is asked, and the spring limits it, not the pipe.",
    "No spring gives the same all year. With a little less the verdict turns.",
    "Measure the spring again, in the dry season, or ask for less.",
    "the model's own needs"};

constexpr Code hazen_williams_range_rule{
    "hazen-williams-range",
    "the friction formula is used outside its range",
    "The Hazen-Williams formula was fitted to water near 15 degC in larger pipes at moderate speed. Here "
    "the bore is under 50 mm, or the Reynolds number under 100,000, or the water faster than 3 m/s.",
    "For cold spring water in small smooth pipe it promises up to 17 % too much flow at C = 150.",
    "Write `friction: darcy-weisbach`, or use a lower C, and see whether the verdict holds.",
    "[hazen-williams-limits; from memory]; Liou 1998 on its narrow range [liou1998; found]"};

constexpr Code velocity_high_rule{
    "velocity-high",
    "the water runs fast",
    "The mean velocity is above 5 ft/s (1.5 m/s), or above 3 m/s.",
    "A valve that shuts quickly on fast water makes it hammer; above 3 m/s grit wears pipe and fittings.",
    "A larger pipe on that stretch, or valves that shut slowly.",
    "5 ft/s [nrcs-430; from memory]; 3.0 m/s [jordan1980; from memory]"};

constexpr Code velocity_low_rule{
    "velocity-low",
    "the water runs slowly",
    "The mean velocity is below 0.7 m/s.",
    "Sand and silt settle in the low points, and air bubbles are not carried along.",
    "Keep grit out at the box, and put a washout at each low point.",
    "0.7 to 3.0 m/s [jordan1980; from memory]"};

using steady::ReachState;

// Published sets of Hazen-Williams constants differ by 0.33 % in head [hazen-williams-sets; computed]; half a
// per cent of head leaves room for that.
constexpr double thin_share_of_head = 0.005;

// [hazen-williams-limits; from memory].
constexpr double hazen_least_reynolds = 1e5;
constexpr double hazen_least_bore_m = 0.050;
constexpr double hazen_most_velocity_ms = 3.0;

// 5 ft/s for lines that end in a valve [nrcs-430; from memory].
constexpr double fast_ms = 5.0 * 0.3048;
// 0.7 to 3.0 m/s in pipes [jordan1980; from memory].
constexpr double slow_ms = 0.7;
constexpr double much_too_fast_ms = 3.0;

bool runs_full(const steady::Reach& r) { return r.state == ReachState::full || r.state == ReachState::mixed; }

const pipes::Pipe& pipe_of(const network::Line& line, const steady::Reach& reach) {
  return line.pipes[std::min(static_cast<std::size_t>(std::max(reach.pipe, 0)), line.pipes.size() - 1)].pipe;
}

// Visits every reach in which water moves at full bore.
template <class Visit>
void each_moving_reach(const Case& c, Visit visit) {
  for (const network::Line& line : c.system.lines()) {
    const steady::LineState* run = run_of(c.system, c.state, line);
    if (!run) continue;
    for (const steady::Reach& reach : run->reaches)
      if (runs_full(reach) && std::abs(reach.velocity_ms) > 0.0) visit(line, reach, pipe_of(line, reach));
  }
}

double highest_source_m(const Case& c) {
  double top = -std::numeric_limits<double>::infinity();
  for (const auto* places : {&c.state.boxes, &c.state.tanks})
    for (const steady::PlaceState& p : *places) top = std::max(top, p.level_m.value_or(top));
  for (const network::Box& box : c.system.boxes()) top = std::max(top, box.outlet.metres());
  return top;
}

// Half a per cent of head, in the unit of what is asked.
double thin_margin_si(const Case& c, const AskResult& result) {
  if (result.ask.kind == network::AskKind::flow) {
    const double n = losses::law_row(c.system.friction().law).has_constants ? c.system.friction().n : 2.0;
    return result.asked.si * thin_share_of_head / n;
  }
  const steady::PlaceState* place = c.state.place(result.ask.at);
  const double grade = place && place->grade_m ? *place->grade_m : highest_source_m(c);
  return std::max(0.0, highest_source_m(c) - grade) * thin_share_of_head *
         c.system.site().specific_weight_nm3();
}

/// Whether rougher pipe would change what a place gets. It does not where the spring gives less than the pipe
/// takes; then no constant of friction turns the answer.
bool friction_decides(const Case& c, const AskResult& result) {
  network::Unknowns roughness{.bore = false, .temperature = false, .survey = false, .yield = false};
  roughness.transition = false;
  const auto rougher = network::at_corner(c.system, network::Corner::bad, roughness);
  if (!rougher) return true;
  steady::Solver solver(*rougher.value);
  const steady::State state = solver.answer();
  if (state.outcome != steady::Outcome::settled) return true;
  constexpr double same = 1e-6;  // what the solver rounds off
  for (AskResult& then : judge_asks(*rougher.value, state)) {
    if (then.ask.at != result.ask.at || then.ask.kind != result.ask.kind || then.asked.si != result.asked.si)
      continue;
    try_wide_open(solver, then);
    return !then.got || std::abs(most_si(then) - most_si(result)) > same * result.asked.si;
  }
  return true;
}

Finding just_enough(const AskResult& result) {
  Draft d(spring_just_enough_rule, Severity::warning);
  d.at_place(result.ask.at).against(*result.got, result.asked);
  d.message.say("The need of ").figure(result.asked).say(" at ").name(result.ask.at);
  d.message.say(" takes all that the spring gives there: if it gives a little less, the need is not met.");
  d.advice.say("Measure the spring again, in the dry season, or ask for less at ")
      .name(result.ask.at)
      .say(".");
  return d.done();
}

}  // namespace

void thin_margins(const Case& c, Findings& out) {
  for (const AskResult& result : c.asks) {
    if (!result.judged || !result.got) continue;
    if (held_at_tap(c.system, result) && !result.could)
      continue;  // it gives all that is wanted; more is not known
    const double limit = thin_margin_si(c, result);
    const double margin = std::abs(most_si(result) - result.asked.si);
    if (!(margin < limit)) continue;
    if (result.met && !friction_decides(c, result)) {
      out.push_back(just_enough(result));
      continue;
    }
    Draft d(margin_thin_rule, Severity::warning);
    d.at_place(result.ask.at).against({result.asked.kind, margin}, {result.asked.kind, limit});
    d.message.say("The need of ").figure(result.asked).say(" at ").name(result.ask.at);
    d.message.say(result.met ? " is met by only " : " is missed by only ").figure(result.asked.kind, margin);
    d.message.say(
        ": less than half a per cent of the head, which the choice of friction constants alone can turn.");
    d.advice.say("Take it as undecided. Survey again, or choose a pipe that leaves more.");
    d.source(
        "published sets of friction constants differ by 0.3 % in head [hazen-williams-sets]; 0.5 % is our "
        "own limit");
    out.push_back(d.done());
  }
}

void hazen_williams_range(const Case& c, Findings& out) {
  if (c.system.friction().law != losses::Law::hazen_williams) return;
  const double viscosity = c.system.site().water.kinematic_viscosity_m2s;
  double reynolds = std::numeric_limits<double>::infinity(), bore = reynolds, fastest = 0.0;
  double hazen_loss = 0.0, darcy_loss = 0.0;
  losses::FrictionLaw darcy;
  each_moving_reach(c, [&](const network::Line&, const steady::Reach& reach, const pipes::Pipe& pipe) {
    const double d = pipe.bore.metres(), v = std::abs(reach.velocity_ms), flow = v * pi * d * d / 4.0;
    reynolds = std::min(reynolds, v * d / viscosity);
    bore = std::min(bore, d);
    fastest = std::max(fastest, v);
    const losses::PipeFriction hw(c.system.friction(), d, pipe.roughness.metres(), pipe.hazen_c, viscosity);
    const losses::PipeFriction dw(darcy, d, pipe.roughness.metres(), pipe.hazen_c, viscosity);
    hazen_loss += hw.per_metre(flow).head_m * reach.length_m;
    darcy_loss += dw.per_metre(flow).head_m * reach.length_m;
  });
  if (!std::isfinite(reynolds)) return;
  if (reynolds >= hazen_least_reynolds && bore >= hazen_least_bore_m && fastest <= hazen_most_velocity_ms)
    return;
  Draft d(hazen_williams_range_rule, Severity::warning);
  d.against({Kind::number, std::round(reynolds)}, {Kind::number, hazen_least_reynolds});
  d.message.say("The Hazen-Williams formula is used outside its range: smallest bore ")
      .figure(Kind::bore, bore);
  d.message.say(", Reynolds number down to ")
      .figure(Kind::number, std::round(reynolds))
      .say(", fastest water ");
  d.message.figure(Kind::velocity, fastest).say(". At these flows it loses ").figure(Kind::head, hazen_loss);
  d.message.say(" to friction, the Darcy-Weisbach formula ").figure(Kind::head, darcy_loss).say(".");
  d.advice.say(
      "Write `friction: darcy-weisbach` and compare; for cold water in small smooth pipe it is the safer "
      "one.");
  d.source(
      "Reynolds number under 100,000, bore under 50 mm or over 3 m/s [hazen-williams-limits; from "
      "memory], [liou1998]");
  out.push_back(d.done());
}

void fast_water(const Case& c, Findings& out) {
  for (const network::Line& line : c.system.lines()) {
    const steady::LineState* run = run_of(c.system, c.state, line);
    if (!run) continue;
    const steady::Reach* worst = nullptr;
    for (const steady::Reach& r : run->reaches)
      if (runs_full(r) && (!worst || std::abs(r.velocity_ms) > std::abs(worst->velocity_ms))) worst = &r;
    if (!worst || std::abs(worst->velocity_ms) <= fast_ms) continue;
    const double v = std::abs(worst->velocity_ms);
    const bool much = v > much_too_fast_ms;
    Draft d(velocity_high_rule, Severity::warning);
    d.on_line(line.name, worst->from_m)
        .against({Kind::velocity, v}, {Kind::velocity, much ? much_too_fast_ms : fast_ms});
    d.message.say("Water runs at ").figure(Kind::velocity, v).say(" in ").name(line.name).say(" from ");
    d.message.figure(Kind::length, worst->from_m)
        .say(much ? " on: fast enough to wear pipe and fittings."
                  : " on: a valve that shuts quickly will make it hammer.");
    d.advice.say("Take a larger pipe there, or see that no valve on it can shut quickly.");
    d.source(much ? "at most 3.0 m/s in pipes [jordan1980; from memory]"
                  : "about 5 ft/s where a valve ends the line [nrcs-430; from memory]");
    out.push_back(d.done());
  }
}

void slow_water(const Case& c, Findings& out) {
  std::set<std::string> lines;
  double slowest = std::numeric_limits<double>::infinity();
  each_moving_reach(c, [&](const network::Line& line, const steady::Reach& reach, const pipes::Pipe&) {
    if (std::abs(reach.velocity_ms) >= slow_ms) return;
    slowest = std::min(slowest, std::abs(reach.velocity_ms));
    lines.insert(line.name);
  });
  if (lines.empty()) return;
  Draft d(velocity_low_rule, Severity::note);
  if (lines.size() == 1) d.on_line(*lines.begin());
  d.against({Kind::velocity, slowest}, {Kind::velocity, slow_ms});
  if (lines.size() == 1)
    d.message.name(*lines.begin()).say(" runs");
  else
    d.message.say(std::to_string(lines.size()) + " lines run");
  d.message.say(" as slow as ").figure(Kind::velocity, slowest).say(": sand and silt settle below ");
  d.message.figure(Kind::velocity, slow_ms).say(", and air is not carried along.");
  d.advice.say("Keep grit out at the box, and put a washout at each low point.");
  d.source("0.7 to 3.0 m/s in pipes [jordan1980; from memory]");
  out.push_back(d.done());
}

std::vector<Code> friction_codes() {
  return {margin_thin_rule, spring_just_enough_rule, hazen_williams_range_rule, velocity_high_rule,
          velocity_low_rule};
}

}  // namespace runnel::verdict
