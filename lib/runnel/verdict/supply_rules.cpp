// What was asked and does not come.
#include <algorithm>

#include "runnel/network/no_flow.h"
#include "runnel/steady/solver.h"
#include "runnel/verdict/beyond_reach.h"
#include "runnel/verdict/climb.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/lifted.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/runs_otherwise.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/way_to_need.h"

namespace runnel::verdict {
namespace {

constexpr Code ask_not_met_rule{
    "ask-not-met",
    "a place gets less than is asked",
    "The model says under `asks` what a place needs, and the running system gives it less.",
    "It is the question the whole calculation was made for: as drawn, the system does not do its work.",
    "See what limits it. If the spring gives all it has and nothing spills, only more spring or storage "
    "helps. If the box spills, the pipe is what limits: a larger bore, a shorter way, or a high point dug"
    " down helps, and the answer names the point that governs.",
    "the model's own needs",
    Filling::follows};

constexpr Code ask_not_judged_rule{
    "ask-not-judged",
    "a need that this command cannot judge",
    "A steady answer shows one moment. How long a tank takes to fill, or what runs into a tank whose "
    "float valve is shut, does not show in it.",
    "A verdict that left it out silently would look better than it is.",
    "`full_within` needs the answer over time. For a shut float valve let the model start from a lower "
    "level.",
    "the model's own needs",
    Filling::follows};

constexpr Code draw_not_met_rule{
    "draw-not-met",
    "more is drawn than the line can give",
    "A joint draws a fixed amount, and to give it the grade line would have to fall below the pipe.",
    "A pipe that can take in air does not suck: people at that tap get less than they are promised, and "
    "what lies beyond it gets nothing.",
    "Draw less there, or give the line above it more pipe or more water.",
    "physics: a draw that no pipe can give is reported, not delivered",
    Filling::follows};

constexpr Code outlet_dry_rule{
    "outlet-dry",
    "an open outlet gives no water",
    "The grade line at the outlet lies below it, or no water reaches its line.",
    "Lower outlets take all the water. An outlet that stands dry also lets air into the line.",
    "Throttle or shut the lower outlets, lower the dry one, or enlarge the pipe they share.",
    "physics: an outlet above the grade line gives nothing, and never draws water in",
    Filling::follows};

constexpr Code check_valve_shut_rule{
    "check-valve-shut",
    "a check valve holds",
    "The water beyond the check valve stands higher than the water before it.",
    "Nothing flows through that line now. That may be just what the valve is for.",
    "Nothing, if it is meant so. Else see why the far side stands higher.",
    "physics: a check valve passes water one way only"};

constexpr Code line_rests_rule{
    "line-rests",
    "a line that rests and runs at other times",
    "As drawn the water before a high point, or before the end of the line, stands too low to pass it. The "
    "line was tried as it will be by itself at other times: with the taps shut that are drawn at certain "
    "hours only, and with the tanks full that water runs into. Then it runs.",
    "A tank that fills at night through the line that feeds the village by day is meant to be so.",
    "Nothing, if it is meant so. Else lower the high point, or see that the water before it stands higher.",
    "computed: the same system at those times"};

bool spills(const Case& c) {
  return std::any_of(c.state.boxes.begin(), c.state.boxes.end(),
                     [](const steady::PlaceState& box) { return box.spill_m3s > network::no_flow_m3s; });
}

const char* when_it_runs(RunsWhen when) {
  switch (when) {
    case RunsWhen::taps_shut:
      return ", but it does while the taps with hours are shut: it";
    case RunsWhen::tanks_full:
      return ", but it does once the tanks that water runs into are full: it";
    case RunsWhen::taps_shut_tanks_full:
      return ", but it does with the tanks full and the taps with hours shut: it";
    case RunsWhen::never:
      break;
  }
  return ": it";
}

Finding blocked_line(const network::System& system, const steady::LineState& line, RunsWhen otherwise) {
  const bool never = otherwise == RunsWhen::never;
  Draft d = never ? Draft("line-blocked", Severity::error) : Draft(line_rests_rule, Severity::warning);
  const std::optional<Climb> climb = climb_of(system, line);
  d.message.say("No water passes ").name(line.name).say(never ? "" : " as drawn");
  d.message.say(when_it_runs(otherwise)).say(" ").append(told(climb)).say(".");
  if (climb)
    d.on_line(line.name, climb->station_m);
  else
    d.on_line(line.name);
  if (!never) {
    d.advice.say("Nothing, if it is meant so. Else dig the line down there.");
    return d.done();
  }
  d.advice.append(let_it_pass(system, line, climb));
  d.source("physics: where air can get in, water does not run over a point higher than its source");
  return d.done();
}

bool some_spring(const Case& c) {
  return std::any_of(c.system.boxes().begin(), c.system.boxes().end(),
                     [](const network::Box& box) { return box.yield.si() > 0.0; });
}

std::optional<FullTooHigh> full_beyond(const Case& c, const AskResult& result) {
  return result.ask.kind == network::AskKind::full_within ? full_beyond_reach(c.system, result.ask.at)
                                                          : std::nullopt;
}

/// Where more is asked in all than the springs give, no opening and no pipe helps every tap.
Sentence ask_for_less(const network::System& system, const AskedInAll& asked) {
  Sentence s;
  if (system.tanks().empty())
    return s.say("Ask for less at the taps together, let them be used by turns, or find more water.");
  if (asked.taps.size() == 1)
    s.say("Ask for less at ").name(asked.taps.front()).say(", write under its `draws` when it is drawn from");
  else
    s.say("Ask for less at the taps together, write under their `draws` when they are drawn from");
  return s.say(", or find more water.");
}

/// Where no trial gained anything: what an owner can do, by what the state shows; nothing where another
/// finding says why no water comes at all.
Sentence what_helps(const Case& c, const AskResult& result) {
  const bool flow = result.ask.kind == network::AskKind::flow;
  Sentence s;
  if (const auto high = full_beyond(c, result)) return set_lower(result.ask.at, *high);
  if (result.ask.kind == network::AskKind::full_within)
    return s.say("Bring more to ").name(result.ask.at).say(": more spring, a larger pipe, or fewer draws.");
  if (!some_spring(c) && c.system.tanks().empty())
    return s.say("Say what the spring gives: `yield` or `bucket_tests` of its box.");
  if (result.got && result.got->si <= 0.0) return s;
  if (draws_all(c.state, result))
    return s.say("Write the need under `draws` of ")
        .name(result.ask.at)
        .say(": a joint gives what is drawn there.");
  if (!flow)
    return s.say("Draw less at and above ")
        .name(result.ask.at)
        .say(", lay larger pipe up to it, or set its source higher.");
  return s.say(spills(c)
                   ? "The pipe is what limits: a larger one, a shorter way, or a high point dug down helps."
                   : "The spring is what limits: only more spring or storage helps, not a larger pipe.");
}

bool is_shut(const network::FittedPart& part) {
  return part.kind == network::PartKind::valve && part.open <= 0.0;
}

/// Whether water comes to a tap with one valve opened.
bool runs_with(const network::System& system, const std::string& valve, const std::string& outlet) {
  const auto opened = valve.empty() ? std::nullopt : with_open_valve(system, valve);
  if (!opened) return false;
  const steady::State state = steady::solve(*opened);
  const steady::PlaceState* tap = state.place(outlet);
  return state.outcome == steady::Outcome::settled && tap && !tap->dry;
}

/// A shut valve on the line that ends at a tap, or one farther up that keeps the water from it; nullptr if
/// there is none.
const network::FittedPart* shut_before(const Case& c, const std::string& outlet) {
  const auto place = c.system.find_place(outlet);
  if (!place) return nullptr;
  const auto parts_of = [&](int l) -> const std::vector<network::FittedPart>& {
    return c.system.lines()[static_cast<std::size_t>(l)].parts;
  };
  for (const int l : c.system.lines_at(*place))
    for (const network::FittedPart& part : parts_of(l))
      if (is_shut(part)) return &part;
  for (const int l : way_to(c.system, c.state, {*place}).lines)
    for (const network::FittedPart& part : parts_of(l))
      if (is_shut(part) && runs_with(c.system, part.name, outlet)) return &part;
  return nullptr;
}

}  // namespace

Draft ask_not_met(const AskResult& result, const char* code) {
  Draft d(code, Severity::error);
  d.at_place(result.ask.at);
  if (result.ask.kind == network::AskKind::full_within) {
    d.message.name(result.ask.at).say(result.got ? " is full after " : " is not full within the ");
    d.message.figure(result.got ? *result.got : result.asked);
    if (result.got) d.message.say(", and ").figure(result.asked);
    d.message.say(result.got ? " is asked" : " asked");
    return d;
  }
  d.message.name(result.ask.at).say(result.ask.kind == network::AskKind::flow ? " gets " : " has ");
  if (result.got)
    d.message.figure(*result.got);
  else
    d.message.say("no water");
  d.message.say(" where ").figure(result.asked).say(" is ").say(asked_or_drawn(result.ask));
  return d;
}

void asks_not_met(const Case& c, Findings& out) {
  const auto too_much = asked_beyond_springs(c.system, c.asks);
  for (const AskResult& result : c.asks) {
    if (!result.judged || result.met || result.held_by_air() || result.met_until_s ||
        result.met_only_primed || result.low_water)
      continue;  // siphon_rules.cpp, store_rules.cpp and low_water.cpp say the last three
    Draft d = ask_not_met(result);
    d.message.say(".");
    if (result.got) d.against(*result.got, result.asked);
    if (too_much && result.ask.kind == network::AskKind::flow && too_much->counts(result.ask.at))
      d.advice.append(ask_for_less(c.system, *too_much));
    else if (!full_beyond(c, result) && result.reason && !act_on(*result.reason).empty())
      d.advice.append(act_on(*result.reason));
    else
      d.advice.append(what_helps(c, result));
    d.source("the model's own needs");
    out.push_back(d.done());
  }
}

void asks_not_judged(const Case& c, Findings& out) {
  for (const AskResult& result : c.asks) {
    if (result.judged || result.cut_off) continue;
    Draft d(ask_not_judged_rule, Severity::warning);
    d.at_place(result.ask.at);
    d.message.say("The need of ").figure(result.asked).say(" at ").name(result.ask.at);
    d.message.say(" is not judged here: " + result.why_not_judged + ".");
    d.advice.say(result.ask.kind == network::AskKind::full_within ? "`runnel fill` tells."
                 : result.ask.kind == network::AskKind::pressure  ? "Open the tap to judge it."
                                                                  : "Start from a lower level to judge it.");
    out.push_back(d.done());
  }
}

bool draws_all(const steady::State& state, const AskResult& result) {
  const steady::PlaceState* place = state.place(result.ask.at);
  return result.ask.kind == network::AskKind::flow && place && place->kind == network::PlaceKind::joint &&
         place->draw_asked_m3s > 0.0 && place->draw_given_m3s >= place->draw_asked_m3s * (1.0 - 1e-6);
}

void draws_not_met(const Case& c, Findings& out) {
  for (const steady::PlaceState& joint : c.state.joints) {
    const double missing = joint.draw_asked_m3s - joint.draw_given_m3s;
    if (!(missing > 1e-6 * joint.draw_asked_m3s)) continue;
    Draft d(draw_not_met_rule, Severity::error);
    d.at_place(joint.name);
    d.against({Kind::flow, joint.draw_given_m3s}, {Kind::flow, joint.draw_asked_m3s});
    d.message.say("Only ").figure(Kind::flow, joint.draw_given_m3s).say(" of the ");
    d.message.figure(Kind::flow, joint.draw_asked_m3s)
        .say(" drawn at ")
        .name(joint.name)
        .say(" can be had: to give more the line would have to suck.");
    d.advice.say("Draw less, or give the line above it more pipe or more water.");
    out.push_back(d.done());
  }
}

void dry_outlets(const Case& c, Findings& out) {
  for (const steady::PlaceState& outlet : c.state.outlets) {
    const network::Outlet* drawn = c.system.outlet(outlet.name);
    if (!outlet.dry || !drawn || drawn->shut) continue;
    Draft d(outlet_dry_rule, Severity::warning);
    d.at_place(outlet.name);
    d.message.say("No water comes out at ").name(outlet.name).say(", which stands open.");
    const network::FittedPart* valve = shut_before(c, outlet.name);
    if (valve && !valve->name.empty())
      d.advice.name(valve->name).say(" before it is shut: open it.");
    else if (valve)
      d.advice.say("The valve before it is shut: open it.");
    else
      d.advice.say(
          "It stands above the grade line there, or nothing reaches it: lower it, shut taps below it, or"
          " enlarge the pipe they share.");
    out.push_back(d.done());
  }
}

void lines_that_do_not_run(const Case& c, Findings& out) {
  for (std::size_t l = 0; l < c.state.lines.size(); ++l) {
    const steady::LineState& line = c.state.lines[l];
    if (line.condition == steady::LineCondition::blocked) {
      out.push_back(blocked_line(c.system, line, runs_otherwise(c.system, c.state, l)));
    } else if (line.check_valve_shut) {
      Draft d(check_valve_shut_rule, Severity::note);
      d.on_line(line.name);
      d.message.say("The check valve on ").name(line.name).say(" holds: the water beyond it stands higher.");
      out.push_back(d.done());
    }
  }
}

std::vector<Code> supply_codes() {
  return {ask_not_met_rule, ask_not_judged_rule,   draw_not_met_rule,
          outlet_dry_rule,  check_valve_shut_rule, line_rests_rule};
}

}  // namespace runnel::verdict
