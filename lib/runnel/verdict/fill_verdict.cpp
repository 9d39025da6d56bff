#include "runnel/verdict/fill_verdict.h"

#include <algorithm>

namespace runnel::verdict {
namespace {

using filling::FillHistory;
using filling::FillOutcome;
using filling::RestKind;
using filling::StorageHistory;
using network::PlaceKind;

constexpr std::size_t most_named = 4;
constexpr double rounding = 1e-6;  // of an asked time: events are located to less

/// It ran to its end, or to where it was stopped: what it brought stands.
bool reached(const FillHistory& history) {
  return history.outcome == FillOutcome::done || history.outcome == FillOutcome::stopped;
}

double goal_m(const network::System& system, const StorageHistory& tank) {
  const network::Tank* t = system.tank(tank.name);
  if (!t) return tank.end_level_m;
  return (t->float_valve ? t->float_valve->shuts_at : t->lip).metres();
}

double missing_m3(const StorageHistory& tank) {
  double sum = 0.0;
  for (const filling::Shortfall& day : tank.short_days) sum += day.missing_m3;
  return sum;
}

std::vector<const StorageHistory*> tanks_of(const FillHistory& history) {
  std::vector<const StorageHistory*> tanks;
  for (const StorageHistory& s : history.storages)
    if (s.kind == PlaceKind::tank) tanks.push_back(&s);
  return tanks;
}

std::vector<AskResult> judge(const network::System& system, const FillHistory& history) {
  std::vector<AskResult> results;
  for (const network::Ask& ask : system.asks()) {
    if (ask.kind != network::AskKind::full_within) continue;
    AskResult r;
    r.ask = ask;
    r.asked = {Kind::duration, ask.within.si()};
    const StorageHistory* tank = history.storage(ask.at);
    if (!reached(history) || !tank) {
      r.why_not_judged = "no answer was reached";
    } else if (tank->full_after_s) {
      r.judged = true;
      r.got = Figure{Kind::duration, *tank->full_after_s};
      r.met = *tank->full_after_s <= r.asked.si * (1.0 + rounding);
    } else if (tank->never_m || history.duration_s >= r.asked.si) {
      r.judged = true;
    } else {
      r.why_not_judged = "the run ended before that time was over";
    }
    results.push_back(std::move(r));
  }
  return results;
}

void ask_findings(const std::vector<AskResult>& asks, std::vector<Finding>& out) {
  for (const AskResult& r : asks) {
    if (r.met) continue;
    Draft d(r.judged ? "ask-not-met" : "ask-not-judged", r.judged ? Severity::error : Severity::note);
    d.at_place(r.ask.at);
    d.source("the model's own asks");
    if (!r.judged) {
      d.message.say("Whether ").name(r.ask.at).say(" is full within ").figure(r.asked);
      d.message.say(" is not judged: " + r.why_not_judged + ".");
    } else if (r.got) {
      d.message.name(r.ask.at)
          .say(" is full after ")
          .figure(*r.got)
          .say(", and ")
          .figure(r.asked)
          .say(" is asked.");
      d.against(*r.got, r.asked);
    } else {
      d.message.name(r.ask.at).say(" is not full within the ").figure(r.asked).say(" asked.");
    }
    if (r.judged) d.advice.say("More spring, a larger pipe, or less drawn while it fills.");
    out.push_back(d.done());
  }
}

void never_full(const network::System& system, const StorageHistory& tank, std::vector<Finding>& out) {
  if (!tank.never_m) return;
  Draft d("tank-never-full", Severity::warning);
  d.at_place(tank.name);
  const double goal = goal_m(system, tank);
  d.message.name(tank.name).say(" never fills: its level tends to ").figure(Kind::elevation, *tank.never_m);
  d.message.say(", ").figure(Kind::head, goal - *tank.never_m).say(" below where it would be full.");
  d.against({Kind::elevation, *tank.never_m}, {Kind::elevation, goal});
  d.advice.say(
      "What runs in just makes up for what runs out at that level: more spring, a larger pipe, a higher"
      " source or less drawn raises it.");
  d.source("computed: the level at which inflow and outflow are equal");
  out.push_back(d.done());
}

void runs_empty(const StorageHistory& tank, std::vector<Finding>& out) {
  if (tank.short_days.empty()) return;
  Draft d("tank-runs-empty", Severity::error);
  d.at_place(tank.name);
  d.message.name(tank.name).say(" runs empty");
  if (tank.emptied_at_s)
    d.message.say(" ").figure(Kind::duration, *tank.emptied_at_s).say(" after the start");
  d.message.say(": ")
      .figure(Kind::volume, missing_m3(tank))
      .say(" of the ")
      .figure(Kind::volume, tank.asked_m3);
  d.message.say(" asked is missing, on " + std::to_string(tank.short_days.size()) +
                (tank.short_days.size() == 1 ? " day" : " days") + ", the first of them day " +
                std::to_string(tank.short_days.front().day) + ".");
  d.advice.say(
      "A larger tank only helps if more runs in over the day than is drawn; else more water is needed.");
  d.source("computed: the draws of the model against what is stored");
  out.push_back(d.done());
}

void spills(const StorageHistory& tank, std::vector<Finding>& out) {
  if (tank.kind != PlaceKind::tank || !(tank.spilled_m3 > 1e-9 * tank.capacity_m3)) return;
  Draft d("tank-spills", Severity::note);
  d.at_place(tank.name);
  d.message.figure(Kind::volume, tank.spilled_m3).say(" run over the lip of ").name(tank.name);
  if (tank.first_spill_s)
    d.message.say(", from ").figure(Kind::duration, *tank.first_spill_s).say(" after the start");
  d.message.say(".");
  d.advice.say("A float valve leaves that water to others, or lead the overflow to where it does no harm.");
  d.source("computed");
  out.push_back(d.done());
}

Sentence whole(const network::System& system, const FillHistory& history) {
  Sentence s;
  if (history.outcome == FillOutcome::no_answer)
    return s.say("No answer: the calculation did not settle, so nothing can be said about this system.");
  if (history.outcome == FillOutcome::gave_up)
    return s.say("No answer: the calculation gave up ")
        .figure(Kind::duration, history.duration_s)
        .say(" after the start, so nothing can be said about this system.");
  const auto tanks = tanks_of(history);
  if (tanks.empty()) return s.say("The model has no tank, so there is nothing to fill.");
  for (std::size_t i = 0; i < tanks.size() && i < most_named; ++i)
    s.append(tank_sentence(system, history, *tanks[i]))
        .say(i + 1 < std::min(most_named, tanks.size()) ? " " : "");
  if (tanks.size() > most_named)
    s.say(" And " + std::to_string(tanks.size() - most_named) + " more tanks; see below.");
  if (history.outcome == FillOutcome::stopped) s.say(" The run was stopped before its end.");
  return s;
}

}  // namespace

Sentence tank_sentence(const network::System&, const FillHistory& history, const StorageHistory& tank) {
  Sentence s;
  s.name(tank.name);
  if (tank.full_after_s && *tank.full_after_s <= 0.0)
    s.say(" is full at the start");
  else if (tank.full_after_s)
    s.say(" is full after ").figure(Kind::duration, *tank.full_after_s);
  else if (tank.never_m)
    s.say(" never fills: it tends to ").figure(Kind::elevation, *tank.never_m);
  else
    s.say(" is not full within ")
        .figure(Kind::duration, history.duration_s)
        .say("; it then stands at ")
        .figure(Kind::elevation, tank.end_level_m);
  if (!tank.short_days.empty()) {
    if (tank.emptied_at_s) s.say(", is empty after ").figure(Kind::duration, *tank.emptied_at_s);
    s.say(", and is short by ").figure(Kind::volume, tank.short_days.front().missing_m3);
    s.say(" on day " + std::to_string(tank.short_days.front().day));
    if (tank.short_days.size() > 1)
      s.say(" and " + std::to_string(tank.short_days.size() - 1) + " more days");
  } else if (tank.emptied_at_s) {
    s.say(", is empty after ").figure(Kind::duration, *tank.emptied_at_s);
  } else if (tank.asked_m3 > 0.0) {
    s.say(", and gives all that is drawn");
  }
  if (tank.spilled_m3 > 1e-9 * tank.capacity_m3)
    s.say("; ").figure(Kind::volume, tank.spilled_m3).say(" spill");
  return s.say(".");
}

FillVerdict judge_fill(const network::System& system, const FillHistory& history,
                       const std::vector<Finding>& more) {
  FillVerdict verdict;
  verdict.findings = more;
  verdict.asks = judge(system, history);
  ask_findings(verdict.asks, verdict.findings);
  for (const StorageHistory& tank : history.storages) {
    if (tank.kind == PlaceKind::tank) never_full(system, tank, verdict.findings);
    runs_empty(tank, verdict.findings);
    spills(tank, verdict.findings);
  }
  std::stable_sort(verdict.findings.begin(), verdict.findings.end(),
                   [](const Finding& a, const Finding& b) { return a.severity > b.severity; });
  verdict.sentence = whole(system, history);
  verdict.good = reached(history) && !any_error(verdict.findings);
  return verdict;
}

}  // namespace runnel::verdict
