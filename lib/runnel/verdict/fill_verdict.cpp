#include "runnel/verdict/fill_verdict.h"

#include <algorithm>

#include "runnel/filling/typical_day.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/network/mouths.h"
#include "runnel/network/no_flow.h"
#include "runnel/verdict/asked.h"
#include "runnel/verdict/beyond_reach.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/empty_lines.h"
#include "runnel/verdict/fill_beside.h"
#include "runnel/verdict/fill_sentence.h"
#include "runnel/verdict/filling_needs.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/shortfall.h"

namespace runnel::verdict {
namespace {

constexpr Code tank_never_full_rule{
    "tank-never-full",
    "a tank that never fills",
    "At some level below the float valve or the lip just as much runs in as runs out, and there it stays.",
    "The upper part of the tank is never used, and a float valve that never shuts hides that more is "
    "drawn than the line gives.",
    "Raise the source, enlarge the pipe, draw less, or let the water enter above the water level.",
    "computed: the level at which inflow and outflow are equal"};

constexpr Code tank_runs_empty_rule{
    "tank-runs-empty",
    "a tank that runs empty",
    "More is drawn than runs in and the tank had stored, so for a while only what runs in can be drawn.",
    "Stock goes thirsty, taps run dry, and air gets into the lines that leave the tank.",
    "If more runs in over a whole day than is drawn, a larger tank bridges the hours; else more water, or"
    " fewer heads, must be found.",
    "computed: the draws of the model against what is stored",
    Filling::follows};

constexpr Code outlet_dry_at_times_rule{
    "outlet-dry-at-times",
    "an outlet that gives nothing at times",
    "While tanks and boxes rise and fall there are instants at which no water comes out of it.",
    "Whoever opens the tap then finds it dry, though it runs when `flow` looks.",
    "See which tank or box runs low at that time; draw less from it, or lead its line out lower.",
    "computed: what comes out at each instant"};

constexpr Code tank_spills_rule{"tank-spills",
                                "a tank runs over",
                                "The tank is full to its lip and more runs in than is drawn.",
                                "That water is lost to the places before it, and where it runs it makes mud.",
                                "A float valve shuts the line; or lead the overflow away through a pipe.",
                                "computed"};

using filling::FillHistory;
using filling::FillOutcome;
using filling::RestKind;
using filling::StorageHistory;
using network::PlaceKind;

/// Whether it ran to its end, or to where it was stopped, so that what it brought counts.
bool reached(const FillHistory& history) {
  return history.outcome == FillOutcome::done || history.outcome == FillOutcome::stopped;
}

double goal_m(const network::System& system, const StorageHistory& tank) {
  const network::Tank* t = system.tank(tank.name);
  if (!t) return tank.end_level_m;
  return network::full_level(system.model(), *t).metres();
}

double missing_m3(const StorageHistory& tank) {
  double sum = 0.0;
  for (const filling::Shortfall& day : tank.short_days) sum += day.missing_m3;
  return sum;
}

AskResult judge_full_within(const network::System& system, const network::Ask& ask,
                            const FillHistory& history, const FillSeen& seen) {
  AskResult r;
  r.ask = ask;
  r.asked = asked_figure(ask);
  const StorageHistory* tank = history.storage(ask.at);
  if (!reached(history) || !fill_proved(history) || !tank) {
    r.why_not_judged = "no answer was reached";
  } else if (no_water_from_empty(system, seen, ask.at)) {
    r.judged = true;
  } else if (tank->full_after_s) {
    const EmptyLines lines = lines_fill(system, history, seen, ask.at);
    r.why_not_judged = lines.why_not;
    if (!lines.later_s) return r;
    r.judged = true;
    r.got = Figure{Kind::duration, *lines.later_s + *tank->full_after_s};
    r.met = r.got->si <= r.asked.si * (1.0 + rounding);
  } else if (tank->never_m || history.duration_s >= r.asked.si) {
    r.judged = true;
  } else {
    r.why_not_judged = "the run ended before that time was over";
  }
  return r;
}

bool is_cut_off(const std::string& place, const FillSeen& seen) {
  return std::find(seen.cut_off.begin(), seen.cut_off.end(), place) != seen.cut_off.end();
}

/// Whether so much is drawn there at some hour that a longer run would judge it.
bool due_at_other_hours(const network::System& system, const network::Ask& ask) {
  const network::Outlet* tap = system.outlet(ask.at);
  const network::Joint* joint = system.joint(ask.at);
  if (!tap && !joint) return false;
  const auto& draws = tap ? tap->draws : joint->draws;
  if (draws.empty()) return false;
  return ask.kind == network::AskKind::pressure ||
         network::busiest_hour(draws).si() >= ask.flow.si() * (1.0 - rounding);
}

/// A need that no instant of the run could show, as the steady answer judged it: a tap at which less is drawn
/// than is asked, say, is judged wide open there.
const AskResult* judged_by_flow(const network::System& system, std::size_t ask, const FillHistory& history,
                                const FillSeen& seen) {
  if (due_at_other_hours(system, system.asks()[ask])) return nullptr;
  if (!reached(history) || !fill_proved(history) || ask >= seen.flow_asks.size()) return nullptr;
  return seen.flow_asks[ask].judged ? &seen.flow_asks[ask] : nullptr;
}

/// The steady answer on a time to fill, where it knows that air makes it longer than the run shows.
const AskResult* judged_with_air(std::size_t i, const network::Ask& ask, const FillSeen& seen) {
  if (ask.kind != network::AskKind::full_within || i >= seen.flow_asks.size()) return nullptr;
  const AskResult& known = seen.flow_asks[i];
  return known.why_not_judged == slowed_by_air ? &known : nullptr;
}

void judge_all(const network::System& system, const FillHistory& history, const FillSeen& seen,
               FillVerdict& verdict) {
  for (std::size_t i = 0; i < system.asks().size(); ++i) {
    const network::Ask& ask = system.asks()[i];
    AskResult r;
    double at_s = 0.0;
    if (ask.kind == network::AskKind::full_within) {
      r = judge_full_within(system, ask, history, seen);
    } else if (seen.watch && i < seen.watch->asks().size() && reached(history) && fill_proved(history)) {
      r = seen.watch->asks()[i].least;
      at_s = seen.watch->asks()[i].at_s;
    } else {
      r.ask = ask;
      r.asked = asked_figure(ask);
      r.why_not_judged = reached(history) && fill_proved(history)
                             ? "nobody looked at what runs from instant to instant"
                             : "no answer was reached";
    }
    // A tank that is drawn full is asked how long it takes from its floor, which the steady answer follows.
    const bool drawn_full =
        ask.kind == network::AskKind::full_within && r.judged && r.got && !(r.got->si > 0.0);
    const AskResult* in_air = judged_with_air(i, ask, seen);
    if (in_air) r = *in_air;
    if (drawn_full || (!r.judged && ask.kind != network::AskKind::full_within))
      if (const AskResult* known = judged_by_flow(system, i, history, seen)) r = *known;
    if (is_cut_off(ask.at, seen)) {
      r.judged = r.met = false;
      r.cut_off = true;
      r.got.reset();
      r.why_not_judged = "the setting itself shuts the water off there";
    }
    verdict.asks.push_back(std::move(r));
    verdict.least_at_s.push_back(at_s);
    verdict.never_more.push_back(seen.watch && i < seen.watch->asks().size() &&
                                 seen.watch->never_met_from_empty(i));
  }
}

void say_full_within(const network::System& system, const AskResult& r, const FillSeen& seen, Draft& d) {
  if (!r.judged) {
    d.message.say("Whether ").name(r.ask.at).say(" is full within ").figure(r.asked);
    d.message.say(" is not judged: " + r.why_not_judged + ".");
  } else if (r.got) {
    d.message.name(r.ask.at).say(" is full after ").figure(*r.got);
    d.message.say(seen.lines_empty ? ", the filling of its lines counted, and " : ", and ").figure(r.asked);
    d.message.say(" is asked.");
    d.against(*r.got, r.asked);
  } else {
    d.message.name(r.ask.at).say(" is not full within the ").figure(r.asked).say(" asked");
    d.message.say(no_water_from_empty(system, seen, r.ask.at) ? ": from empty no water reaches it." : ".");
  }
  if (!r.judged) return;
  if (const auto high = full_beyond_reach(system, r.ask.at))
    d.advice.append(set_lower(r.ask.at, *high));
  else
    d.advice.say("More spring, a larger pipe, or less drawn while it fills.");
}

bool springs_give(const network::System& system) {
  return std::any_of(system.boxes().begin(), system.boxes().end(),
                     [](const network::Box& box) { return box.yield > Flow{}; });
}

/// "9 h after the start", "from the start".
void say_when(double at_s, Draft& d) {
  if (at_s > 0.0)
    d.message.figure(Kind::duration, at_s).say(" after the start");
  else
    d.message.say("from the start");
}

/// Whether a tank came so low that it only passed on what ran in.
bool sank_to_mouth(const network::System& system, const StorageHistory& storage) {
  constexpr double hand_m = 0.05;
  const network::Tank* tank = system.tank(storage.name);
  const auto mouth = tank ? network::lowest_mouth(system.model(), *tank) : std::nullopt;
  return mouth && storage.lowest_m < mouth->metres() + hand_m;
}

constexpr const char* only_what_is_stored =
    "No spring gives anything in this run: store more, or draw less as long as that lasts.";

void say_least(const network::System& system, const AskResult& r, double at_s, bool never_more, Draft& d) {
  if (!r.judged) {
    d.message.say("Whether ").name(r.ask.at).say(" gets ").figure(r.asked);
    d.message.say(" is not judged: " + r.why_not_judged + ".");
    return;
  }
  d.message.name(r.ask.at).say(r.got ? " gets only " : " gets nothing");
  if (r.got) d.message.figure(*r.got), d.against(*r.got, r.asked);
  d.message.say(at_s <= 0.0 ? " at the start" : never_more ? " at its best, " : " at its worst, ");
  if (at_s > 0.0) d.message.figure(Kind::duration, at_s).say(" after the start");
  if (r.held_by_air()) d.message.say(", with the air in its lines that start-up leaves there");
  d.message.say(", and ").figure(r.asked).say(" is ").say(asked_or_drawn(r.ask)).say(".");
  if (r.held_by_air()) return;  // where it is let out is told with the places
  d.advice.say(springs_give(system) ? "Ask `runnel flow` what limits it and what would help."
                                    : only_what_is_stored);
}

void ask_findings(const network::System& system, const FillVerdict& verdict, const FillSeen& seen,
                  std::vector<Finding>& out) {
  for (std::size_t i = 0; i < verdict.asks.size(); ++i) {
    const AskResult& r = verdict.asks[i];
    if (r.met || r.cut_off) continue;
    Draft d(r.judged ? "ask-not-met" : "ask-not-judged", r.judged ? Severity::error : Severity::warning);
    d.at_place(r.ask.at);
    d.source("the model's own needs");
    if (r.ask.kind == network::AskKind::full_within)
      say_full_within(system, r, seen, d);
    else
      say_least(system, r, verdict.least_at_s[i], verdict.never_more[i], d);
    out.push_back(d.done());
  }
}

/// Whether a finding is about ways that do not start only because the tank before them is still too low.
bool only_until_filled(const network::System& system, const FillSeen& seen, const Finding& finding) {
  bool some = false;
  for (const PathAir& way : seen.watch->air()->paths) {
    const auto& lines = way.profile.pipelines;
    if (way.start.verdict != air::StartVerdict::blocked) continue;
    if (std::find(lines.begin(), lines.end(), finding.where.pipeline) == lines.end()) continue;
    const bool waits = system.tank(way.path.source) && !no_way_starts(system, way.path.end, seen.lines_empty);
    if (!waits) return false;
    some = true;
  }
  return some;
}

void velocity_findings_of(const FillSeen& seen, std::vector<Finding>& out) {
  if (!seen.watch) return;
  std::vector<VelocityResult> all = seen.watch->velocities();
  // Reached in some hours alone: the answer has made a condition of it.
  const auto conditional = [&](const VelocityResult& r) {
    return !r.at_most && r.reached && seen.flow && is_good(seen.flow->ruling);
  };
  std::erase_if(all, conditional);
  for (Finding& finding : velocity_findings(all)) out.push_back(std::move(finding));
}

/// What `flow` says of lines that start empty holds for the filling too.
void start_findings(const network::System& system, const FillSeen& seen, std::vector<Finding>& out) {
  if (!seen.watch || !seen.watch->air()) return;
  for (const Finding& finding : seen.watch->air()->findings)
    if ((finding.code == "air-start-blocked" || finding.code == "line-blocked" ||
         finding.code == "air-start-doubtful") &&
        !only_until_filled(system, seen, finding))
      out.push_back(finding);
}

/// Water that comes a few instants late, from a tank that begins at its mouth, is missed by nobody: a run is
/// followed to a thousandth of what is drawn.
bool misses_water(const filling::PlaceHistory& place, double duration_s) {
  return place.short_from_s &&
         place.missing_m3() > filling::followed_share * place.asked_a_day_m3(duration_s);
}

/// Draws at joints or taps that at some instant get less than they ask for, the one that misses the greatest
/// part first.
void draws_short(const network::System& system, const FillHistory& history, const FillSeen& seen,
                 std::vector<Finding>& out) {
  std::vector<const filling::PlaceHistory*> places;
  for (const filling::PlaceHistory& place : history.places)
    if (misses_water(place, history.duration_s) && !is_cut_off(place.name, seen)) places.push_back(&place);
  std::stable_sort(places.begin(), places.end(), [](const auto* a, const auto* b) {
    return a->missing_m3() * b->asked_m3 > b->missing_m3() * a->asked_m3;
  });
  for (const filling::PlaceHistory* short_place : places) {
    const filling::PlaceHistory& place = *short_place;
    Draft d("draw-not-met", Severity::error);
    d.at_place(place.name);
    d.message.name(place.name).say(" misses ").figure(Kind::volume, place.missing_m3()).say(" of the ");
    d.message.figure(Kind::volume, place.asked_m3).say(" drawn there, and gets ");
    if (place.least_m3s > network::flow_grain_m3s)
      d.message.say("at its worst only ").figure(Kind::flow, place.least_m3s);
    else
      d.message.say("nothing at its worst");
    d.message.say(*place.short_from_s > 0.0 ? "; the first time that it is short is " : "; it is short ");
    say_when(*place.short_from_s, d);
    d.message.say(".");
    d.against({Kind::volume, place.given_m3}, {Kind::volume, place.asked_m3});
    const bool emptied = std::any_of(
        history.storages.begin(), history.storages.end(), [&](const filling::StorageHistory& tank) {
          return tank.kind == PlaceKind::tank && (tank.emptied_at_s || sank_to_mouth(system, tank));
        });
    if (!springs_give(system))
      d.advice.say(only_what_is_stored);
    else if (emptied)
      d.advice.say("Store more above it, bring more water, or draw less there.");
    else
      d.advice.say("Draw less there, or lay a larger pipe up to there.");
    d.source("continuity and energy: no pipe gives more than its head drives");
    out.push_back(d.done());
  }
}

void taps_dry(const FillHistory& history, const FillSeen& seen, std::vector<Finding>& out) {
  for (const filling::PlaceHistory& place : history.places) {
    if (place.kind != PlaceKind::outlet || place.by_the_hour || place.least_m3s > 0.0) continue;
    if (is_cut_off(place.name, seen)) continue;
    Draft d(outlet_dry_at_times_rule, Severity::warning);
    d.at_place(place.name);
    if (place.given_m3 > 0.0)
      d.message.say("At times no water comes out of ").name(place.name).say(".");
    else
      d.message.say("No water comes out of ").name(place.name).say(" at any time.");
    d.advice.say("See when its tank or box runs low, or whether it stands too high.");
    out.push_back(d.done());
  }
}

void never_full(const network::System& system, const StorageHistory& tank, std::vector<Finding>& out) {
  if (!tank.never_m) return;
  Draft d(tank_never_full_rule, Severity::warning);
  d.at_place(tank.name);
  const double goal = goal_m(system, tank);
  d.message.name(tank.name).say(" never fills: its level tends to ").figure(Kind::elevation, *tank.never_m);
  d.message.say(", ").figure(Kind::head, goal - *tank.never_m).say(" below where it would be full.");
  d.against({Kind::elevation, *tank.never_m}, {Kind::elevation, goal});
  const auto high = full_beyond_reach(system, tank.name);
  if (high && !tank.emptied_at_s) {
    d.advice.append(set_lower(tank.name, *high));
    out.push_back(d.done());
    return;
  }
  d.advice.say(
      tank.emptied_at_s
          ? "More runs out than in until it is empty: bring more to it, or draw less."
          : "What runs in just makes up for what runs out at that level: more spring, a larger pipe, a "
            "higher source or less drawn raises it.");
  out.push_back(d.done());
}

/// Nothing is missing yet, and from now on it will be.
void empty_for_good(const StorageHistory& tank, std::vector<Finding>& out) {
  if (!(tank.asked_m3 > 0.0) || !tank.ends_empty()) return;
  Draft d(tank_runs_empty_rule, Severity::error);
  d.at_place(tank.name);
  d.message.name(tank.name).say(" is empty ");
  say_when(*tank.emptied_at_s, d);
  d.message.say(", and more is drawn from it than comes.");
  d.advice.say("Bring more to it, or draw less.");
  out.push_back(d.done());
}

void runs_empty(const StorageHistory& tank, std::vector<Finding>& out) {
  if (tank.short_days.empty()) return empty_for_good(tank, out);
  Draft d(tank_runs_empty_rule, Severity::error);
  d.at_place(tank.name);
  d.message.name(tank.name).say(tank.emptied_at_s == 0.0 ? " is empty" : " runs empty");
  if (tank.emptied_at_s) {
    d.message.say(" ");
    say_when(*tank.emptied_at_s, d);
  }
  d.message.say(": ")
      .figure(Kind::volume, missing_m3(tank))
      .say(" of the ")
      .figure(Kind::volume, tank.asked_m3);
  d.message.say(" asked is missing, on " + std::to_string(tank.short_days.size()) +
                (tank.short_days.size() == 1 ? " day" : " days") + ", the first of them day " +
                std::to_string(tank.short_days.front().day) + ".");
  d.advice.say(
      "A larger tank only helps if more runs in over the day than is drawn; else more water is needed.");
  out.push_back(d.done());
}

void spills(const StorageHistory& tank, std::vector<Finding>& out) {
  if (tank.kind != PlaceKind::tank || !(tank.spilled_m3 > 1e-9 * tank.capacity_m3)) return;
  Draft d(tank_spills_rule, Severity::note);
  d.at_place(tank.name);
  d.message.figure(Kind::volume, tank.spilled_m3).say(" run over the lip of ").name(tank.name);
  if (tank.first_spill_s) {
    d.message.say(*tank.first_spill_s > 0.0 ? ", from " : ", ");
    say_when(*tank.first_spill_s, d);
  }
  d.message.say(".");
  d.advice.say("A float valve leaves that water to others, or lead the overflow to where it does no harm.");
  out.push_back(d.done());
}

Ruling ruling_of(const FillHistory& history, const std::vector<Finding>& findings) {
  if (!reached(history)) return Ruling::no_answer;
  const Ruling ruling = verdict::ruling_of(findings);
  return history.outcome == FillOutcome::stopped ? std::max(ruling, Ruling::cannot_be_said) : ruling;
}

/// A condition: it holds as written, but not where what nobody knows exactly turns out badly.
void hangs_on(const FillSeen& seen, std::vector<Finding>& out) {
  if (seen.only_if.empty() || any_at(out, "need-met-only-if", seen.only_if_at)) return;
  Draft d("need-met-only-if", Severity::warning);
  d.at_place(seen.only_if_at);
  d.message.say("At ").name(seen.only_if_at).say(" all comes that is asked or drawn only ");
  d.message.say(seen.only_if).say(".");
  d.advice.say("Choose a pipe that leaves more, or take the condition as part of the promise.");
  d.source("the run once more at the bad corner of what is not known");
  out.push_back(d.done());
}

/// Errors first, then warnings, then notes; of equals what was found elsewhere.
void add_sorted(const std::vector<Finding>& more, std::vector<Finding>& findings) {
  findings.insert(findings.begin(), more.begin(), more.end());
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return a.severity > b.severity; });
}

