#include "runnel/verdict/fill_sentence.h"

#include <algorithm>

#include "runnel/verdict/fill_beside.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/shortfall.h"

namespace runnel::verdict {
namespace {

using filling::FillHistory;
using filling::FillOutcome;
using filling::StorageHistory;
using network::PlaceKind;

constexpr std::size_t most_tanks = 4;

std::vector<const StorageHistory*> tanks_of(const FillHistory& history) {
  std::vector<const StorageHistory*> tanks;
  for (const StorageHistory& s : history.storages)
    if (s.kind == PlaceKind::tank) tanks.push_back(&s);
  return tanks;
}

/// A tank that no water reaches from empty is not called full, whatever full lines would bring.
Sentence tank_or_blocked(const network::System& system, const FillHistory& history,
                         const StorageHistory& tank, const FillSeen& seen) {
  Sentence s;
  if (!no_water_from_empty(system, seen, tank.name)) {
    s.append(tank_sentence(system, history, tank));
    if (!seen.lines_empty || !tank.full_after_s) return s;
    const EmptyLines lines = lines_fill(system, history, seen, tank.name);
    if (lines.later_s)
      s.say(" Its lines take up to ").figure(Kind::duration, *lines.later_s).say(" more to fill.");
    return s;
  }
  s.say("No water reaches ").name(tank.name).say(" through lines that start empty, so it does not fill.");
  return s.say(" With its lines full of water: ").append(tank_sentence(system, history, tank));
}

/// Says what decides and is not known, at the beginning of the sentence.
void cannot_be_said(const FillVerdict& verdict, Sentence& s) {
  for (const AskResult& r : verdict.asks) {
    if (r.judged || r.cut_off) continue;
    s.say("Whether all that is asked comes cannot be said, because at ").name(r.ask.at);
    s.say(" it is not judged: " + r.why_not_judged + ". ");
    return;
  }
  if (verdict.ruling != Ruling::cannot_be_said) return;
  for (const Finding& f : verdict.findings)
    if (bearing(f) == Ruling::cannot_be_said) {
      s.say("Whether it works cannot be said, because ").append(open_question(f)).say(". ");
      return;
    }
}

/// A need of time that is missed. A tank that is drawn full was judged from its floor by the steady answer.
void not_full_in_time(const FillHistory& history, const FillVerdict& verdict, Sentence& s) {
  for (const AskResult& r : verdict.asks) {
    const StorageHistory* tank = history.storage(r.ask.at);
    if (r.ask.kind != network::AskKind::full_within || !r.judged || r.met || !tank) continue;
    const bool full_at_first = tank->full_after_s && !(*tank->full_after_s > 0.0);
    if (!full_at_first && !r.got) continue;  // the sentence of the tank says that it is not full
    if (full_at_first) s.say("From its floor ");
    s.name(r.ask.at).say(" is not full within the ").figure(r.asked).say(" asked");
    s.say(begun_at_worst(r) ? " if it starts at the worst hour of the day. " : ". ");
    return;
  }
}

/// What is missing of the draws, at `place` if it is named.
const Finding* missed_draw(const FillVerdict& verdict, const std::string& place) {
  for (const Finding& f : verdict.findings)
    if ((f.code == "draw-not-met" || f.code == "tank-runs-empty") &&
        (place.empty() || f.where.place == place))
      return &f;
  return nullptr;
}

bool is_missed(const AskResult& r) {
  return r.judged && !r.met && r.ask.kind != network::AskKind::full_within;
}

/// The need of which the greatest part is missing.
const AskResult* missed_ask(const FillVerdict& verdict) {
  const auto share = [](const AskResult& r) { return r.got ? r.got->si / r.asked.si : 0.0; };
  const AskResult* worst = nullptr;
  for (const AskResult& r : verdict.asks)
    if (is_missed(r) && (!worst || share(r) < share(*worst))) worst = &r;
  return worst;
}

/// Where else water is missing than at the place that is told.
void short_too(const FillVerdict& verdict, const std::string& told, Sentence& s) {
  std::vector<std::string> others;
  const auto add = [&](const std::string& place) {
    if (place != told && std::find(others.begin(), others.end(), place) == others.end())
      others.push_back(place);
  };
  for (const Finding& f : verdict.findings)
    if (f.code == "draw-not-met") add(f.where.place);
  for (const AskResult& r : verdict.asks)
    if (is_missed(r)) add(r.ask.at);
  if (!others.empty()) s.names(others).say(others.size() == 1 ? " is short too. " : " are short too. ");
}

/// Where both are missed at one place, the draws say more: a need counts in the busiest hours alone.
void not_all_comes(const FillVerdict& verdict, Sentence& s) {
  const AskResult* ask = missed_ask(verdict);
  if (const Finding* draw = missed_draw(verdict, ask ? ask->ask.at : "")) {
    s.say("Not all that is drawn comes: ").append(sentence_of(*draw)).say(" ");
    short_too(verdict, draw->where.place, s);
  } else if (ask) {
    s.say("Not all that is asked comes: ")
        .name(ask->ask.at)
        .say(ask->got ? " gets only " : " gets nothing of the ");
    const bool never_more = verdict.never_more[static_cast<std::size_t>(ask - verdict.asks.data())];
    if (ask->got) s.figure(*ask->got).say(never_more ? " at its best, of " : " at its worst, of ");
    s.figure(ask->asked).say(". ");
    short_too(verdict, ask->ask.at, s);
  }
}

/// What nothing before has said: an answer that fails never begins with what goes well.
void say_what_is_wrong(const network::System& system, const FillSeen& seen, const FillVerdict& verdict,
                       Sentence& s) {
  if (!s.empty() || verdict.ruling != Ruling::fails) return;
  const auto blocked = [&](const network::Tank& tank) {
    return no_water_from_empty(system, seen, tank.name);
  };
  if (std::any_of(system.tanks().begin(), system.tanks().end(), blocked)) return;  // its own sentence says so
  const auto wrong = std::find_if(verdict.findings.begin(), verdict.findings.end(),
                                  [](const Finding& f) { return bearing(f) == Ruling::fails; });
  if (wrong != verdict.findings.end()) s.append(sentence_of(*wrong)).say(" ");
}

}  // namespace

bool fill_proved(const FillHistory& history) { return history.record.empty() || history.proof.consistent; }

bool no_water_from_empty(const network::System& system, const FillSeen& seen, const std::string& tank) {
  return seen.watch && seen.watch->blocked(tank) && no_way_starts(system, tank, seen.lines_empty);
}

EmptyLines lines_fill(const network::System& system, const FillHistory& history, const FillSeen& seen,
                      const std::string& tank) {
  if (!seen.lines_empty) return {0.0, {}};
  if (!seen.watch) return {std::nullopt, "nobody looked at how its lines start from empty"};
  return empty_lines(system, history, tank);
}

Sentence fill_sentence(const network::System& system, const FillHistory& history, const FillSeen& seen,
                       const FillVerdict& verdict) {
  Sentence s;
  if (history.outcome == FillOutcome::no_answer)
    return s.say("No answer: the calculation did not settle, so nothing can be said about this system.");
  if (history.outcome == FillOutcome::gave_up)
    return s.say("No answer: the calculation gave up ")
        .figure(Kind::duration, history.duration_s)
        .say(" after the start, so nothing can be said about this system.");
  if (!fill_proved(history))
    return s.say(
        "No answer: the calculation did not pass its check, so nothing can be said about this system.");
  const auto tanks = tanks_of(history);
  if (tanks.empty()) {
    s.say("The model has no tank, so there is nothing to fill.");
    return seen.flow ? s.say(" ").append(seen.flow->sentence) : s;
  }
  not_full_in_time(history, verdict, s);
  not_all_comes(verdict, s);
  cannot_be_said(verdict, s);
  say_of_flow(seen, verdict, s);
  const auto beyond = std::find_if(verdict.findings.begin(), verdict.findings.end(), is_of_velocity);
  // The sentence of the steady answer has said so already.
  if (!verdict.as_flow_judges && beyond != verdict.findings.end()) s.append(sentence_of(*beyond)).say(" ");
  say_what_is_wrong(system, seen, verdict, s);
  for (std::size_t i = 0; i < tanks.size() && i < most_tanks; ++i)
    s.append(tank_or_blocked(system, history, *tanks[i], seen))
        .say(i + 1 < std::min(most_tanks, tanks.size()) ? " " : "");
  if (tanks.size() > most_tanks)
    s.say(" And " + std::to_string(tanks.size() - most_tanks) + " more tanks; see below.");
  all_met(seen, verdict, s);
  if (history.outcome == FillOutcome::stopped) s.say(" The run was stopped before its end.");
  return s;
}

Sentence tank_sentence(const network::System&, const FillHistory& history, const StorageHistory& tank) {
  Sentence s;
  s.name(tank.name);
  // In the order in which it happens.
  const bool empty_first =
      tank.emptied_at_s && (!tank.full_after_s || *tank.emptied_at_s < *tank.full_after_s);
  if (empty_first) {
    if (*tank.emptied_at_s > 0.0)
      s.say(" is empty after ").figure(Kind::duration, *tank.emptied_at_s);
    else
      s.say(" is empty at the start");
    s.say(tank.full_after_s ? "," : ", and");
  }
  if (tank.full_after_s && *tank.full_after_s <= 0.0)
    s.say(" is full at the start");
  else if (tank.full_after_s)
    s.say(" is full after ").figure(Kind::duration, *tank.full_after_s);
  else if (tank.never_m && empty_first)
    s.say(" never fills");
  else if (tank.never_m)
    s.say(" never fills: it tends to ").figure(Kind::elevation, *tank.never_m);
  else
    s.say(" is not full within ")
        .figure(Kind::duration, history.duration_s)
        .say("; it then stands at ")
        .figure(Kind::elevation, tank.end_level_m);
  if (!tank.short_days.empty()) {
    if (tank.emptied_at_s && !empty_first)
      s.say(", is empty after ").figure(Kind::duration, *tank.emptied_at_s);
    s.say(", and is short by ").figure(Kind::volume, tank.short_days.front().missing_m3);
    s.say(" on day " + std::to_string(tank.short_days.front().day));
    if (tank.short_days.size() > 1)
      s.say(" and " + std::to_string(tank.short_days.size() - 1) +
            (tank.short_days.size() == 2 ? " more day" : " more days"));
  } else if (tank.emptied_at_s) {
    if (!empty_first) s.say(", is empty after ").figure(Kind::duration, *tank.emptied_at_s);
  } else if (tank.asked_m3 > 0.0) {
    s.say(", and gives all that is drawn");
  }
  if (tank.spilled_m3 > 1e-9 * tank.capacity_m3)
    s.say("; ").figure(Kind::volume, tank.spilled_m3).say(" spill");
  return s.say(".");
}

}  // namespace runnel::verdict
