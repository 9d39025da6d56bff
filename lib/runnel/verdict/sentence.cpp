// The one sentence at the top of every answer.
#include <algorithm>
#include <cmath>

#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/network/no_flow.h"
#include "runnel/network/place_state.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/bearing.h"
#include "runnel/verdict/beyond_reach.h"
#include "runnel/verdict/climb.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/shut_words.h"
#include "runnel/verdict/store_rules.h"
#include "runnel/verdict/velocity_asks.h"
#include "runnel/verdict/way_to_need.h"

namespace runnel::verdict {
namespace {

using network::AskKind;
using steady::LineCondition;

constexpr std::size_t most_in_a_sentence = 3;  // a sentence that names more places is a table

Sentence met_part(const AskResult& r) {
  Sentence s;
  if (r.ask.kind == AskKind::full_within)
    s.name(r.ask.at).say(" is full after ").figure(*r.got);
  else
    s.figure(*r.got)
        .say(r.ask.kind != AskKind::flow ? " at "
             : r.at_spring               ? " leave "
                                         : " reach ")
        .name(r.ask.at);
  if (r.margin_si() > 1e-3 * r.asked.si)
    s.say(", ")
        .figure(r.asked.kind, r.margin_si())
        .say(r.ask.kind == AskKind::full_within ? " sooner than asked"
             : r.ask.as_drawn                   ? " more than is drawn there"
                                                : " more than asked");
  else
    s.say(r.could && r.could->si > r.asked.si * (1.0 + 1e-3) ? ", all that is wanted there"
          : r.ask.as_drawn                                   ? ", just what is drawn there"
                                                             : ", just what is asked");
  if (r.begins_at_m) s.say(", if it begins at ").figure(Kind::elevation, *r.begins_at_m);
  return s;
}

Sentence missed_part(const AskResult& r) {
  Sentence s = shortfall(r);
  if (r.met_only_primed) s.say(" once the siphon has lost its water");
  if (!r.held_by_air()) return s;
  s.say(", ");
  say_held(r.air->held, s);
  return s.say("; without it ").figure(r.air->let_out());
}

template <class Part>
Sentence listed(const std::vector<const AskResult*>& results, Part part) {
  Sentence s;
  for (std::size_t i = 0; i < results.size() && i < most_in_a_sentence; ++i) {
    if (i > 0) s.say("; ");
    s.append(part(*results[i]));
  }
  if (results.size() > most_in_a_sentence)
    s.say("; and " + std::to_string(results.size() - most_in_a_sentence) + " more");
  return s;
}

bool something_drawn(const network::System& system) {
  return network::has_draws(system.model()) ||
         std::any_of(system.joints().begin(), system.joints().end(),
                     [](const network::Joint& joint) { return joint.draw > Flow{}; });
}

const steady::LineState* line_in(const steady::State& state, LineCondition condition) {
  for (const steady::LineState& line : state.lines)
    if (line.condition == condition) return &line;
  return nullptr;
}

/// A line in which no water runs on the way to one of the needs.
const steady::LineState* blocked_before(const network::System& system, const steady::State& state,
                                        const std::vector<const AskResult*>& needs) {
  std::vector<int> wanted;
  for (const AskResult* r : needs)
    if (const auto place = system.find_place(r->ask.at)) wanted.push_back(*place);
  const std::vector<int> on_the_way = way_to(system, state, wanted).lines;
  for (std::size_t l = 0; l < state.lines.size(); ++l)
    if (state.lines[l].condition == LineCondition::blocked &&
        std::find(on_the_way.begin(), on_the_way.end(), static_cast<int>(l)) != on_the_way.end())
      return &state.lines[l];
  return nullptr;
}

// The line that takes water from a box that spills: the pipe is what limits.
const steady::LineState* limiting_line(const network::System& system, const steady::State& state) {
  for (const steady::PlaceState& box : state.boxes) {
    if (!(box.spill_m3s > network::no_flow_m3s)) continue;
    for (const network::Line& line : system.lines())
      if (system.place_name(line.from) == box.name) return run_of(system, state, line);
  }
  return nullptr;
}

// A line is held by a high point, or by a part or the mouth of the pipe on an even fall.
bool is_high(const steady::LineState& line, double station_m) {
  for (std::size_t i = 1; i < line.points.size(); ++i)
    if (line.points[i].station_m == station_m)
      return line.points[i].elevation_m >= line.points[i - 1].elevation_m;
  return false;
}

/// Whether a line ends at a float valve that does not stand wide open.
bool ends_at_float(const network::System& system, const std::string& name) {
  const network::Line& line = system.lines()[static_cast<std::size_t>(*system.find_line(name))];
  const network::Tank* tank = system.tank(line.to);
  if (!tank) return false;
  const auto floats = network::floats_of(system.model(), *tank);
  return !floats.empty() && tank->level >= floats.front().shuts_at;
}

Sentence because(const network::System& system, const steady::State& state, const steady::LineState* blocked,
                 bool of_filling = false) {
  Sentence s;
  if (blocked)
    return s.say(", because ").name(blocked->name).say(" ").append(told(climb_of(system, *blocked)));
  if (const auto* line = limiting_line(system, state)) {
    // A float that is shut in a full tank, or passes just what is drawn, does not tell how the tank fills.
    if (of_filling && (line->condition == LineCondition::shut || ends_at_float(system, line->name))) return s;
    if (line->condition == LineCondition::shut) return what_shuts(system, line->name);
    s.say(", because ").name(line->name).say(" carries no more");
    if (line->governed_by_station_m) {
      s.say(is_high(*line, *line->governed_by_station_m) ? ": the high point at " : ": the point at ")
          .figure(Kind::length, *line->governed_by_station_m)
          .say(" holds it to ");
      s.figure(Kind::flow, std::abs(line->flow_m3s));
    }
    return s;
  }
  // A shut line is no reason why a tank fills slowly: it may well lead away from the tank.
  if (const auto* line = of_filling ? nullptr : line_in(state, LineCondition::shut))
    return what_shuts(system, line->name);
  double yield = 0.0;
  for (const network::Box& box : system.boxes()) yield += box.yield.si();
  if (yield > 0.0)
    return s.say(", because the spring gives only ")
        .figure(Kind::flow, yield)
        .say(" and the pipe takes all of it");
  const bool from_tank = std::any_of(system.lines().begin(), system.lines().end(), [&](const auto& line) {
    return system.kind(line.from) == network::PlaceKind::tank;
  });
  return from_tank ? s : s.say(", because no spring feeds it");
}

// Whether all needs that are missed are missed for the air alone: no pipe and no spring is to blame.
bool only_air(const std::vector<const AskResult*>& missed) {
  return std::all_of(missed.begin(), missed.end(), [](const AskResult* r) { return r->held_by_air(); });
}

// The way that lacks most height to start, of those held up for this reason.
const PathAir* worst_start(const FlowVerdict& verdict, air::StartReason reason) {
  const PathAir* worst = nullptr;
  if (!verdict.air) return worst;
  for (const PathAir& way : verdict.air->paths)
    if (way.start.reason == reason && (!worst || way.start.margin_m < worst->start.margin_m)) worst = &way;
  return worst;
}

// Without needs: what arrives, and nothing more is judged.
Sentence what_arrives(const network::System& system, const steady::State& primed, const FlowVerdict& verdict,
                      const char* opening) {
  // A siphon that loses its water gives what runs after that.
  const steady::State& state = verdict.after_siphons ? verdict.after_siphons->state : primed;
  struct Arrival {
    double flow;
    const std::string* name;
  };
  std::vector<Arrival> arrivals;
  bool held = false;
  for (const auto* places : {&state.outlets, &state.tanks})
    for (const steady::PlaceState& p : *places) {
      double flow = network::gets_m3s(p);
      if (verdict.air)
        if (const auto with_air = air_flow_at(system, state, *verdict.air, p.name)) {
          flow = std::min(flow, with_air->least_m3s);
          held = held || flow < with_air->without_m3s;
        }
      if (flow > network::no_flow_m3s) arrivals.push_back({flow, &p.name});
    }
  for (const steady::PlaceState& p : state.joints)
    if (p.draw_given_m3s > network::no_flow_m3s) arrivals.push_back({p.draw_given_m3s, &p.name});
  std::stable_sort(arrivals.begin(), arrivals.end(), [](auto& a, auto& b) { return a.flow > b.flow; });
  Sentence s;
  if (arrivals.empty() && is_good(verdict.ruling) && every_tap_shut(system)) {
    const bool one = system.outlets().size() == 1;
    s.say("No water runs, because ").name(one ? system.outlets().front().name : "every tap").say(" is shut.");
    return s.say(" Nothing is asked then.");
  }
  if (arrivals.empty())
    return s.say("It does not deliver: no water arrives anywhere")
        .append(because(system, state, line_in(state, LineCondition::blocked)))
        .say(".");
  s.say(opening);
  for (std::size_t i = 0; i < arrivals.size() && i < most_in_a_sentence; ++i) {
    if (i > 0) s.say("; ");
    s.figure(Kind::flow, arrivals[i].flow).say(" reach ").name(*arrivals[i].name);
  }
  if (arrivals.size() > most_in_a_sentence)
    s.say("; and " + std::to_string(arrivals.size() - most_in_a_sentence) +
          (arrivals.size() == most_in_a_sentence + 1 ? " more place" : " more places"));
  if (held) s.say(", as long as the air of the start stays in the lines");
  const bool no_velocity = system.model().velocity_asks.empty();
  if (something_drawn(system))
    return s.say(no_velocity ? ". Nothing is asked but what is drawn."
                             : ". No flow is asked but what is drawn.");
  return s.say(no_velocity ? ". The model asks for nothing, so whether that is enough is not judged."
                           : ". The model asks for no flow, so whether that is enough is not judged.");
}

/// Why the line does not start by itself, if it is trapped air that stops it.
Sentence held_at_start(const PathAir& held) {
  Sentence s;
  s.say("It will not start by itself: the air trapped on the way to ").name(held.path.end);
  s.say(" would need the water ").figure(Kind::head, -held.start.margin_m);
  return s.say(" higher than it stands in ").name(held.path.source).say(".");
}

constexpr std::size_t most_listed = 2;  // of what is met; more is a table

/// Where many needs are met: how many, and which of them by the least share of what is asked.
Sentence closest(const std::vector<const AskResult*>& met) {
  const auto share = [](const AskResult* r) {
    return r->asked.si > 0.0 ? r->margin_si() / r->asked.si : 0.0;
  };
  const auto least =
      std::min_element(met.begin(), met.end(), [&](auto* a, auto* b) { return share(a) < share(b); });
  Sentence s;
  s.say(std::to_string(met.size()) + " needs are met; the closest: ");
  return s.append(met_part(**least));
}

Sentence words(const char* text) { return Sentence().say(text); }

/// What is met, or what arrives where nothing is asked.
Sentence what_comes(const network::System& system, const steady::State& state, const FlowVerdict& verdict,
                    const Sentence& opening, const char* of_nothing_asked = "Water arrives: ") {
  std::vector<const AskResult*> met;
  for (const AskResult& r : verdict.asks)
    if (r.judged && r.met) met.push_back(&r);
  Sentence s;
  if (met.size() > most_listed) return s.append(opening).append(closest(met)).say(".");
  if (!met.empty()) return s.append(opening).append(listed(met, met_part)).say(".");
  if (!verdict.asks.empty()) return s;
  return what_arrives(system, state, verdict, of_nothing_asked);
}

/// How many things are wrong besides the one that is told.
Sentence more_wrong(std::size_t count, bool listed_below) {
  Sentence s;
  if (count == 0) return s;
  s.say(count == 1 ? " One more thing is wrong" : " " + std::to_string(count) + " more things are wrong");
  return s.say(listed_below ? "; see below." : ".");
}

/// Taps and valves come before any height: with them set otherwise, no high point would be in the way.
bool about_valves(const Reason& reason) {
  return reason.bound == Bound::shut_tap || reason.bound == Bound::other_taps ||
         reason.bound == Bound::held_valve;
}

/// The reason that was tried and found, of the first need that has one; else what the state itself shows.
Sentence why_missed(const network::System& system, const steady::State& state,
                    const std::vector<const AskResult*>& missed, bool all_primed) {
  Sentence s;
  const bool all_low =
      std::all_of(missed.begin(), missed.end(), [](const AskResult* r) { return r->low_water.has_value(); });
  if (all_primed || all_low || only_air(missed)) return s;
  for (const AskResult* r : missed)
    if (const auto high =
            r->ask.kind == AskKind::full_within ? full_beyond_reach(system, r->ask.at) : std::nullopt)
      return s.say(", because it is full only at ")
          .figure(Kind::elevation, high->full_m)
          .say(" and the water stands no higher than ")
          .figure(Kind::elevation, high->water_m)
          .say(" in ")
          .name(high->source);
  for (const AskResult* r : missed)
    if (const network::Outlet* tap = system.outlet(r->ask.at); tap && tap->shut && !r->reason)
      return s.say(", because ").name(tap->name).say(" is shut");
  for (const AskResult* r : missed)
    if (const auto place = system.find_place(r->ask.at); place && system.outlet(*place) &&
                                                         system.lines_at(*place).empty() &&
                                                         system.hangs_on(system.place(*place).index) < 0)
      return s.say(", because no pipe leads to ").name(r->ask.at);
  const auto* blocked = blocked_before(system, state, missed);
  for (const AskResult* r : missed)
    if (r->reason && (!blocked || about_valves(*r->reason))) {
      // What delays a filling is no reason for the other needs.
      if (missed.size() > 1 && r->ask.kind == AskKind::full_within)
        s.say(", ").name(r->ask.at).say(" because ");
      else
        s.say(", because ");
      return s.append(because_of(system, *r->reason, missed.size() > 1));
    }
  // What the state as drawn shows is no reason for a need that is missed while tanks fill, or at low water.
  const bool of_filling = std::all_of(missed.begin(), missed.end(), [](const AskResult* r) {
    return r->ask.kind == AskKind::full_within || r->low_water;
  });
  if (std::any_of(missed.begin(), missed.end(), [&](const AskResult* r) { return draws_all(state, *r); }))
    return s.say(", because no more is drawn there");
  return because(system, state, blocked, of_filling);
}

/// Needs that no pipe could meet together.
Sentence beyond_the_springs(const FlowVerdict& verdict) {
  Sentence s;
  const auto& all = verdict.asked_beyond;
  if (!all) return s;
  // The reason says so already where it is the spring.
  const auto said = [&](const AskResult& r) {
    return all->counts(r.ask.at) && (!r.reason || r.reason->bound == Bound::spring);
  };
  if (all->taps.size() == 1 && std::any_of(verdict.asks.begin(), verdict.asks.end(), said)) return s;
  s.say(all->taps.size() == 1 ? " At all hours " : " Together ");
  s.figure(Kind::flow, all->asked_m3s).say(" is asked, and the ");
  return s.say(all->springs == 1 ? "spring gives " : "springs give ")
      .figure(Kind::flow, all->springs_m3s)
      .say(".");
}

/// Whether nothing is broken, but what is drawn does not come.
bool is_about_draws(const std::string& code) {
  return code == "draw-not-met" || code == "draw-missed-in-its-hours" || code == "tank-runs-empty" ||
         code == "tank-sinks-day-by-day" || code == "yield-falls";
}

/// Whether something breaks, or water runs where it does damage, as soon as it is built.
bool does_harm(const std::string& code) {
  return code == "static-above-rating" || code == "running-above-rating" || code == "overflow-too-small" ||
         code == "overflow-overtops";
}

/// What it comes to that something is wrong though no need is missed.
const char* what_is_wrong(const FlowVerdict& verdict, const Finding& wrong) {
  if (does_harm(wrong.code)) return "It must not be built as it is. ";
  if (is_of_velocity(wrong)) return "It does not run as it is asked to. ";
  if (wrong.code == "friction-constants-unusual") return "It must not be relied on as it is. ";
  return verdict.asks.empty() ? "It does not run as it should. " : "It does not deliver. ";
}

Sentence fails_sentence(const network::System& system, const steady::State& state, const FlowVerdict& verdict,
                        bool listed_below) {
  Sentence s;
  // A siphon whose column breaks runs for nobody, whatever the balances say.
  for (const Finding& f : verdict.findings)
    if (f.code == "pressure-below-air" && f.severity == Severity::error)
      return s.say("It does not deliver: at the top of ")
          .name(f.where.pipeline)
          .say(" the pressure falls so low that the column of water breaks.");
  if (Sentence brief = not_for_long(verdict); !brief.empty()) return brief;
  std::vector<const AskResult*> missed;
  for (const AskResult& r : verdict.asks)
    if (r.judged && !r.met) missed.push_back(&r);
  const bool all_primed =
      std::all_of(missed.begin(), missed.end(), [](auto* r) { return r->met_only_primed; });
  if (!missed.empty())
    return s.say("It does not deliver: ")
        .append(listed(missed, missed_part))
        .append(why_missed(system, state, missed, all_primed))
        .say(".")
        .append(beyond_the_springs(verdict));
  if (const PathAir* held = worst_start(verdict, air::StartReason::air)) {
    const Sentence then = what_comes(system, state, verdict, words("Once running it would deliver: "),
                                     "Once running, water would arrive: ");
    return s.append(held_at_start(*held)).say(then.empty() ? "" : " ").append(then);
  }
  const auto wrong = bearing_on(verdict, Ruling::fails);
  for (const Finding* f : wrong)
    if (f->code == "need-fails-in-dry-season" || f->code == "tank-dry-in-year")
      return s.say("It does not deliver all year. ")
          .append(sentence_of(*f))
          .append(more_wrong(wrong.size() - 1, listed_below));
  if (!verdict.asks.empty() || wrong.front()->code != "no-water-arrives") {
    const bool dry = is_about_draws(wrong.front()->code);
    s.say(dry ? "It does not deliver. " : what_is_wrong(verdict, *wrong.front()));
    s.append(sentence_of(*wrong.front()));
    s.append(more_wrong(wrong.size() - 1, listed_below));
    if (dry) return s;
    const Sentence comes = what_comes(system, state, verdict, words("Otherwise it would deliver: "),
                                      "As it is, water arrives: ");
    return s.say(comes.empty() ? "" : " ").append(comes);
  }
  return what_arrives(system, state, verdict, "Water arrives: ");
}

Sentence open_sentence(const network::System& system, const steady::State& state,
                       const FlowVerdict& verdict) {
  const auto open = bearing_on(verdict, Ruling::cannot_be_said);
  Sentence s;
  s.say(verdict.asks.empty() ? "It cannot be said whether it works, because "
                             : "It cannot be said whether it delivers, because ");
  for (std::size_t i = 0; i < open.size() && i < most_in_a_sentence; ++i)
    s.say(i > 0 ? "; " : "").append(open_question(*open[i]));
  if (open.size() > most_in_a_sentence)
    s.say("; and for " + std::to_string(open.size() - most_in_a_sentence) +
          (open.size() == most_in_a_sentence + 1 ? " more reason" : " more reasons"));
  const Sentence comes = what_comes(system, state, verdict, words("As far as it is judged: "));
  return s.say(comes.empty() ? "." : ". ").append(comes);
}

}  // namespace

Sentence open_question(const Finding& f) {
  Sentence s;
  if (f.code == "rating-unknown")
    return s.say("what pressure the pipe of ").name(f.where.pipeline).say(" stands is not known");
  if (f.code == "air-start-doubtful")
    return s.say("whether water reaches ").name(f.where.place).say(" from empty is doubtful");
  if (f.code == "ask-not-judged" && f.where.place.empty())
    return s.say("how fast water may run in ").name(f.where.pipeline).say(" is not judged in every state");
  if (f.code == "ask-not-judged") return s.say("the need at ").name(f.where.place).say(" is not judged");
  if (f.code == "split-decides")
    return s.say("no calculation can tell how the water divides at ")
        .name(f.where.place)
        .say(", which does not run full");
  if (f.code == "split-decides-at-times")
    return s.say("no calculation can tell how the water divides at ")
        .name(f.where.place)
        .say(" at times when it does not run full");
  if (f.code == "draws-not-judged") return s.say("what is drawn was not followed hour by hour");
  if (!f.where.pipeline.empty())
    return s.say("what trapped air takes in ").name(f.where.pipeline).say(" is not worked out");
  return s.say("not every way was judged for trapped air");
}

Sentence flow_sentence(const network::System& system, const steady::State& state, const FlowVerdict& verdict,
                       bool listed_below) {
  Sentence s;
  switch (verdict.ruling) {
    case Ruling::no_answer:
      return s.say("No answer: the calculation did not settle, so nothing can be said about this system.");
    case Ruling::unproved:
      return s.say(
          "No answer: it did not pass the check that works it out again, so nothing can be said about "
          "this system.");
    case Ruling::fails:
      return fails_sentence(system, state, verdict, listed_below);
    case Ruling::cannot_be_said:
      return open_sentence(system, state, verdict);
    case Ruling::only_if: {
      const Sentence when = condition_of(verdict);
      Sentence opening;
      opening.say("It delivers only ").append(when).say(": ");
      s = what_comes(system, state, verdict, opening);
      if (s.empty())
        s.say("It delivers only ").append(when).say(". Nothing is asked of it under this setting.");
      if (verdict.asks.empty()) s.say(" It runs only ").append(when).say(".");
      break;
    }
    case Ruling::holds:
      s = what_comes(system, state, verdict, words("It delivers: "));
      if (s.empty()) s.say("Nothing is asked of it under this setting.");
      break;
  }
  return s.append(lasts_how_long(verdict, Sentence().say(" But ")));
}

}  // namespace runnel::verdict