/// Where nothing fills, the steady answer is the whole answer.
FillVerdict as_flow_says(const network::System& system, const FillHistory& history,
                         const std::vector<Finding>& more, const FillSeen& seen) {
  FillVerdict verdict;
  verdict.asks = seen.flow->asks;
  verdict.least_at_s.assign(verdict.asks.size(), 0.0);
  verdict.never_more.assign(verdict.asks.size(), false);
  verdict.findings = seen.flow->findings;
  add_sorted(more, verdict.findings);
  verdict.ruling = seen.flow->ruling;
  verdict.sentence = fill_sentence(system, history, seen, verdict);
  return verdict;
}

}  // namespace

FillVerdict judge_fill(const network::System& system, const FillHistory& history,
                       const std::vector<Finding>& more, const FillSeen& seen) {
  if (seen.flow && history.storages.empty()) return as_flow_says(system, history, more, seen);
  FillVerdict verdict;
  judge_all(system, history, seen, verdict);
  if (!fill_proved(history)) {
    verdict.findings.push_back(filling_unproved());
  } else if (reached(history)) {
    ask_findings(system, verdict, seen, verdict.findings);
    velocity_findings_of(seen, verdict.findings);
    draws_short(system, history, seen, verdict.findings);
    taps_dry(history, seen, verdict.findings);
    start_findings(system, seen, verdict.findings);
    float_openings_taken({system, {}, verdict.asks}, verdict.findings);
    for (const StorageHistory& tank : history.storages) {
      if (tank.kind == PlaceKind::tank) never_full(system, tank, verdict.findings);
      runs_empty(tank, verdict.findings);
      spills(tank, verdict.findings);
    }
  }
  if (reached(history) && fill_proved(history)) {
    const bool good = is_good(ruling_of(history, verdict.findings)) && seen.flow;
    verdict.as_flow_judges = good && !is_good(seen.flow->ruling);
    // A run passes through some of the states that the steady answer rests on, and its promise is no greater.
    verdict.of_flow = of_flow(seen, good);
    verdict.findings.insert(verdict.findings.end(), verdict.of_flow.begin(), verdict.of_flow.end());
  }
  if (verdict.ruling = ruling_of(history, verdict.findings); verdict.good()) {
    hangs_on(seen, verdict.findings);
    verdict.only_if = seen.only_if;
    verdict.ruling = ruling_of(history, verdict.findings);
  }
  add_sorted(more, verdict.findings);
  verdict.sentence = fill_sentence(system, history, seen, verdict);
  return verdict;
}

std::vector<Code> fill_codes() {
  return {tank_never_full_rule, tank_runs_empty_rule, outlet_dry_at_times_rule, tank_spills_rule};
}

}  // namespace runnel::verdict
