#include "runnel/verdict/acts.h"

#include <algorithm>
#include <charconv>
#include <iterator>
#include <string_view>
#include <system_error>
#include <utility>

#include "runnel/base/capital.h"
#include "runnel/pipes/catalogue.h"
#include "runnel/verdict/digging.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

void say_places(const std::vector<AirPlace>& places, Sentence& s) {
  for (auto place = places.begin(); place != places.end(); ++place) {
    const auto next = std::next(place);
    if (place != places.begin()) s.say(next == places.end() ? " and " : ", ");
    s.figure(Kind::length, place->station_m);
    // The line is named once for all its places.
    if (next == places.end() || next->pipeline != place->pipeline) s.say(" of ").name(place->pipeline);
  }
}

/// Air valves, or one high point dug down, for a way that does not surely start. `others`: the ends of ways
/// that start with the same valves, with no less to spare.
Sentence start_act(const PathAir& way, const std::vector<std::string>& others, bool gets_nothing) {
  Sentence s;
  if (const std::vector<AirPlace> places = valves_of(way); !places.empty()) {
    s.say(places.size() == 1 ? "Put an air valve at " : "Put air valves at ");
    say_places(places, s);
    if (gets_nothing)
      return s.say(". The way to ")
          .name(way.path.end)
          .say(" needs that to start, but no water comes by that alone.");
    s.say(". Then ").name(way.path.end).say(" starts with ");
    s.figure(Kind::head, way.vents->after.margin_m).say(" to spare");
    if (others.empty()) return s.say(".");
    s.say("; so, or with more, ").say(others.size() == 1 ? "does " : "do ");
    return s.names(others).say(".");
  }
  if (way.dig && way.dig->depth_m <= most_dug_m) {
    s.say("Dig the high point at ").figure(Kind::length, station_of(way.profile, way.dig->crest)).say(" of ");
    s.name(line_of(way.profile, way.dig->crest)).say(" down by ").figure(Kind::head, way.dig->depth_m);
    return s.say(". Then ").name(way.path.end).say(" starts.");
  }
  return s.say("Lead the line to ")
      .name(way.path.end)
      .say(" another way, or raise its source: no air valve and no single trench is enough.");
}

Sentence serves_too(Sentence act, const std::vector<std::string>& others) {
  if (others.empty()) return act;
  return act.say(" It helps ").names(others).say(" too.");
}

/// What to do about air that stays in a line that runs. `others`: places that the same valves serve.
Sentence vent_act(const AskResult& r, const std::vector<std::string>& others) {
  Sentence s;
  if (r.air->held.empty()) return s.say("Let the air out through air valves at the high points.");
  s.say(r.air->held.size() == 1 ? "Put an air valve at " : "Put air valves at ");
  say_places(r.air->held, s);
  s.say(". Then ").name(r.ask.at).say(r.ask.kind == network::AskKind::flow ? " gets " : " has ");
  s.figure(r.air->let_out());
  if (r.air->let_out().si < r.asked.si * (1.0 - 1e-6)) s.say(", which is not yet enough");
  return serves_too(s.say("."), others);
}

bool held_at_start(const PathAir& way) {
  return way.start.verdict == air::StartVerdict::doubtful ||
         (way.start.verdict == air::StartVerdict::blocked && way.start.reason == air::StartReason::air);
}

bool same_places(const std::vector<AirPlace>& a, const std::vector<AirPlace>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), same_place);
}

/// Valves that let several ways start are told once, with the least that any of them has to spare.
void add_starts(const FlowVerdict& verdict, std::vector<Sentence>& acts) {
  if (!verdict.air) return;
  std::vector<std::vector<const PathAir*>> alike;
  for (const PathAir& way : verdict.air->paths) {
    if (!held_at_start(way)) continue;
    const auto valves = valves_of(way);
    const auto known = std::find_if(alike.begin(), alike.end(), [&](const auto& ways) {
      return !valves.empty() && same_places(valves, valves_of(*ways.front()));
    });
    if (known == alike.end())
      alike.push_back({&way});
    else
      known->push_back(&way);
  }
  for (auto& ways : alike) {
    const auto least = std::min_element(ways.begin(), ways.end(), [](const PathAir* a, const PathAir* b) {
      return a->vents && b->vents && a->vents->after.margin_m < b->vents->after.margin_m;
    });
    std::vector<std::string> others;
    for (const PathAir* way : ways)
      if (way != *least) others.push_back(way->path.end);
    // What keeps the water away besides the air is said of the need.
    const bool gets_nothing = std::any_of(verdict.asks.begin(), verdict.asks.end(), [&](const AskResult& r) {
      return r.ask.at == (*least)->path.end && r.judged && !r.met && !r.held_by_air() && !r.low_water &&
             r.reason && !(r.got && r.got->si > 0.0);
    });
    acts.push_back(start_act(**least, others, gets_nothing));
  }
}

