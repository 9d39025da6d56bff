#include "runnel/verdict/store_rules.h"

#include <algorithm>

#include "runnel/network/draws.h"
#include "runnel/network/no_flow.h"
#include "runnel/network/place_state.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/splits.h"

namespace runnel::verdict {
namespace {

constexpr Code tank_gives_out_rule{
    "tank-gives-out",
    "a tank that gives more than it gets",
    "More runs out of the tank than into it, so what comes below is partly or wholly its store. Its level is "
    "followed as it falls, until it stands at its mouth or gives no more than it gets. What is drawn by the "
    "hour is left out.",
    "Taken for a spring, a full tank promises for ever what it gives for an hour. After that only what "
    "runs in runs on.",
    "More spring, less drawn, or draw for some hours and let it fill again: `runnel fill` follows that.",
    "computed: what stands above the mouth, followed as its level falls",
    Filling::follows};

constexpr Code runs_only_so_long_rule{
    "runs-only-so-long",
    "what runs, runs out of tanks",
    "Nothing is asked of the system, and what runs at first comes partly or wholly out of tanks that give "
    "more than they get.",
    "It is a picture of an hour, not of the system as it will be.",
    "Write under `asks` what must come: it is then judged on what lasts.",
    "computed: what stands above the mouths of tanks",
    Filling::follows};

using filling::DrawnStore;
using filling::Lasting;

constexpr std::size_t most_stores = 3;
// Nobody who reads a gauge notices a change of less than a part in a hundred.
constexpr double noticed_share = 0.01;

bool settled(const Lasting& lasting) { return lasting.state.outcome == steady::Outcome::settled; }

// A store that lasts longer by such a factor gets more for a while than in the end.
constexpr double fed_meanwhile = 1.2;

/// Whether something is drawn in some hours of the day only, by pipes.
bool by_hours(const network::System& system) {
  const auto rests = [](const auto& place) {
    return !place.draws.empty() && network::hours_a_day(place.draws) < 24.0;
  };
  return std::any_of(system.outlets().begin(), system.outlets().end(), rests) ||
         std::any_of(system.joints().begin(), system.joints().end(), rests);
}

/// "5.1 h", or where levels were not followed, and so neither were the hours of the draws, "5.1 h of
/// drawing".
Sentence how_long(const Lasting& lasting, const DrawnStore& store) {
  Sentence s = Sentence().figure(Kind::duration, store.holds_out_s);
  return store.bound && by_hours(lasting.system) ? s.say(" of drawing") : s;
}

/// Tanks that are joined come to one level within moments, or after sinking by no more than anybody sees.
/// That draws nobody's store down.
bool evens_out(const DrawnStore& store) {
  constexpr double moments_s = 60.0;
  constexpr double seen_m = 0.1;  // a hand's breadth
  return !store.bound && !store.empties() &&
         (store.holds_out_s < moments_s || store.level_m - store.lasting_m < seen_m);
}

bool all_even_out(const Lasting& lasting) {
  return std::all_of(lasting.stores.begin(), lasting.stores.end(), evens_out);
}

constexpr const char* why_unknown =
    "it is fed from a tank that runs empty, and no answer was reached for what follows";

struct Loss {
  const std::string* name;
  double before_m3s, after_m3s;
};

/// Places that get less in the end, the greatest loss first. Tanks drawn down have findings of their own.
std::vector<Loss> losses(const steady::State& state, const Lasting& lasting) {
  std::vector<Loss> all;
  for (const auto* places : {&state.outlets, &state.tanks, &state.joints})
    for (std::size_t i = 0; i < places->size(); ++i) {
      const steady::PlaceState& p = (*places)[i];
      const steady::PlaceState* then = network::in_other_state(lasting.state, p, i);
      if (!then || lasting.store(p.name)) continue;
      const double before = network::gets_m3s(p), after = network::gets_m3s(*then);
      if (before > network::no_flow_m3s && after < before * (1.0 - noticed_share))
        all.push_back({&p.name, before, std::max(0.0, after)});
    }
  std::stable_sort(all.begin(), all.end(), [](const Loss& a, const Loss& b) {
    return a.before_m3s - a.after_m3s > b.before_m3s - b.after_m3s;
  });
  return all;
}

void say_what_is_left(Sentence& s, const steady::State& state, const Lasting& lasting) {
  const std::vector<Loss> all = losses(state, lasting);
  if (all.empty()) return;
  s.say(lasting.stores.size() == 1 ? " Then " : " Once all such tanks are empty ");
  for (std::size_t i = 0; i < all.size() && i < most_stores; ++i) {
    if (i > 0) s.say("; ");
    s.name(*all[i].name).say(" gets ");
    if (all[i].after_m3s > network::no_flow_m3s)
      s.figure(Kind::flow, all[i].after_m3s).say(" instead of ").figure(Kind::flow, all[i].before_m3s);
    else
      s.say("nothing");
  }
  if (all.size() > most_stores) s.say("; and " + std::to_string(all.size() - most_stores) + " places less");
  s.say(".");
}

Finding gives_out(const steady::State& state, const Lasting& lasting, const DrawnStore& store) {
  // The draws of the model are needs, and a tank that runs empty leaves them without water.
  const bool draws = store.short_of_draws;
  Draft d = draws ? Draft("tank-runs-empty", Severity::error) : Draft(tank_gives_out_rule, Severity::warning);
  d.at_place(store.tank);
  d.against({Kind::flow, store.in_m3s}, {Kind::flow, store.out_m3s + store.drawn_m3s});
  // Where tanks that empty before it run on for a while, it lasts longer than by what it gets in the end.
  const double loses_m3s = store.out_m3s + store.drawn_m3s - store.in_m3s;
  const bool fed_longer = &store != &lasting.stores.front() && !store.bound &&
                          store.holds_out_s * loses_m3s > store.store_m3 * fed_meanwhile;
  const char* from_above = fed_longer ? ", and for a while more from above" : "";
  d.message.name(store.tank).say(" gives ").figure(Kind::flow, store.out_m3s + store.drawn_m3s);
  if (draws && store.out_m3s <= network::no_flow_m3s)
    d.message.say(", all of it drawn there over the day,");
  else if (draws)
    d.message.say(", ").figure(Kind::flow, store.drawn_m3s).say(" of it drawn there over the day,");
  if (store.in_m3s > network::no_flow_m3s)
    d.message.say(" and gets ").figure(Kind::flow, store.in_m3s).say(from_above);
  else
    d.message.say(" and gets nothing");
  const char* lie = draws ? " in it last " : " above its mouth last ";
  if (store.bound) {
    d.message.say(": the ").figure(Kind::volume, store.store_m3).say(lie).say("at least ");
    d.message.append(how_long(lasting, store)).say(".");
  } else if (store.empties()) {
    d.message.say(": the ").figure(Kind::volume, store.store_m3).say(lie);
    d.message.figure(Kind::duration, store.holds_out_s).say(".");
  } else {
    d.message.say(": within ").figure(Kind::duration, store.holds_out_s).say(" it sinks to ");
    d.message.figure(Kind::elevation, store.lasting_m).say(" and gives what it gets.");
  }
  if (!lasting.fed) d.message.say(" No spring fills it, so it is taken as a store.");
  // What is drawn at an empty tank is taken from what runs on, which the lasting state leaves out.
  const bool some_drawn = std::any_of(lasting.stores.begin(), lasting.stores.end(),
                                      [](const DrawnStore& one) { return one.drawn_m3s > 0.0; });
  if (&store == &lasting.stores.back() && settled(lasting) && !some_drawn)
    say_what_is_left(d.message, state, lasting);
  if (draws)
    d.advice.say("Bring more to ")
        .name(store.tank)
        .say(", draw less, or see that less runs on from it. `runnel fill` follows the hours.");
  else
    d.advice.say(
        "Take it as water for so long, not as a source. `runnel fill` follows the hours, with what is drawn "
        "by the "
        "day.");
  if (draws) d.source("computed: the draws of the model against what runs in and what is stored");
  return d.done();
}

Finding asked_too_long(const AskResult& result, const Lasting& lasting) {
  Draft d = ask_not_met(result);
  d.message.say(", ");
  if (lasting.stores.size() == 1)
    d.message.say("once ").name(lasting.stores.front().tank).say(" is empty after ");
  else
    d.message.say("once the tanks that feed it are empty, within ");
  d.message.append(how_long(lasting, lasting.stores.back())).say(".");
  if (result.got) d.against(*result.got, result.asked);
  d.advice.say("Draw less, or bring or store more.");  // `answer_model` says which, as tried
  d.source("the model's own needs");
  return d.done();
}

/// What is drawn at all times must come at all times.
Finding drawn_too_long(const steady::PlaceState& joint, const Lasting& lasting) {
  Draft d("draw-not-met", Severity::error);
  d.at_place(joint.name).against({Kind::flow, joint.draw_given_m3s}, {Kind::flow, joint.draw_asked_m3s});
  d.message.say("Only ").figure(Kind::flow, joint.draw_given_m3s).say(" of the ");
  d.message.figure(Kind::flow, joint.draw_asked_m3s).say(" drawn at ").name(joint.name);
  d.message.say(" comes once the tanks that feed it have given what they hold, within ");
  d.message.figure(Kind::duration, lasting.from_s()).say(".");
  d.advice.say("Draw less, or from something that lasts. `runnel fill` follows what is drawn by the hour.");
  d.source("what is drawn at a joint is drawn at all times");
  return d.done();
}

/// Where nothing is asked, it becomes a condition of the answer that what runs does not last.
Finding only_so_long(const steady::State& state, const Lasting& lasting) {
  const std::vector<Loss> all = losses(state, lasting);
  Draft d(runs_only_so_long_rule, Severity::warning);
  d.at_place(*all.front().name)
      .against({Kind::flow, all.front().after_m3s}, {Kind::flow, all.front().before_m3s});
  d.message.say("What runs at ").name(*all.front().name);
  if (all.size() > 1) d.message.say(" and " + std::to_string(all.size() - 1) + " more");
  d.message.say(" at first runs for ")
      .figure(Kind::duration, lasting.from_s())
      .say(" at most, out of tanks.");
  d.advice.say("Write under `asks` what must come, and it is judged on what lasts.");
  return d.done();
}

Finding what_follows_unknown(const Lasting& lasting) {
  Draft d("no-answer", Severity::error);
  d.at_place(lasting.stores.front().tank);
  d.message.name(lasting.stores.front().tank)
      .say(
          " runs empty, and no answer was reached for what follows: the balances of water and head do not "
          "close.");
  d.advice.say("Please send us the model: this should not happen.");
  d.source("both balances must close before an answer is given");
  return d.done();
}

void say_how_long(Sentence& s, const Lasting& lasting) {
  std::size_t named = 0;
  for (const DrawnStore& store : lasting.stores) {
    if (evens_out(store) || named == most_stores) continue;
    s.say(named++ > 0 ? ", " : "").name(store.tank).say(" lasts ");
    // At other hours it may fill again.
    if (store.bound && by_hours(lasting.system)) s.say("at least ");
    s.append(how_long(lasting, store));
  }
  if (named > 0 && !lasting.fed) s.say(", and no spring fills it again");
}

}  // namespace

void hold_asks_to_stores(const network::System& system, const steady::State& state, FlowVerdict& verdict,
                         bool how_long) {
  if (state.lines.size() != system.lines().size()) return;
  verdict.lasting = filling::follow_stores(system, state, how_long);
  if (!verdict.lasting) return;
  // A siphon out of a tank that is drawn down to its mouth takes in air.
  if (settled(*verdict.lasting))
    if (auto after = follow_siphons(verdict.lasting->system, verdict.lasting->state)) {
      verdict.lasting->system = std::move(after->system);
      verdict.lasting->state = std::move(after->state);
    }
  const Lasting& lasting = *verdict.lasting;
  const std::vector<AskResult> then = judge_asks(lasting.system, lasting.state);
  also_hang_on(then, "once tanks are empty,", verdict.asks);
  for (std::size_t i = 0; i < verdict.asks.size(); ++i) {
    AskResult& now = verdict.asks[i];
    if (!now.judged || !now.met) continue;
    if (!settled(lasting)) {
      now.judged = now.met = false;
      now.why_not_judged = why_unknown;
    } else if (then[i].judged && !then[i].met) {
      now.met = false;
      now.got = then[i].got;
      now.met_until_s = lasting.from_s();
    }
  }
}

void store_findings(const steady::State& state, const FlowVerdict& verdict, std::vector<Finding>& out) {
  if (!verdict.lasting) return;
  const Lasting& lasting = *verdict.lasting;
  for (const AskResult& result : verdict.asks)
    if (result.met_until_s) out.push_back(asked_too_long(result, lasting));
  if (!settled(lasting)) {
    out.push_back(what_follows_unknown(lasting));
  } else {
    for (std::size_t j = 0; j < lasting.state.joints.size(); ++j) {
      const steady::PlaceState& joint = lasting.state.joints[j];
      const steady::PlaceState* first = network::in_other_state(state, joint, j);
      const auto misses = [](const steady::PlaceState& p) {
        return p.draw_given_m3s < p.draw_asked_m3s * (1.0 - noticed_share);
      };
      if (first && !misses(*first) && misses(joint)) out.push_back(drawn_too_long(joint, lasting));
    }
    if (verdict.asks.empty() && !losses(state, lasting).empty()) out.push_back(only_so_long(state, lasting));
  }
  for (const DrawnStore& store : lasting.stores)
    if (!evens_out(store)) out.push_back(gives_out(state, lasting, store));
}

Sentence not_for_long(const FlowVerdict& verdict) {
  Sentence s;
  if (!verdict.lasting) return s;
  std::vector<const AskResult*> missed;
  for (const AskResult& r : verdict.asks) {
    if (!r.judged || r.met) continue;
    if (!r.met_until_s) return s;  // it does not even come at first: that is said instead
    missed.push_back(&r);
  }
  if (missed.empty()) return s;
  Sentence lasts;
  say_how_long(lasts, *verdict.lasting);
  if (lasts.empty())  // the stores are gone at once, or even out among themselves
    s.say("It does not deliver for good: in time ");
  else
    s.say("It does not deliver for long: ").append(lasts).say("; then ");
  for (std::size_t i = 0; i < missed.size() && i < most_stores; ++i) {
    s.say(i > 0 ? "; " : "").append(shortfall(*missed[i]));
  }
  if (missed.size() > most_stores) s.say("; and " + std::to_string(missed.size() - most_stores) + " more");
  return s.say(".");
}

namespace {

/// A tap that gets much more than is left once its tank has sunk by the little that it does: what it gets at
/// first is nothing to rely on.
Sentence soon_less(const FlowVerdict& verdict, const Sentence& opening) {
  Sentence s;
  constexpr double much = 0.1;
  if (by_hours(verdict.lasting->system)) return s;
  for (const AskResult& r : verdict.asks) {
    const steady::PlaceState* then = verdict.lasting->state.place(r.ask.at);
    if (!r.judged || !r.met || r.ask.kind != network::AskKind::flow || !r.got || !then) continue;
    if (then->kind != network::PlaceKind::outlet || !(then->flow_m3s < r.got->si * (1.0 - much))) continue;
    if (s.empty())
      s.append(opening).say("soon there are only ");
    else
      s.say(", and ");
    s.figure(Kind::flow, then->flow_m3s).say(" for ").name(r.ask.at);
  }
  return s.empty() ? s : s.say(".");
}

}  // namespace

Sentence lasts_how_long(const FlowVerdict& verdict, const Sentence& opening) {
  Sentence s;
  if (!verdict.lasting) return s;
  if (all_even_out(*verdict.lasting)) return settled(*verdict.lasting) ? soon_less(verdict, opening) : s;
  s.append(opening);
  say_how_long(s, *verdict.lasting);
  return s.say(".");
}

std::vector<Code> store_codes() { return {tank_gives_out_rule, runs_only_so_long_rule}; }

}  // namespace runnel::verdict
