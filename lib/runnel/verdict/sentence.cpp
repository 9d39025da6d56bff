// The one sentence at the top of every answer.
#include <algorithm>
#include <cmath>

#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/store_rules.h"

namespace runnel::verdict {
namespace {

using network::AskKind;
using steady::LineCondition;

constexpr std::size_t most_named = 3;  // a sentence that names more places is a table
constexpr double no_flow = 1e-9;       // m3/s: a drop a minute

Sentence met_part(const AskResult& r) {
  Sentence s;
  s.figure(*r.got).say(r.ask.kind == AskKind::flow ? " reach " : " at ").name(r.ask.at);
  if (r.margin_si() > 1e-3 * r.asked.si)
    s.say(", ").figure(r.asked.kind, r.margin_si()).say(" more than asked");
  else
    s.say(", just what is asked");
  return s;
}

Sentence missed_part(const AskResult& r) {
  Sentence s;
  const bool flow = r.ask.kind == AskKind::flow;
  s.name(r.ask.at);
  if (!r.got || (flow && r.got->si <= no_flow))
    s.say(" gets no water, and ").figure(r.asked).say(" is asked");
  else
    s.say(flow ? " gets " : " has ").figure(*r.got).say(" of the ").figure(r.asked).say(" asked");
  if (r.met_only_primed) s.say(" once the siphon has lost its water");
  if (!r.held_by_air()) return s;
  s.say(", ");
  say_held(r.air->held, s);
  return s.say("; without it ").figure(*r.air->without);
}

template <class Part>
Sentence listed(const std::vector<const AskResult*>& results, Part part) {
  Sentence s;
  for (std::size_t i = 0; i < results.size() && i < most_named; ++i) {
    if (i > 0) s.say("; ");
    s.append(part(*results[i]));
  }
  if (results.size() > most_named) s.say("; and " + std::to_string(results.size() - most_named) + " more");
  return s;
}

const steady::LineState* line_in(const steady::State& state, LineCondition condition) {
  for (const steady::LineState& line : state.lines)
    if (line.condition == condition) return &line;
  return nullptr;
}

// The line that takes water from a box that spills: the pipe is what limits.
const steady::LineState* limiting_line(const network::System& system, const steady::State& state) {
  for (const steady::PlaceState& box : state.boxes) {
    if (!(box.spill_m3s > no_flow)) continue;
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

Sentence because(const network::System& system, const steady::State& state) {
  Sentence s;
  if (const auto* line = line_in(state, LineCondition::blocked)) {
    s.say(", because ").name(line->name).say(" climbs to ");
    if (const steady::LinePoint* top = highest_point(*line))
      s.figure(Kind::elevation, top->elevation_m).say(" at ").figure(Kind::length, top->station_m);
    else
      s.say("a high point");
    if (const auto water = water_before(*line))
      s.say(" and the water before it stands no higher than ").figure(Kind::elevation, *water);
    return s;
  }
  if (const auto* line = limiting_line(system, state)) {
    if (line->condition == LineCondition::shut)
      return s.say(", because a valve on ").name(line->name).say(" is shut");
    s.say(", because ").name(line->name).say(" carries no more");
    if (line->governed_by_station_m) {
      s.say(is_high(*line, *line->governed_by_station_m) ? ": the high point at " : ": the point at ")
          .figure(Kind::length, *line->governed_by_station_m)
          .say(" holds it to ");
      s.figure(Kind::flow, std::abs(line->flow_m3s));
    }
    return s;
  }
  if (const auto* line = line_in(state, LineCondition::shut))
    return s.say(", because a valve on ").name(line->name).say(" is shut");
  double yield = 0.0;
  for (const network::Box& box : system.boxes()) yield += box.yield.si();
  if (system.tanks().empty() || yield > 0.0)
    return s.say(", because the spring gives only ")
        .figure(Kind::flow, yield)
        .say(" and the pipe takes all of it");
  return s;
}

// Every ask missed is missed for the air alone: no pipe and no spring is to blame.
bool only_air(const std::vector<const AskResult*>& missed) {
  return std::all_of(missed.begin(), missed.end(), [](const AskResult* r) { return r->held_by_air(); });
}

// The way that lacks most height to start, among those held up for this reason.
const PathAir* worst_start(const FlowVerdict& verdict, air::StartReason reason) {
  const PathAir* worst = nullptr;
  if (!verdict.air) return worst;
  for (const PathAir& way : verdict.air->paths)
    if (way.start.reason == reason && (!worst || way.start.margin_m < worst->start.margin_m)) worst = &way;
  return worst;
}

// Without asks: what arrives, and nothing more is judged.
Sentence what_arrives(const network::System& system, const steady::State& state, const FlowVerdict& verdict,
                      bool only_once_running) {
  struct Arrival {
    double flow;
    const std::string* name;
  };
  std::vector<Arrival> arrivals;
  bool held = false;
  for (const auto* places : {&state.outlets, &state.tanks})
    for (const steady::PlaceState& p : *places) {
      double flow = p.kind == network::PlaceKind::outlet ? p.flow_m3s : p.inflow_m3s;
      if (verdict.air)
        if (const auto with_air = air_flow_at(system, state, *verdict.air, p.name)) {
          flow = std::min(flow, with_air->least_m3s);
          held = held || flow < with_air->without_m3s;
        }
      if (flow > no_flow) arrivals.push_back({flow, &p.name});
    }
  for (const steady::PlaceState& p : state.joints)
    if (p.draw_given_m3s > no_flow) arrivals.push_back({p.draw_given_m3s, &p.name});
  std::stable_sort(arrivals.begin(), arrivals.end(), [](auto& a, auto& b) { return a.flow > b.flow; });
  Sentence s;
  if (arrivals.empty())
    return s.say("It does not deliver: no water arrives anywhere").append(because(system, state)).say(".");
  s.say(only_once_running ? "Once running, water would arrive: " : "Water arrives: ");
  for (std::size_t i = 0; i < arrivals.size() && i < most_named; ++i) {
    if (i > 0) s.say("; ");
    s.figure(Kind::flow, arrivals[i].flow).say(" reach ").name(*arrivals[i].name);
  }
  if (arrivals.size() > most_named)
    s.say("; and " + std::to_string(arrivals.size() - most_named) + " more places");
  if (held) s.say(", as long as the air of the start stays in the lines");
  return s.say(". The model asks for nothing, so whether that is enough is not judged.");
}

}  // namespace

Sentence flow_sentence(const network::System& system, const steady::State& state,
                       const FlowVerdict& verdict) {
  Sentence s;
  if (state.outcome != steady::Outcome::settled)
    return s.say("No answer: the calculation did not settle, so nothing can be said about this system.");
  // A siphon whose column breaks runs for nobody, whatever the balances say.
  for (const Finding& f : verdict.findings)
    if (f.code == "pressure-below-air" && f.severity == Severity::error)
      return s.say("It does not deliver: at the top of ")
          .name(f.where.pipeline)
          .say(" the pressure falls so low that the column of water breaks.");
  std::vector<const AskResult*> met, missed;
  for (const AskResult& r : verdict.asks)
    if (r.judged) (r.met ? met : missed).push_back(&r);
  if (Sentence brief = not_for_long(verdict); !brief.empty()) return brief;
  const bool all_primed =
      std::all_of(missed.begin(), missed.end(), [](auto* r) { return r->met_only_primed; });
  if (!missed.empty())
    return s.say("It does not deliver: ")
        .append(listed(missed, missed_part))
        .append(all_primed || only_air(missed) ? Sentence() : because(system, state))
        .say(".");
  const PathAir* held = worst_start(verdict, air::StartReason::air);
  if (held) {
    s.say("It will not start by itself: trapped air on the way to ").name(held->path.end).say(" asks for ");
    s.figure(Kind::head, -held->start.margin_m)
        .say(" more height than ")
        .name(held->path.source)
        .say(" has. ");
  }
  if (met.empty())
    s.append(what_arrives(system, state, verdict, held != nullptr));
  else
    s.say(held ? "Once running it would deliver: " : "It delivers: ").append(listed(met, met_part)).say(".");
  if (!held && worst_start(verdict, air::StartReason::compression_needed))
    s.say(" But whether it starts from empty is doubtful.");
  const bool by_hand = std::any_of(verdict.findings.begin(), verdict.findings.end(),
                                   [](const Finding& f) { return f.code == "siphon-needs-filling"; });
  if (by_hand) s.say(" But it must be filled by hand before it runs.");
  s.append(lasts_how_long(verdict));
  const auto wrong = std::count_if(verdict.findings.begin(), verdict.findings.end(), [](const Finding& f) {
    return f.severity == Severity::error && f.code != "air-start-blocked";
  });
  if (wrong > 0 && !met.empty())
    s.say(wrong == 1 ? " But one thing is wrong; see below."
                     : " But " + std::to_string(wrong) + " things are wrong; see below.");
  return s;
}

}  // namespace runnel::verdict