bool acted_on(const AskResult& r) { return r.judged && !r.met && r.reason && !act_on(*r.reason).empty(); }

/// Whether both are cured by doing the same thing, if not as much of it.
bool same_act(const Reason& a, const Reason& b) {
  return a.bound == b.bound && a.place == b.place && a.line == b.line && a.part == b.part &&
         a.from_m == b.from_m && a.taps == b.taps;
}

double bore_m(const std::string& pipe) {
  const pipes::Pipe* found = pipes::standard_catalogue().find(pipe);
  return found ? found->bore.metres() : 0.0;
}

/// How much of the same thing is done.
double amount(const Reason& r) { return r.bound == Bound::pipe ? bore_m(r.pipe) : r.dug_m; }

/// Whether what is done for another need, which stands before it or wants more of the same, serves this one.
bool does_more(const std::vector<AskResult>& asks, const AskResult& r) {
  return std::any_of(asks.begin(), asks.end(), [&](const AskResult& other) {
    if (&other == &r || !acted_on(other) || !same_act(*other.reason, *r.reason)) return false;
    const double there = amount(*other.reason), here = amount(*r.reason);
    return there > here || (there == here && &other < &r);
  });
}

/// What to do about a need, and whom it serves besides.
Sentence act_for(const std::vector<AskResult>& asks, const AskResult& r) {
  std::vector<std::string> others;
  for (const AskResult& other : asks)
    if (&other != &r && acted_on(other) && other.ask.at != r.ask.at && same_act(*other.reason, *r.reason) &&
        std::find(others.begin(), others.end(), other.ask.at) == others.end())
      others.push_back(other.ask.at);
  return serves_too(act_on(*r.reason, asks.size() > 1 ? std::string_view(r.ask.at) : std::string_view()),
                    others);
}

/// Adds the valves that let out the air before a need, once for all needs that they serve, unless they are
/// put already so that a way starts.
void add_vents(const FlowVerdict& verdict, std::vector<Sentence>& acts) {
  const auto put_already = [&](const AskResult& r) {
    const auto& ways = verdict.air ? verdict.air->paths : std::vector<PathAir>{};
    return !r.air->held.empty() && std::any_of(ways.begin(), ways.end(), [&](const PathAir& way) {
      return held_at_start(way) && same_places(valves_of(way), r.air->held);
    });
  };
  std::vector<const AskResult*> told;
  for (const AskResult& r : verdict.asks) {
    if (!r.held_by_air() || put_already(r)) continue;
    const bool again = std::any_of(told.begin(), told.end(), [&](const AskResult* other) {
      return same_places(other->air->held, r.air->held);
    });
    if (again) continue;
    std::vector<std::string> others;
    for (const AskResult& other : verdict.asks)
      if (&other > &r && other.held_by_air() && other.ask.at != r.ask.at &&
          same_places(other.air->held, r.air->held))
        others.push_back(other.ask.at);
    acts.push_back(vent_act(r, others));
    told.push_back(&r);
  }
}

/// Whether a need counts among those that the springs cannot meet together.
bool is_beyond(const FlowVerdict& verdict, const AskResult& r) {
  return verdict.asked_beyond && r.ask.kind == network::AskKind::flow &&
         verdict.asked_beyond->counts(r.ask.at);
}

void add_needs(const FlowVerdict& verdict, std::vector<Sentence>& acts) {
  add_vents(verdict, acts);
  for (const AskResult& r : verdict.asks) {
    // No opening and no pipe helps every tap beyond what the springs give: their finding says what does.
    const bool beyond = is_beyond(verdict, r);
    if (!r.held_by_air() && !beyond && acted_on(r) && !does_more(verdict.asks, r))
      acts.push_back(act_for(verdict.asks, r));
  }
}

/// A remark on a figure begins in lower case, without a full stop, as it stands beside its line of the model.
std::string as_sentence(std::string text) {
  if (text.empty()) return text;
  text = with_capital(std::move(text));
  return text.back() == '.' || text.back() == '?' ? text : text + ".";
}

/// The same sentence with no other figures than it tells, so that it is known again.
Sentence with_own_figures(const Sentence& told) {
  Sentence s;
  std::string_view text = told.text();
  for (auto open = text.find('{'); open != text.npos; open = text.find('{')) {
    const auto close = text.find('}', open);
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(text.data() + open + 1, text.data() + text.size(), number);
    if (close == text.npos || error != std::errc() || end != text.data() + close ||
        number >= told.figures().size())
      return told;
    s.say(std::string(text.substr(0, open))).figure(told.figures()[number]);
    text.remove_prefix(close + 1);
  }
  return s.say(std::string(text));
}

