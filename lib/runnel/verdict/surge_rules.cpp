// What a valve that snaps shut does to the pipes on the way of its wave (surge_way.h): their ratings. Where
// the wave's other half tears the water apart is in surge_parting.cpp.
#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>

#include "runnel/network/change.h"
#include "runnel/pipes/surge.h"
#include "runnel/pipes/surge_limits.h"
#include "runnel/pipes/wall_stiffness.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/say_others.h"
#include "runnel/verdict/surge_way.h"
#include "runnel/verdict/use_states.h"

namespace runnel::verdict {
namespace {

constexpr Code surge_above_rating_rule{
    "surge-above-rating",
    "a valve shut quickly may burst the pipe",
    "If the valve named shuts faster than the pressure wave runs to the nearest open water and back, the "
    "speed of the water that it stops turns into pressure, in every pipe on that way. Added to what "
    "stands or runs there, whichever is more, it passes what the pipe stands for a moment: for PE 1.5 "
    "times the rating at taps and floats and twice at valves in a line, for PVC and what has no rule the "
    "rating itself. The pipe is taken as held fast by the ground, which is worse; both figures are given. "
    "What branches"
    " take off the wave is left out, and so is what the shut end of another branch adds.",
    "It happens in a fraction of a second, each time the valve snaps shut.",
    "Let the valve close slowly, take a larger pipe so that the water runs slower, or a stronger one.",
    "[joukowsky-korteweg]; [pipe-restraint]; PE [awwa-pe, from memory]; PVC [cp-312, secondary]; closure "
    "slower than 2L/a by the linear rule [slow-closure]"};

constexpr Code surge_not_judged_rule{
    "surge-not-judged",
    "the blow of a quick valve cannot be worked out",
    "A pipe on the way of the wave has no rating, no wall, or no stiffness of the wall in the model, and "
    "its material does not tell it.",
    "Whether it stands a tap that snaps shut is then unknown, not good.",
    "Write `wall:`, `modulus:` and `rating:` on the pipe, or take it from the catalogue.",
    "wave speed from bore, wall and modulus [joukowsky-korteweg]"};

// The family of materials for which the surge rules are written.
std::string_view family_of(std::string_view material) {
  for (std::string_view family : {"PEX", "PE", "PVC"})
    if (material.substr(0, family.size()) == family) return family;
  return {};
}

// The greatest total pressure by the strictest rule for the material; where there is none, the rating itself.
struct Allowed {
  double total_pa = 0.0;
  const pipes::SurgeRule* rule = nullptr;
};

Allowed allowed_for_a_moment(const Case& c, const SurgedStretch& s, pipes::SurgeKind kind, double rating_pa) {
  Allowed least{rating_pa, nullptr};
  const Velocity slow;  // no stop comes on top: it would only make a rule milder
  for (const pipes::SurgeRule& rule : pipes::surge_rules()) {
    if (rule.material != family_of(s.pipe->material)) continue;
    const auto total = pipes::most_total_pressure(rule, kind, Pressure::pascals(rating_pa), slow,
                                                  c.system.site().water.density_kgm3);
    if (total && (!least.rule || total->pascals() < least.total_pa)) least = {total->pascals(), &rule};
  }
  return least;
}

std::string_view how_sure(pipes::Certainty certainty) {
  switch (certainty) {
    case pipes::Certainty::found:
      return "found";
    case pipes::Certainty::secondary:
      return "secondary";
    default:
      return "from memory";
  }
}

// The worst load of one line.
struct Overload {
  const Surge* surge = nullptr;
  const SurgedStretch* stretch = nullptr;
  Allowed allowed;
  double standing_pa = 0.0, station_m = 0.0, rating_pa = 0.0;
  double wave_pa = 0.0;
  double excess() const { return (standing_pa + wave_pa) / allowed.total_pa; }
};

struct Standing {
  double head_m = 0.0, station_m = 0.0;
};

// Before the valve the greater of the standing and the running pressure there; behind it the running one.
Standing greatest_on(const SurgedStretch& s) {
  Standing most{0.0, s.to_m};
  const PointRange on = points_on(s);
  for (std::size_t i = on.first; i < on.last; ++i) {
    const steady::LinePoint& p = s.run->points[i];
    const double running = p.pressure_head_m.value_or(0.0);
    const double head = s.before ? std::max(running, p.static_head_m.value_or(0.0)) : running;
    if (head > most.head_m) most = {head, p.station_m};
  }
  return most;
}

std::optional<Overload> overload(const Case& c, const Surge& surge, const SurgedStretch& s) {
  const auto load = surge_load(c, surge, s);
  if (!load) return std::nullopt;
  Overload o{&surge, &s, {load->allowed_pa, load->rule}};
  o.standing_pa = load->standing_pa;
  o.station_m = load->station_m;
  o.rating_pa = load->rating_pa;
  o.wave_pa = load->wave_held_pa;
  // A line whose static pressure alone is too high is reported by another rule.
  if (o.standing_pa > o.rating_pa || o.standing_pa + o.wave_pa <= o.allowed.total_pa) return std::nullopt;
  return o;
}

void say_how_held(const Case& c, const Overload& o, Sentence& s) {
  const SurgeHead& head = *o.stretch->head;
  if (head.hold_known) {
    s.say(" So much if the ground holds the pipe fast; ").figure(pressure_of_head(c.system, head.free_m));
    s.say(" if it lies free.");
  } else {
    s.say(
        " So much if the pipe lies free; pipe that the ground holds fast feels more, and how much more is "
        "not known without its material.");
  }
}

std::string source_of(const Overload& o) {
  std::string text = "a V/g [joukowsky-korteweg], pipe free or held throughout [pipe-restraint]";
  const pipes::WallStiffness* wall = pipes::wall_stiffness(o.stretch->pipe->material);
  if (!(o.stretch->pipe->modulus_pa > 0.0) && wall)
    text += "; modulus: the stiffest of " + std::string(wall->source);
  if (!o.allowed.rule) return text + "; the rating itself is the limit, no rule for a moment being known";
  return text + "; limit: " + std::string(o.allowed.rule->source) + ", " +
         std::string(how_sure(o.allowed.rule->certainty));
}

Finding overload_finding(const Case& c, const std::vector<Overload>& all, const Sentence& when) {
  const Overload& o = all.front();
  const std::string& line = o.stretch->line->name;
  Draft d(surge_above_rating_rule, Severity::warning);
  d.on_line(line, o.station_m);
  d.against({Kind::pressure, o.standing_pa + o.wave_pa}, {Kind::pressure, o.allowed.total_pa});
  if (!when.empty()) d.message.append(when).say(": if ");
  d.message.say(when.empty() ? "If " : "")
      .name(o.surge->valve)
      .say(" snaps shut, ")
      .name(line)
      .say(" feels ");
  d.message.figure(Kind::pressure, o.wave_pa).say(" at ").figure(Kind::length, o.station_m);
  d.message.say(" on top of ").figure(Kind::pressure, o.standing_pa).say("; ");
  d.message.name(o.stretch->pipe->name).say(" is rated for ").figure(Kind::pressure, o.rating_pa);
  if (o.allowed.total_pa > o.rating_pa)
    d.message.say(" and for a moment stands ").figure(Kind::pressure, o.allowed.total_pa);
  d.message.say(".");
  say_how_held(c, o, d.message);
  say_others(
      d.message, all, [](const Overload& x) { return x.stretch->line->name; },
      [](const Overload& x) { return x.surge->valve; });
  // The linear rule: a rise falls as the closing takes longer than the wave's return [slow-closure].
  double closing_s = 0.0;
  for (const Overload& x : all)
    closing_s = std::max(closing_s, x.surge->return_s * x.wave_pa / (x.allowed.total_pa - x.standing_pa));
  d.advice.say("See that ").name(o.surge->valve).say(" takes longer than ").figure(Kind::duration, closing_s);
  d.advice.say(" to shut, evenly, or take a larger or a stronger pipe.");
  d.source(source_of(o));
  return d.done();
}

// What is missing to judge a pipe; empty if nothing is.
std::string missing_of(const SurgedStretch& s) {
  std::string missing;
  const auto add = [&](const char* what) { missing += (missing.empty() ? "" : ", ") + std::string(what); };
  const bool stiff = s.pipe->modulus_pa > 0.0 || pipes::wall_stiffness(s.pipe->material);
  if (!(s.pipe->wall > Length{})) add("wall");
  if (!stiff) add("modulus");
  if (!(s.pipe->rating > Pressure{})) add("rating");
  return missing;
}

void not_judged(const std::vector<Surge>& all, Findings& out) {
  std::set<std::string> seen;
  std::vector<std::pair<std::string, std::string>> items;
  const SurgedStretch* first = nullptr;
  for (const Surge& surge : all)
    for (const SurgedStretch& s : surge.stretches) {
      const std::string missing = s.before ? missing_of(s) : std::string();
      if (missing.empty() || !seen.insert(s.line->name + "\n" + s.pipe->name).second) continue;
      if (!first) first = &s;
      items.emplace_back(pipe_on(*s.line, *s.pipe), missing);
    }
  if (items.empty()) return;
  Draft d(surge_not_judged_rule, Severity::note);
  d.on_line(first->line->name);
  d.message.say("Whether the pipe stands a valve that snaps shut cannot be judged: not known are the ");
  d.message.name(items[0].second).say(" of ").name(items[0].first).say(".");
  say_others(
      d.message, items, [](const auto& x) { return x.first; }, [](const auto& x) { return x.second; });
  d.advice.say("Write the pipe's `wall`, `modulus` and `rating`, or take it from the catalogue.");
  out.push_back(d.done());
}

/// The worst load of each line.
std::map<const network::Line*, Overload> overloads(const Case& c, const std::vector<Surge>& all) {
  std::map<const network::Line*, Overload> over;
  for (const Surge& surge : all)
    for (const SurgedStretch& s : surge.stretches) {
      const auto o = overload(c, surge, s);
      if (o && (!over[s.line].surge || o->excess() > over[s.line].excess())) over[s.line] = *o;
    }
  std::erase_if(over, [](const auto& one) { return !one.second.surge; });
  return over;
}

/// Tells the lines that are struck so and were not told before.
void pipes_struck(const Case& c, const std::vector<Surge>& all, const Sentence& when,
                  std::set<std::string>& told, Findings& out) {
  std::vector<Overload> loads;
  for (const auto& [line, worst] : overloads(c, all))
    if (told.insert(line->name).second) loads.push_back(worst);
  std::ranges::stable_sort(loads, std::greater{}, &Overload::excess);
  if (!loads.empty()) out.push_back(overload_finding(c, loads, when));
}

/// Float valves and taps that are not open together may let water run faster than it does as drawn.
void pipes_struck_in_use(const Case& c, const Sentence& at_most, std::set<std::string>& told, Findings& out) {
  for (const UseState& use : use_states(c.system)) {
    const Case then{use.system, use.state, c.asks};
    pipes_struck(then, surges(then), Sentence(use.when).append(at_most), told, out);
  }
}

/// So may springs that give the most that they are known to give.
void pipes_struck_when_wet(const Case& c, std::set<std::string>& told, Findings& out) {
  const std::vector<Flow> most = dry::most_yields(c.system);
  if (most == dry::yields_now(c.system)) return;
  const network::System wet = network::with_yields(c.system, most);
  const steady::State state = steady::solve(wet);
  if (!state.proved()) return;
  const Case then{wet, state, c.asks};
  pipes_struck(then, surges(then), Sentence().say("With the most that is known to come"), told, out);
  pipes_struck_in_use(then, Sentence().say(" and with the most that is known to come"), told, out);
}

}  // namespace

std::optional<SurgeLoad> surge_load(const Case& c, const Surge& surge, const SurgedStretch& s) {
  const auto rating = allowed_pressure_pa(c.system, *s.pipe);
  if (!s.head || !rating || !(*rating > 0.0)) return std::nullopt;
  const Standing most = greatest_on(s);
  const Allowed allowed = allowed_for_a_moment(c, s, surge.kind, *rating);
  SurgeLoad load;
  load.station_m = most.station_m;
  load.standing_pa = pressure_of_head(c.system, most.head_m).si;
  load.wave_free_pa = pressure_of_head(c.system, s.head->free_m).si;
  load.wave_held_pa = pressure_of_head(c.system, s.head->held_m).si;
  load.rating_pa = *rating;
  load.allowed_pa = allowed.total_pa;
  load.rule = allowed.rule;
  return load;
}

void quick_shutting(const Case& c, Findings& out) {
  const std::vector<Surge> all = surges(c);
  std::set<std::string> told;
  pipes_struck(c, all, {}, told, out);
  pipes_struck_in_use(c, {}, told, out);
  pipes_struck_when_wet(c, told, out);
  columns_parted(c, all, out);
  not_judged(all, out);
}

std::vector<Code> surge_codes() { return {surge_above_rating_rule, surge_not_judged_rule}; }

}  // namespace runnel::verdict