/// The advice of a finding as a sentence, without the figures of its message, so that it can be said once for
/// all its places.
Sentence advice_of(const Finding& f) {
  Finding advised = f;
  advised.message = f.mark.known() ? as_sentence(f.advice) : f.advice;
  return with_own_figures(sentence_of(advised));
}

bool told_above(const Finding& f, const FlowVerdict& verdict) {
  if (f.code == "air-start-blocked" || f.code == "air-start-doubtful" || f.code == "air-held-flow")
    return true;
  // How deep to dig is said of the need, and nobody digs where a tap or a valve is enough.
  if (f.code == "line-blocked")
    return std::any_of(verdict.asks.begin(), verdict.asks.end(), [&](const AskResult& r) {
      if (!acted_on(r)) return false;
      const bool of_taps = r.reason->bound == Bound::other_taps || r.reason->bound == Bound::shut_tap ||
                           r.reason->bound == Bound::held_valve || r.reason->bound == Bound::shut_valve;
      return r.reason->bound == Bound::high_point ? r.reason->line == f.where.pipeline
                                                  : of_taps && r.reason->cures;
    });
  // That nothing be drawn while a tank fills is said of the need to be full in time.
  if (f.code == "draws-missed-at-first")
    return std::any_of(verdict.asks.begin(), verdict.asks.end(),
                       [](const AskResult& r) { return acted_on(r) && r.reason->bound == Bound::draws; });
  if (f.code == "draws-met-only-if")
    return std::any_of(verdict.asks.begin(), verdict.asks.end(),
                       [&](const AskResult& r) { return r.ask.at == f.where.place && !r.only_if.empty(); });
  if (f.code != "ask-not-met") return false;
  return std::any_of(verdict.asks.begin(), verdict.asks.end(), [&](const AskResult& r) {
    const bool beyond = is_beyond(verdict, r);
    return r.ask.at == f.where.place && !beyond &&
           ((r.reason && !act_on(*r.reason).empty()) || r.met_only_primed);
  });
}

/// One piece of advice, and the lines or places that it is for.
struct Advised {
  Sentence advice;
  std::vector<std::string> lines;
};

void say_lines(const std::vector<std::string>& lines, Sentence& s) {
  constexpr std::size_t most_to_go_to = 5;
  if (!lines.empty()) s.names(lines, most_to_go_to).say(": ");
}

void add_advice(const FlowVerdict& verdict, std::vector<Sentence>& acts) {
  std::vector<Advised> all;
  Said said;
  for (const Ruling weight : {Ruling::fails, Ruling::cannot_be_said, Ruling::only_if})
    for (const Finding& f : verdict.findings) {
      if (bearing(f) != weight || f.advice.empty() || told_above(f, verdict)) continue;
      Sentence advice = advice_of(f);
      const auto [number, first] = said.number(advice);
      if (first) all.push_back({std::move(advice), {}});
      if (!f.where.pipeline.empty()) all[number].lines.push_back(f.where.pipeline);
      // Advice about a figure in the model does not name what it is a figure of.
      if (f.mark.known() && !f.where.place.empty()) all[number].lines.push_back(f.where.place);
    }
  for (const Advised& one : all) {
    Sentence s;
    say_lines(one.lines, s);
    acts.push_back(s.append(one.advice));
  }
}

void add_washouts(const FlowVerdict& verdict, std::vector<Sentence>& acts) {
  if (!verdict.air) return;
  std::vector<AirPlace> places;
  for (const air::LineAir& line : verdict.air->lines)
    for (const air::WashoutAdvice& low : line.washouts) places.push_back({line.pipeline, low.station_m});
  if (places.empty()) return;
  Sentence s;
  s.say(places.size() == 1 ? "Put a washout at the low point, " : "Put washouts at the low points, ");
  say_places(places, s);
  acts.push_back(s.say("."));
}

}  // namespace

std::vector<Sentence> acts_of(const FlowVerdict& verdict) {
  std::vector<Sentence> all, acts;
  if (!has_figures(verdict.ruling)) return acts;
  add_starts(verdict, all);
  add_needs(verdict, all);
  add_advice(verdict, all);
  add_washouts(verdict, all);
  Said said;
  for (Sentence& act : all)
    if (said.number(act).second) acts.push_back(std::move(act));
  return acts;
}

}  // namespace runnel::verdict
